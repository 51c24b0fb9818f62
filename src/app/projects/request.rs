//! What is asked of a project.

use crate::{
    app::{FibresRequest, PatternRequest, QuestionRequest, StashRequest, WishesRequest},
    record::Project,
};
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
    /// What else is wished for.
    #[command(flatten, next_help_heading = WISHES)]
    pub wishes: ProjectWishesRequest,
}

/// What you will have of the yarn of a project, beside its fibres.
#[derive(Debug, Clone, Default, Args)]
pub struct ProjectWishesRequest {
    /// The most to spend on a project
    ///
    /// On what is to be bought for it, as in: 40 EUR. What you have costs nothing.
    #[arg(long, value_name = "MONEY")]
    pub max_cost: Option<String>,
    /// Only from your stash
    ///
    /// Nothing is bought.
    #[arg(long)]
    pub enough: bool,
    /// Only one dye lot for each of its yarns
    #[arg(long)]
    pub one_lot: bool,
    /// Which of your stash.
    #[command(flatten)]
    pub stash: StashRequest,
}

impl ProjectWishesRequest {
    /// As a question about yarns has them.
    pub(in crate::app) fn as_wishes(&self) -> WishesRequest {
        WishesRequest {
            max_cost: self.max_cost.clone(),
            enough: self.enough,
            one_lot: self.one_lot,
            stash: self.stash.clone(),
        }
    }
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
    /// The most to spend on it; an empty text means any cost
    #[arg(long, value_name = "MONEY")]
    pub max_cost: Option<String>,
    /// Only from your stash: yes or no
    #[arg(long, value_name = "YES")]
    pub enough: Option<String>,
    /// Only one dye lot for each of its yarns: yes or no
    #[arg(long, value_name = "YES")]
    pub one_lot: Option<String>,
    /// Only shades with these words; an empty text means any
    #[arg(long, value_name = "WORDS")]
    pub shade: Option<String>,
    /// Only what you keep in this place; an empty text means any
    #[arg(long, value_name = "WORDS")]
    pub place: Option<String>,
}

impl EditProjectRequest {
    /// The names of all fields.
    pub(super) const FIELDS: [&'static str; 10] = [
        "name", "size", "without", "only", "care", "max-cost", "enough", "one-lot", "shade",
        "place",
    ];

    /// Each field that was given, and what was typed in it.
    pub(super) fn given(&self) -> impl Iterator<Item = (&'static str, &str)> {
        let texts = [
            &self.name,
            &self.size,
            &self.without,
            &self.only,
            &self.care,
            &self.max_cost,
            &self.enough,
            &self.one_lot,
            &self.shade,
            &self.place,
        ];
        let given = Self::FIELDS.into_iter().zip(texts);
        given.filter_map(|(field, text)| Some((field, text.as_deref()?.trim())))
    }
}

/// What a project asks of its pattern in its size.
pub(in crate::app) fn wishes(project: &Project) -> QuestionRequest {
    let typed = |text: &str| Some(text.to_owned()).filter(|text| !text.is_empty());
    QuestionRequest {
        of: PatternRequest {
            pattern: Some(project.pattern_name.to_string()),
            size: Some(project.size.clone()),
            ..PatternRequest::default()
        },
        fibres: FibresRequest {
            without: Vec::from_iter(typed(&project.without)),
            only: Vec::from_iter(typed(&project.only)),
        },
        care: typed(&project.care),
        wishes: WishesRequest {
            max_cost: typed(&project.max_cost),
            enough: project.enough,
            one_lot: project.one_lot,
            stash: StashRequest {
                shade: typed(&project.shade),
                place: typed(&project.place),
            },
        },
        ..QuestionRequest::default()
    }
}
