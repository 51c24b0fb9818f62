//! A candidate yarn with what is kept of it.

use crate::{
    app::{FaultKind, InputReader},
    matching::Doubt,
    measure::{Grist, Length, Mass},
    record::{Id, Lot, Price, StockAmount, Swatch, Yarn, YarnFacts},
    words::fold,
};

/// A candidate: facts, own swatches, lots in stock.
#[derive(Debug, Clone, Default)]
pub struct Candidate {
    /// The yarn, where it is a kept one.
    pub yarn: Option<Id<Yarn>>,
    /// As people call it.
    pub title: String,
    /// What is known of it.
    pub facts: YarnFacts,
    /// Whether it is discontinued.
    pub discontinued: bool,
    /// Own swatches of it.
    pub swatches: Vec<Swatch>,
    /// Own swatches of strands that it is a part of.
    pub strand_swatches: Vec<StrandSwatch>,
    /// What of it may be used.
    pub lots: Vec<StockLot>,
    /// What of its label leaves its facts in doubt.
    pub doubts: Vec<Doubt>,
    /// Whether it is kept, so that stock can be spoken of.
    pub kept: bool,
    /// The different yarns that it is, where several are held together; else none.
    pub ends: Vec<Self>,
    /// Of a yarn that is held together with others, or with itself: strands of it beyond
    /// the first.
    pub more_strands: u8,
    /// Of a yarn that is held together with others in place of one that the pattern holds
    /// so: which of those, by its place.
    pub stands_for: Option<usize>,
    /// The only shade of it that is meant, where one was named.
    pub shade: Option<String>,
}

/// A swatch of several strands, of one yarn or of several.
#[derive(Debug, Clone)]
pub struct StrandSwatch {
    /// The yarns, as [`Swatch::strand`] gives them.
    pub strand: Vec<Id<Yarn>>,
    /// The swatch, as one strand of them.
    pub swatch: Swatch,
}

/// What of one lot may be used.
#[derive(Debug, Clone)]
pub struct StockLot {
    /// Its number.
    pub id: Id<Lot>,
    /// The lot.
    pub lot: Lot,
    /// How much of it may be used.
    pub usable: StockAmount,
}

impl Candidate {
    /// Several yarns held together as one strand, with what is known of all of them. Its
    /// swatches are those of just this strand, its lots are those of its yarns; one that
    /// comes more than once is one yarn of several strands, so that what there is of it
    /// counts once.
    pub(in crate::app) fn held_together(ends: Vec<Self>) -> Self {
        let titles: Vec<&str> = ends.iter().map(|end| end.title.as_str()).collect();
        let facts: Vec<&YarnFacts> = ends.iter().map(|end| &end.facts).collect();
        Self {
            title: titles.join(" + "),
            facts: YarnFacts::held_together(&facts),
            discontinued: ends.iter().any(|end| end.discontinued),
            kept: ends.iter().any(|end| end.kept),
            doubts: ends.iter().flat_map(super::answer::doubts).collect(),
            swatches: swatches_of_strand(&ends),
            ends: each_once(ends),
            ..Self::default()
        }
    }

    /// The same in place of a yarn that the pattern holds together with others.
    pub(in crate::app) fn in_place_of(self, place: usize) -> Self {
        Self {
            stands_for: Some(place),
            ..self
        }
    }

    /// Keeps the lots of one shade; its name as the records have it. A shade that is neither
    /// there nor one of those `known`, beside others that are, is a mistake in its name:
    /// then those that it may be.
    pub(in crate::app) fn keep_shade(
        &mut self,
        shade: &str,
        known: &[String],
    ) -> Result<(), Vec<String>> {
        let lots = self.lots.iter().map(|held| &held.lot.shade);
        let mut all: Vec<String> = lots.chain(known).cloned().collect();
        all.sort();
        all.dedup();
        let meant = all.iter().find(|name| fold(name) == fold(shade)).cloned();
        if meant.is_none() && !all.is_empty() {
            return Err(all);
        }
        self.lots
            .retain(|held| fold(&held.lot.shade) == fold(shade));
        self.shade = Some(meant.unwrap_or_else(|| shade.to_owned()));
        Ok(())
    }

    /// How many strands of it there are beside other yarns.
    pub fn strands_held(&self) -> u8 {
        self.more_strands.saturating_add(1)
    }

    /// The price of the label.
    pub(in crate::app) fn price(&self) -> Option<&Price> {
        self.facts.price.as_ref().map(|price| &price.value)
    }
}

/// The most different yarns that are held together.
pub(in crate::app) const MOST_ENDS: usize = 3;

/// The yarn that is alone, or all as one strand; a fault of `field` where they are too
/// many.
pub(in crate::app) fn one_strand(
    field: &str,
    mut ends: Vec<Candidate>,
    reader: &mut InputReader,
) -> Option<Candidate> {
    if ends.len() > MOST_ENDS {
        let (given, most) = (ends.len(), MOST_ENDS);
        reader.fault(field, FaultKind::TooMany { given, most });
        return None;
    }
    match ends.len() {
        1 => ends.pop(),
        _ => Some(Candidate::held_together(ends)),
    }
}

/// Own swatches of these held together, in whatever order they were named.
fn swatches_of_strand(ends: &[Candidate]) -> Vec<Swatch> {
    let yarns: Option<Vec<Id<Yarn>>> = ends.iter().map(|end| end.yarn).collect();
    let mut yarns = yarns.unwrap_or_default();
    yarns.sort();
    let known = ends.iter().take(1).flat_map(|end| &end.strand_swatches);
    let same = known.filter(|known| known.strand == yarns);
    same.map(|known| known.swatch.clone()).collect()
}

fn each_once(ends: Vec<Candidate>) -> Vec<Candidate> {
    let mut each: Vec<Candidate> = Vec::new();
    for end in ends {
        match each.iter_mut().find(|known| known.title == end.title) {
            Some(known) => {
                known.more_strands = known.more_strands.saturating_add(1);
                // In place of two of them it takes what the strand takes, twice.
                known.stands_for = known
                    .stands_for
                    .filter(|_| known.stands_for == end.stands_for);
            }
            None => each.push(end),
        }
    }
    each
}

impl StockLot {
    /// Metres of it: through the lot's weighed put-up, else the label's.
    pub(in crate::app) fn length(&self, facts: &YarnFacts) -> Option<Length> {
        let (skein, grist) = self.lengths(facts);
        self.usable.length(skein, grist)
    }

    /// The least part of it that is so long, as [`StockAmount::part`] gives it.
    pub(in crate::app) fn part(
        &self,
        length: Length,
        facts: &YarnFacts,
        in_whole: bool,
    ) -> Option<StockAmount> {
        self.usable.part(length, self.lengths(facts), in_whole)
    }

    /// Length of a skein of it, and its length per mass.
    fn lengths(&self, facts: &YarnFacts) -> (Option<Length>, Option<Grist>) {
        let weighed = self.lot.weighed.as_ref().map(|weighed| weighed.value);
        let grist = weighed
            .and_then(|(mass, length)| Grist::of(length?, mass).ok())
            .or_else(|| facts.grist());
        (skein_length(weighed, grist, facts), grist)
    }
}

fn skein_length(
    weighed: Option<(Mass, Option<Length>)>,
    grist: Option<Grist>,
    facts: &YarnFacts,
) -> Option<Length> {
    let own = weighed.and_then(|(mass, length)| length.or_else(|| mass.length_at(grist?).ok()));
    own.or_else(|| facts.skein_length())
}
