//! The best yarns of a catalogue of any size, found without judging them all.
//!
//! Yarns are looked at outward from the length per mass that is wanted, at the
//! little that stands in the index; one is judged in full only where that little
//! leaves it a place among the best. The answer is that of judging every yarn.

use super::{
    AppError,
    among::{Among, Nearest},
    asked::{Asked, Role},
    candidate::Candidate,
    gaps::gaps,
    judged::judged,
    kind_bounds::KindBounds,
};
use crate::{
    matching::{Best, Bounds, KindBound, Verdict},
    record::{Id, Yarn},
    store::Look,
};
use std::collections::HashSet;

/// How far the first ring reaches, in tolerances.
const FIRST_RING: f64 = 1.0 / 64.0;

/// How many times farther each further ring reaches.
const WIDER: f64 = 1.5;

/// Least and most of any length per mass, m/g.
const ALL: (f64, f64) = (0.0, 1e9);

/// The best yarns for a role, of those with and of those without a length per
/// mass.
pub(super) fn nearest(among: &Among<'_>, asked: &Asked, role: &Role) -> Result<Nearest, AppError> {
    let mut search = Search::new(among, asked, role)?;
    search.with_grist()?;
    let with_grist = std::mem::replace(&mut search.best, Best::new(among.top)).in_order();
    search.look_likest_first(&Look::NoGrist, Only::Any)?;
    Ok(Nearest {
        with_grist,
        without_grist: search.best.in_order(),
        judged: search.judged,
    })
}

/// Which of the yarns looked at are meant.
#[derive(Clone, Copy, PartialEq)]
enum Only {
    /// Those whose length per mass can be compared.
    Comparable,
    /// Those whose length per mass says nothing.
    NotComparable,
    /// All.
    Any,
}

impl Only {
    fn means(self, kind: &KindBound) -> bool {
        match self {
            Self::Any => true,
            Self::Comparable => kind.is_comparable,
            Self::NotComparable => !kind.is_comparable,
        }
    }
}

struct Search<'a> {
    among: &'a Among<'a>,
    asked: &'a Asked,
    role: &'a Role,
    bounds: Bounds<'a>,
    kinds: KindBounds,
    swatched: HashSet<Id<Yarn>>,
    best: Best<Id<Yarn>, (String, i64)>,
    judged: u64,
}

/// Departures at best, in tolerances, by which yarns are looked at in turn.
const STEPS: [f64; 4] = [0.0, 0.05, 0.4, f64::INFINITY];

impl<'a> Search<'a> {
    fn new(among: &'a Among<'a>, asked: &'a Asked, role: &'a Role) -> Result<Self, AppError> {
        Ok(Self {
            among,
            asked,
            role,
            bounds: Bounds::new(&role.wanted, &asked.settings),
            kinds: KindBounds::default(),
            swatched: among.reader.yarns_with_swatches()?,
            best: Best::new(among.top),
            judged: 0,
        })
    }

    /// Within the tolerance; then where several strands come within; then what
    /// only gauge can judge; then the rest, the nearest first.
    fn with_grist(&mut self) -> Result<(), AppError> {
        let Some((wanted, tolerance)) = self.bounds.reference() else {
            return self.look_likest_first(&grist(ALL), Only::Any);
        };
        let bands = self.bounds.bands();
        let reach = self.bounds.reach();
        self.rings((wanted, FIRST_RING * tolerance, reach))?;
        self.strands(wanted, &bands)?;
        let (of, or_not_stated) = self.bounds.not_comparable();
        self.look_likest_first(&Look::Built { of, or_not_stated }, Only::NotComparable)?;
        self.rest((wanted, reach), &bands)
    }

    /// Ring after ring around `wanted` up to `reach`, the first `width` wide.
    fn rings(&mut self, (wanted, width, reach): (f64, f64, f64)) -> Result<(), AppError> {
        let verdict = self.bounds.best_verdict();
        let (mut from, mut to) = (0.0, width.clamp(reach * 1e-3, reach));
        loop {
            let at_best = self.bounds.at_distance(verdict, from);
            if from >= reach || self.best.has_no_place_for(at_best) {
                return Ok(());
            }
            self.ring(wanted, (from, to))?;
            (from, to) = (to, (to * WIDER).min(reach));
        }
    }

