//! What `stripes` is asked.

use crate::app::{QuestionRequest, WishesRequest};
use clap::Args;

/// The part of the form for what only few need.
const STRICTNESS: &str = "How strictly, and other settings";

/// Several leftovers in one piece: are they enough, and does each of them work?
#[derive(Debug, Clone, Default, Args)]
pub struct StripesRequest {
    /// Yarns of your stash
    ///
    /// Their names, with a shade if only that is meant, as in: Hathrel DK:tide. Several with ; between. If empty: all that should or could work.
    #[arg(value_name = "YARN[:SHADE]")]
    pub yarns: Vec<String>,
    /// One of your patterns
    #[arg(long, value_name = "NAME")]
    pub pattern: Option<String>,
    /// What the pattern says about its yarn
    ///
    /// Its materials line and gauge, as printed
    #[arg(long, value_name = "TEXT", allow_hyphen_values = true)]
    pub wants: Option<String>,
    /// Yarn needed, if the text does not say
    ///
    /// As in: 900 m, or 6 (7, 8) skeins
    #[arg(long, value_name = "NEED")]
    pub need: Option<String>,
    /// Which yarn of the pattern, if it has several
    ///
    /// Its key, as in: MC
    #[arg(long = "for", value_name = "KEY")]
    pub role: Option<String>,
    /// Only this size
    #[arg(long, value_name = "SIZE", help_heading = STRICTNESS)]
    pub size: Option<String>,
    /// Fibres to avoid
    ///
    /// Fibres or families, as in: wool, mohair, animal, synthetic, latex. A yarn of unknown fibre is left out too.
    #[arg(long, value_name = "FIBRES", help_heading = STRICTNESS)]
    pub without: Vec<String>,
    /// Only these fibres
    ///
    /// As in: cotton, linen; or plant
    #[arg(long, value_name = "FIBRES", help_heading = STRICTNESS)]
    pub only: Vec<String>,
    /// Only shades of these words
    ///
    /// Words of a shade's name or colour, as in: moss; or dark green
    #[arg(long, value_name = "WORDS", help_heading = STRICTNESS)]
    pub shade: Option<String>,
    /// Only what you keep in this place
    ///
    /// As in: loft
    #[arg(long, value_name = "WORDS", help_heading = STRICTNESS)]
    pub place: Option<String>,
    /// How far metres per 100 g may differ
    ///
    /// As in: 8%, or 15 m/100 g. If empty: the pattern's limit, or 8 %.
    #[arg(long, value_name = "TOLERANCE", help_heading = STRICTNESS)]
    pub tolerance: Option<String>,
    /// Spare yarn
    ///
    /// As in: 10%. If empty: 10 %, or none if the pattern includes some.
    #[arg(long, value_name = "SHARE", help_heading = STRICTNESS)]
    pub margin: Option<String>,
    /// Count reserved yarn too
    #[arg(long, help_heading = STRICTNESS)]
    pub with_reserved: bool,
}

impl StripesRequest {
    /// What is asked of each yarn.
    pub(super) fn question(&self) -> QuestionRequest {
        QuestionRequest {
            pattern: self.pattern.clone(),
            wants: self.wants.clone(),
            need: self.need.clone(),
            role: self.role.clone(),
            size: self.size.clone(),
            tolerance: self.tolerance.clone(),
            margin: self.margin.clone(),
            without: self.without.clone(),
            only: self.only.clone(),
            with_reserved: self.with_reserved,
            wishes: WishesRequest {
                shade: self.shade.clone(),
                place: self.place.clone(),
                ..WishesRequest::default()
            },
            ..QuestionRequest::default()
        }
    }

    /// The yarns by name, each once.
    pub(super) fn names(&self) -> Vec<&str> {
        let texts = self.yarns.iter().flat_map(|text| text.split([';', '\n']));
        let mut names: Vec<&str> = Vec::new();
        for name in texts.map(str::trim).filter(|name| !name.is_empty()) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }
}
