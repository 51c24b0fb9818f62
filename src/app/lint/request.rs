//! What `lint` is asked.

use crate::app::SourceFile;
use clap::Args;

/// Check a pattern or a materials sheet for mistakes
#[derive(Debug, Clone, Default, Args)]
pub struct LintRequest {
    /// One of your patterns
    ///
    /// The pattern of the sheet. Without a text or a file, the pattern itself is checked.
    #[arg(long, value_name = "NAME")]
    pub pattern: Option<String>,
    /// A file or a text.
    #[arg(skip)]
    pub file: Option<SourceFile>,
    /// Whether it is a pattern file; its name says so where this is `None`.
    #[arg(skip)]
    pub is_pattern: Option<bool>,
}
