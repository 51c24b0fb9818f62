//! Where a label contradicts itself: what was found of its values, and two lengths
//! or two masses in the text that one was read from.

use super::{
    length_mass::{DualMeasure, dual},
    token::{Tokens, lex},
};
use crate::{
    measure::{Grist, Length, Mass, units::Dimension},
    record::{self, Contradiction, YarnFacts},
};

/// What of a label cannot all be true: first of its put-up, then of the rest.
pub fn contradictions(facts: &YarnFacts) -> Vec<Contradiction> {
    let of_put_up = [two_lengths(facts), two_masses(facts)];
    let of_values = record::contradictions(facts);
    of_put_up.into_iter().flatten().chain(of_values).collect()
}

fn two_lengths(facts: &YarnFacts) -> Option<Contradiction> {
    let text = &facts.length.as_ref()?.text;
    let other = other_value(text, Dimension::Length)?;
    let length = Length::metres(other).ok()?;
    let mass = facts.mass.as_ref().map(|mass| mass.value);
    Some(Contradiction::PutUp {
        text: text.clone(),
        used: facts.grist(),
        other: mass.and_then(|mass| Grist::of(length, mass).ok()),
    })
}

fn two_masses(facts: &YarnFacts) -> Option<Contradiction> {
    let text = &facts.mass.as_ref()?.text;
    let other = other_value(text, Dimension::Mass)?;
    let mass = Mass::grams(other).ok()?;
    let length = facts.length.as_ref().map(|length| length.value);
    Some(Contradiction::PutUp {
        text: text.clone(),
        used: facts.grist(),
        other: length.and_then(|length| Grist::of(length, mass).ok()),
    })
}

/// The second statement of a quantity, where it disagrees with the first; m or g.
fn other_value(text: &str, dimension: Dimension) -> Option<f64> {
    let tokens = lex(text);
    let from = |start| {
        let rest = tokens.get(start..)?;
        dual(&mut Tokens::new(rest)).ok()
    };
    let both = |dual: &DualMeasure| dual.second.is_some() && dual.dimension() == dimension;
    let found = (0..tokens.len()).filter_map(from).find(both)?;
    found.other_value()
}
