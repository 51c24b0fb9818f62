//! What `lint` is asked.

use crate::app::SourceFile;
use clap::Args;

/// Look a pattern file or a materials sheet through for what disagrees
#[derive(Debug, Clone, Default, Args)]
pub struct LintRequest {
    /// A kept pattern
    ///
    /// The one that the sheet belongs to. With no text and no file, the pattern itself is looked over.
    #[arg(long, value_name = "NAME")]
    pub pattern: Option<String>,
    /// A file or a text.
    #[arg(skip)]
    pub file: Option<SourceFile>,
    /// Whether it is a pattern file; its name says so where this is `None`.
    #[arg(skip)]
    pub is_pattern: Option<bool>,
}
