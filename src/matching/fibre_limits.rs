//! Fibres that the asker must keep away from, or will have only.
//!
//! A limit, never a score: a yarn that breaks it is not shown as usable, and one whose
//! fibre is not known never passes. Whether an allergy allows a yarn is for its label
//! and a doctor to say.

use crate::{
    record::{Blend, FibreName},
    trade::{Fibre, FibreGroup},
};

/// What a yarn must not hold, and what alone it may hold.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct FibreLimits {
    /// Nothing of these.
    pub without: Vec<FibreGroup>,
    /// Nothing but these; empty where anything may be in it.
    pub only: Vec<FibreGroup>,
}

/// Why a yarn is not for the asker.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Exclusion {
    /// It holds what it must not.
    Holds(FibreGroup),
    /// It holds another fibre than those that alone it may hold.
    HoldsOther(&'static Fibre),
    /// It is not known what it is made of, or not of all of it.
    FibreNotKnown,
}

impl FibreLimits {
    /// Whether anything may be in a yarn.
    pub fn is_empty(&self) -> bool {
        self.without.is_empty() && self.only.is_empty()
    }

    /// Why a yarn of this blend is left out: what it holds before what is not known.
    pub fn exclusion(&self, blend: Option<&Blend>) -> Option<Exclusion> {
        if self.is_empty() {
            return None;
        }
        let parts = blend.map_or(&[][..], Blend::parts);
        let known = || {
            parts.iter().filter_map(|part| match part.fibre {
                FibreName::Known(fibre) => Some(fibre),
                FibreName::Other(_) => None,
            })
        };
        let is_whole = !parts.is_empty() && known().count() == parts.len();
        self.without
            .iter()
            .find(|group| known().any(|fibre| group.holds(fibre)))
            .map(|group| Exclusion::Holds(*group))
            .or_else(|| {
                known()
                    .find(|fibre| self.is_other(fibre))
                    .map(Exclusion::HoldsOther)
            })
            .or_else(|| (!is_whole).then_some(Exclusion::FibreNotKnown))
    }

    fn is_other(&self, fibre: &Fibre) -> bool {
        !self.only.is_empty() && !self.only.iter().any(|group| group.holds(fibre))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        label::cells,
        matching::samples::{Build, offered},
        trade::{FIBRES, Family, fibre},
    };
    use proptest::prelude::*;

    fn limits(without: &str, only: &str) -> FibreLimits {
        let groups = |text: &str| match text {
            "" => Vec::new(),
            text => cells::fibre_groups(text).unwrap().value,
        };
        FibreLimits {
            without: groups(without),
            only: groups(only),
        }
    }

    fn exclusion(limits: &FibreLimits, parts: &[(&str, f64)]) -> Option<Exclusion> {
        let blend = offered().of(parts).facts.blend.unwrap();
        limits.exclusion(Some(&blend.value))
    }

    #[test]
    fn a_fibre_to_keep_away_from_excludes_a_yarn_however_little_of_it_there_is() {
        let wool = FibreGroup::Fibre(fibre("wool").unwrap());
        let without = limits("wool", "");
        let found = exclusion(&without, &[("acrylic", 98.0), ("wool", 2.0)]);
        assert_eq!(found, Some(Exclusion::Holds(wool)));
        assert_eq!(exclusion(&without, &[("alpaca", 100.0)]), None);
    }

    #[test]
    fn a_family_holds_all_its_fibres() {
        let animal = limits("animal", "");
        for name in ["wool", "mohair", "silk", "alpaca"] {
            let found = exclusion(&animal, &[(name, 100.0)]);
            assert_eq!(
                found,
                Some(Exclusion::Holds(FibreGroup::Family(Family::Animal)))
            );
        }
        assert_eq!(exclusion(&animal, &[("viscose", 100.0)]), None);
    }

    #[test]
    fn latex_is_rubber_and_not_elastane() {
        let latex = limits("latex", "");
        let found = exclusion(&latex, &[("cotton", 95.0), ("rubber", 5.0)]);
        assert!(matches!(found, Some(Exclusion::Holds(_))));
        assert_eq!(
            exclusion(&latex, &[("cotton", 95.0), ("elastane", 5.0)]),
            None
        );
    }

    #[test]
    fn only_plant_leaves_out_a_trace_of_anything_else() {
        let plant = limits("", "plant");
        assert_eq!(
            exclusion(&plant, &[("cotton", 55.0), ("linen", 45.0)]),
            None
        );
        let found = exclusion(&plant, &[("cotton", 99.0), ("nylon", 1.0)]);
        assert_eq!(found, Some(Exclusion::HoldsOther(fibre("nylon").unwrap())));
    }

    #[test]
    fn what_is_not_known_never_passes() {
        let without = limits("wool", "");
        assert_eq!(without.exclusion(None), Some(Exclusion::FibreNotKnown));
        let found = exclusion(&without, &[("cotton", 60.0), ("raffia", 40.0)]);
        assert_eq!(found, Some(Exclusion::FibreNotKnown));
        assert_eq!(FibreLimits::default().exclusion(None), None);
    }

    proptest! {
        #[test]
        fn prop_more_limits_never_let_more_yarns_pass(
            one in 0..FIBRES.len(), two in 0..FIBRES.len(), of in 0..FIBRES.len(),
        ) {
            let group = |at: usize| FibreGroup::Fibre(&FIBRES[at]);
            let few = FibreLimits { without: vec![group(one)], only: Vec::new() };
            let more = FibreLimits { without: vec![group(one), group(two)], only: Vec::new() };
            let parts = [(FIBRES[of].name, 100.0)];
            if exclusion(&few, &parts).is_some() {
                prop_assert!(exclusion(&more, &parts).is_some());
            }
        }
    }
}