    fn ring(&mut self, wanted: f64, (from, to): (f64, f64)) -> Result<(), AppError> {
        self.look(&grist((wanted - to, wanted - from)), Only::Comparable)?;
        self.look(&grist((wanted + from, wanted + to)), Only::Comparable)
    }

    /// The bands in which several strands come within, as far as they were not
    /// looked at before.
    fn strands(&mut self, wanted: f64, bands: &[(f64, f64)]) -> Result<(), AppError> {
        for (before, (low, high)) in bands.iter().zip(bands.iter().skip(1)) {
            let low = low.max(before.1);
            let at_best = self.bounds.at_distance(Verdict::CouldWork, low - wanted);
            if !self.best.has_no_place_for(at_best) {
                self.look(&grist((low, *high)), Only::Comparable)?;
            }
        }
        Ok(())
    }

    /// What lies outside every band: ring after ring, until all of both sides
    /// has been looked at.
    fn rest(&mut self, (wanted, reach): (f64, f64), bands: &[(f64, f64)]) -> Result<(), AppError> {
        let (mut from, mut to) = (reach, reach.max(wanted * 1e-3) * WIDER);
        let far = ALL.1;
        while from < far {
            let at_best = self.bounds.at_distance(Verdict::WillNotWork, from);
            if self.best.has_no_place_for(at_best) {
                return Ok(());
            }
            self.look(&grist((wanted - to, wanted - from)), Only::Comparable)?;
            for gap in gaps((wanted + from, wanted + to), bands) {
                self.look(&grist(gap), Only::Comparable)?;
            }
            (from, to) = (to, to * WIDER);
        }
        Ok(())
    }

    /// Looks several times: first for those that depart least at best, so that
    /// the best are found early and few of the others are judged.
    fn look_likest_first(&mut self, look: &Look, only: Only) -> Result<(), AppError> {
        for (from, to) in STEPS.iter().zip(STEPS.iter().skip(1)) {
            let at_best = self.bounds.at_best_without_grist(*from);
            if !self.best.has_no_place_for(at_best) {
                self.look_at(look, only, (*from, *to))?;
            }
        }
        Ok(())
    }

    fn look(&mut self, look: &Look, only: Only) -> Result<(), AppError> {
        self.look_at(look, only, (0.0, f64::INFINITY))
    }

    fn look_at(&mut self, look: &Look, only: Only, (from, to): (f64, f64)) -> Result<(), AppError> {
        let reader = self.among.reader;
        reader.glances(look, |glance| {
            let kind = self.kinds.of(glance.kind, &self.bounds, reader)?;
            let at_best = self.bounds.at_best(&kind, glance.grist);
            let meant = only.means(&kind) && (from..to).contains(&at_best.least);
            match meant && !self.best.has_no_place_for(at_best) {
                true => self.judge(glance.yarn),
                false => Ok(()),
            }
        })
    }

    fn judge(&mut self, id: Id<Yarn>) -> Result<(), AppError> {
        let reader = self.among.reader;
        let Some(yarn) = reader.yarn_to_judge(id)? else {
            return Ok(());
        };
        if !(self.among.meant)(&yarn.record) {
            return Ok(());
        }
        let title = yarn.record.title();
        let mut candidate = Candidate {
            facts: yarn.record.facts,
            ..Candidate::default()
        };
        if self.swatched.contains(&id) {
            let swatches = reader.swatches_of(id)?;
            candidate.swatches = swatches.into_iter().map(|kept| kept.record).collect();
        }
        let judgement = judged(self.asked, self.role, &candidate, 1);
        self.best.offer(id, (title, id.number()), judgement);
        self.judged += 1;
        Ok(())
    }
}

