//! What `read` is asked.

use clap::Args;

/// Show what the program understands of a label, a materials line or a note
#[derive(Debug, Clone, Default, Args)]
pub struct ReadRequest {
    /// The text, as it is printed
    #[arg(value_name = "TEXT", allow_hyphen_values = true)]
    pub text: String,
}
