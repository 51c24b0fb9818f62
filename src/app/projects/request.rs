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

/// What you change of a project; what is not given stays as it is.
#[derive(Debug, Clone, Default, Args)]
pub struct EditProjectRequest {
    /// Its name; what is reserved for it moves to the new name
    #[arg(long, value_name = "NAME")]
    pub name: Option<String>,
    /// The size of its pattern
    #[arg(long, value_name = "SIZE")]
    pub size: Option<String>,
    /// Fibres to avoid; an empty text means none
    #[arg(long, value_name = "FIBRES")]
    pub without: Option<String>,
    /// Only these fibres; an empty text means any
    #[arg(long, value_name = "FIBRES")]
    pub only: Option<String>,
    /// How it will be washed; an empty text means as the pattern says
    #[arg(long, value_name = "CARE")]
    pub care: Option<String>,
}

impl EditProjectRequest {
    /// The names of all fields.
    pub(super) const FIELDS: [&'static str; 5] = ["name", "size", "without", "only", "care"];

    /// Each field that was given, and what was typed in it.
    pub(super) fn given(&self) -> impl Iterator<Item = (&'static str, &str)> {
        let texts = [
            &self.name,
            &self.size,
            &self.without,
            &self.only,
            &self.care,
        ];
        let given = Self::FIELDS.into_iter().zip(texts);
        given.filter_map(|(field, text)| Some((field, text.as_deref()?.trim())))
    }
}
