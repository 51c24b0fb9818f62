//! What is asked of a project.

use clap::Args;

/// The part of the form for what only few need.
const WISHES: &str = "Its name, and what you want of the yarn";

/// A pattern in a size that you mean to make.
#[derive(Debug, Clone, Default, Args)]
pub struct AddProjectRequest {
    /// The pattern, with its size
    ///
    /// As in: Skerrablet:M
    #[arg(value_name = "PATTERN[:SIZE]", required = true)]
    pub project: Option<String>,
    /// Its name
    ///
    /// If empty: the names of pattern and size. Yarn is reserved under this name.
    #[arg(long, value_name = "NAME", help_heading = WISHES)]
    pub name: Option<String>,
    /// Its place among your projects
    ///
    /// 1 matters most. If empty: the last.
    #[arg(long, value_name = "N")]
    pub rank: Option<String>,
    /// Fibres to avoid
    ///
    /// Fibres or families, as in: wool, mohair, animal, synthetic, latex. A yarn of unknown fibre is left out too.
    #[arg(long, value_name = "FIBRES", help_heading = WISHES)]
    pub without: Option<String>,
    /// Only these fibres
    ///
    /// As in: cotton, linen; or plant
    #[arg(long, value_name = "FIBRES", help_heading = WISHES)]
    pub only: Option<String>,
    /// How it will be washed
    ///
    /// One of: machine wash, hand wash, dry clean. If empty: as the pattern says.
    #[arg(long, value_name = "CARE", help_heading = WISHES)]
    pub care: Option<String>,
}

/// A yarn that you choose for a project.
#[derive(Debug, Clone, Default, Args)]
pub struct PinRequest {
    /// The yarn: its name or barcode number
    #[arg(value_name = "YARN", required = true)]
    pub yarn: Option<String>,
    /// Only this shade of it
    #[arg(long, value_name = "SHADE")]
    pub shade: Option<String>,
    /// Which yarn of the pattern, if it has several
    ///
    /// Its key, as in: MC
    #[arg(long = "for", value_name = "KEY")]
    pub role: Option<String>,
}