fn grist((from, to): (f64, f64)) -> Look {
    Look::Grist { from, to }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        app::{From, Question, asked::asked},
        label::cells,
        matching::{Judgement, rank},
        measure::{Length, Mass},
        record::{Name, Printed, Swatch, YarnFacts},
        store::{Reader, Store},
    };
    use proptest::{prelude::*, sample::select};

    const FIBRES: [&str; 6] = [
        "wool",
        "cotton",
        "linen",
        "75% wool 25% nylon",
        "50% wool 50% acrylic",
        "70% mohair 30% silk",
    ];
    const BUILT: [&str; 6] = ["plied", "single", "brushed", "chainette", "boucle", "tape"];
    const WEIGHTS: [&str; 5] = ["grist=4", "grist=0", "gauge=0", "fibre=9", "construction=0"];
    const TOLERANCES: [&str; 5] = ["8 %", "0 %", "25 %", "15 m/100 g", "400 m/100 g"];

    fn printed<T>(text: &str, read: fn(&str) -> cells::Cell<T>) -> Printed<T> {
        Printed::new(text, read(text).unwrap().value)
    }

    fn chosen(texts: &'static [&'static str]) -> impl Strategy<Value = Option<&'static str>> {
        prop::option::of(select(texts))
    }

    /// A yarn of a catalogue in which many are alike, and its swatches.
    fn any_kept() -> impl Strategy<Value = (YarnFacts, Vec<f64>)> {
        let near = select(vec![
            56.0, 112.0, 112.5, 118.0, 225.0, 230.0, 330.0, 450.0, 880.0,
        ]);
        let metres = prop_oneof![near, (20.0..900.0_f64).prop_map(f64::round)];
        let swatches =
            prop_oneof![6 => Just(Vec::new()), 1 => prop::collection::vec(15.0..30.0, 1..3)];
        let told = (
            prop::option::weighted(0.9, metres),
            chosen(&FIBRES),
            chosen(&BUILT),
        );
        let more = (
            chosen(&["1", "3", "5", "4 ply"]),
            chosen(&["22 sts / 10 cm", "24 sts / 4 in", "28-30 sts / 10 cm"]),
            chosen(&["machine wash", "hand wash"]),
        );
        (told, more, swatches).prop_map(
            |((metres, fibre, built), (class, gauge, care), swatches)| {
                let facts = YarnFacts {
                    length: metres.map(|m| Printed::new("", Length::metres(m).unwrap())),
                    mass: Some(Printed::new("", Mass::grams(100.0).unwrap())),
                    blend: fibre.map(|text| printed(text, cells::blend)),
                    construction: built
                        .map(|text| Printed::new(text, cells::construction(text).unwrap().value.0)),
                    class: class.map(|text| printed(text, cells::class)),
                    gauge: gauge.map(|text| printed(text, cells::gauge)),
                    care: care.map(|text| printed(text, cells::care)),
                    ..YarnFacts::default()
                };
                (facts, swatches)
            },
        )
    }

    fn any_question() -> impl Strategy<Value = Question> {
        let wants = select(vec![
            "DK 225 m/100 g, 100% wool, 22 sts / 10 cm, plied",
            "225 m/100 g",
            "225 m/100 g, 22 sts / 10 cm, machine wash",
            "450 m/100 g held double, 22 sts / 10 cm, cotton",
            "brushed 300 m/100 g, 70% mohair 30% silk, class 3",
            "22 sts / 10 cm, 100% wool",
            "100% wool, DK",
        ]);
        let purpose = prop::option::weighted(0.2, Just("hot pad"));
        let tolerance = prop::option::of(select(&TOLERANCES[..]));
        let weight = prop::option::weighted(0.4, select(&WEIGHTS[..]));
        (wants, purpose, tolerance, weight).prop_map(|(wants, purpose, tolerance, weight)| {
            Question {
                wants: Some(wants.to_owned()),
                purpose: purpose.map(str::to_owned),
                tolerance: tolerance.map(str::to_owned),
                weights: weight.into_iter().map(str::to_owned).collect(),
                ..Question::default()
            }
        })
    }

    fn catalogue(yarns: &[(YarnFacts, Vec<f64>)]) -> Store {
        let mut store = Store::in_memory().unwrap();
        let kept: Result<(), AppError> = store.write(|writer| {
            for (number, (facts, swatches)) in yarns.iter().enumerate() {
                let id = writer.add_yarn(&Yarn {
                    maker: Name::new("maker", "Quay").unwrap(),
                    name: Name::new("name", &format!("Dune {}", number * 7 % 31 + number)).unwrap(),
                    facts: facts.clone(),
                    gtin: None,
                    shades: Vec::new(),
                    discontinued: false,
                    notes: String::new(),
                });
                let Ok(id) = id else { continue };
                for stitches in swatches {
                    let text = format!("{stitches} sts / 10 cm");
                    writer.add_swatch(
                        id,
                        &Swatch {
                            needle: cells::needle("4 mm").unwrap().value,
                            before: None,
                            after: Some(cells::gauge(&text).unwrap().value.gauge),
                            measured_on: String::new(),
                            notes: String::new(),
                        },
                    )?;
                }
            }
            Ok(())
        });
        kept.unwrap();
        store
    }

    /// The first yarn of any catalogue does not come into question.
    fn meant(yarn: &Yarn) -> bool {
        yarn.name.as_str() != "Dune 0"
    }

    fn found(reader: &Reader<'_>, asked: &Asked, top: usize) -> Nearest {
        let among = Among {
            reader,
            from: From::Catalogue,
            with_reserved: false,
            top,
            meant: &meant,
        };
        nearest(&among, asked, &asked.roles[0]).unwrap()
    }

    /// Every yarn judged, one after the other.
    fn by_judging_all(
        reader: &Reader<'_>,
        asked: &Asked,
        has_grist: bool,
        top: usize,
    ) -> Vec<(Id<Yarn>, Judgement)> {
        let mut all = Vec::new();
        let done: Result<(), AppError> = reader.yarns(|yarn| {
            if !meant(&yarn.record) {
                return Ok(());
            }
            let swatches = reader.swatches_of(yarn.id)?;
            let candidate = Candidate {
                title: yarn.record.title(),
                facts: yarn.record.facts,
                swatches: swatches.into_iter().map(|kept| kept.record).collect(),
                ..Candidate::default()
            };
            if candidate.facts.grist().is_some() == has_grist {
                let judgement = judged(asked, &asked.roles[0], &candidate, 1);
                all.push(((candidate.title, yarn.id), judgement));
            }
            Ok(())
        });
        done.unwrap();
        let key = |(title, id): &(String, Id<Yarn>)| (title.clone(), id.number());
        let ranked = rank(all, key, top).into_iter();
        ranked.map(|((_, id), judgement)| (id, judgement)).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]
        #[test]
        fn prop_the_answer_is_that_of_judging_every_yarn(
            yarns in prop::collection::vec(any_kept(), 0..70), question in any_question(), top in 0_usize..12,
        ) {
            let store = catalogue(&yarns);
            let reader = store.reader().unwrap();
            let asked = asked(&question, None).unwrap();
            let found = found(&reader, &asked, top);
            prop_assert_eq!(found.with_grist, by_judging_all(&reader, &asked, true, top));
            prop_assert_eq!(found.without_grist, by_judging_all(&reader, &asked, false, top));
        }
    }

    #[test]
    fn far_more_yarns_lie_there_than_are_judged() {
        let facts = |metres: f64| YarnFacts {
            length: Some(Printed::new("", Length::metres(metres).unwrap())),
            mass: Some(Printed::new("", Mass::grams(100.0).unwrap())),
            class: Some(printed("3", cells::class)),
            ..YarnFacts::default()
        };
        let yarns: Vec<_> = (100..400)
            .map(|m| (facts(f64::from(m)), Vec::new()))
            .collect();
        let store = catalogue(&yarns);
        let question = Question {
            wants: Some("DK 225 m/100 g".to_owned()),
            ..Question::default()
        };
        let asked = asked(&question, None).unwrap();
        let reader = store.reader().unwrap();
        let found = found(&reader, &asked, 3);
        assert_eq!(found.with_grist.len(), 3);
        assert!(found.judged < 30, "{} judged", found.judged);
    }
}
