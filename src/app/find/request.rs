//! What `find` is asked.

use crate::app::{InputReader, QuestionFault, QuestionRequest};
use clap::{Args, builder::PossibleValue};

/// Which of your yarns work best for this pattern?
#[derive(Debug, Clone, Default, Args)]
pub struct FindRequest {
    /// What is wanted, and how strictly.
    #[command(flatten)]
    pub question: QuestionRequest,
    /// Where to look, and how many to show.
    #[command(flatten)]
    pub best: BestRequest,
    /// Yarns held together as one strand
    ///
    /// 2 lists the best pairs, two strands of one yarn too; 3 the best threes of your stash.
    #[arg(long, value_parser = ["1", "2", "3"], default_value = "1", help_heading = None::<&str>)]
    pub together: Option<String>,
}

impl FindRequest {
    /// How many yarns are held together.
    pub(in crate::app) fn strands(&self, reader: &mut InputReader, from: Source) -> usize {
        let count = reader.whole("together", self.together.as_deref(), 1..=3);
        if count == Some(3_u8) && from == Source::Catalogue {
            reader.fault("together", QuestionFault::ThreesOfStash);
        }
        count.map_or(1, usize::from)
    }
}

/// Where to look, and how many to show.
#[derive(Debug, Clone, Default, Args)]
pub struct BestRequest {
    /// Where to look
    #[arg(long, value_parser = sources(), default_value = "catalogue", help_heading = None::<&str>)]
    pub from: Option<String>,
    /// How many of the best to show
    ///
    /// If empty: 5
    #[arg(long, value_name = "N", default_value = "5", help_heading = None::<&str>)]
    pub top: Option<String>,
}

fn sources() -> [PossibleValue; 2] {
    [
        PossibleValue::new("stash").help("Yarns in your stash"),
        PossibleValue::new("catalogue").help("All your yarns"),
    ]
}

/// Where candidates come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Source {
    /// Every kept yarn.
    #[default]
    Catalogue,
    /// Yarns of which something free is in stock.
    Stash,
}

/// How many are shown where nothing else is said.
const USUAL: usize = 5;

/// The most that are shown: each is judged in full and told in lines of its own.
const MOST: u16 = 1000;

impl BestRequest {
    /// Where to look, and how many to show.
    pub(in crate::app) fn read(
        &self,
        reader: &mut InputReader,
        most: Option<u16>,
    ) -> (Source, usize) {
        let source = match self.from.as_deref() {
            Some("stash") => Source::Stash,
            _ => Source::Catalogue,
        };
        let top = reader.whole("top", self.top.as_deref(), 1..=most.unwrap_or(MOST));
        (source, top.map_or(USUAL, usize::from))
    }
}
