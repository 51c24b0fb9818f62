//! One length or mass of a skein, printed in both systems in two places of a label:
//! `120 m/50 g, 131 yd`.

use super::builder::BandBuilder;
use crate::{
    label::{cells, reading::Note},
    measure::units::Dimension,
    record::Printed,
};
use std::ops::Range;

impl BandBuilder<'_> {
    /// Whether the quantity at `span` is the put-up's in the other system; it is kept
    /// beside the first then, and a word is said where they disagree.
    ///
    /// A length is that where it lies within a third of the first, a mass within
    /// twice: farther away it is what is needed.
    pub(super) fn restates(&mut self, dimension: Dimension, span: &Range<usize>) -> bool {
        let second = self.printed(span);
        let facts = &mut self.out.facts;
        let notes = match dimension {
            Dimension::Length => join(&mut facts.length, ", ", &second, cells::length),
            Dimension::Mass => join(&mut facts.mass, " = ", &second, cells::mass),
        };
        let Some(notes) = notes else { return false };
        let notes = notes.into_iter().map(|note| Note {
            span: span.clone(),
            ..note
        });
        self.out.warnings.extend(notes);
        true
    }
}

/// Makes both statements one, where they read as one; what there is to say of it.
fn join<T: PartialEq>(
    first: &mut Option<Printed<T>>,
    sign: &str,
    second: &str,
    read: fn(&str) -> cells::Cell<T>,
) -> Option<Vec<Note>> {
    let known = first.as_mut()?;
    if read(second).is_ok_and(|same| same.value == known.value) {
        return None;
    }
    let both = format!("{}{sign}{second}", known.text);
    let reading = read(&both).ok()?;
    *known = Printed::new(both, reading.value);
    Some(reading.notes)
}
