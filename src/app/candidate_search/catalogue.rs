//! The best yarns of a catalogue of any size, found without judging them all.
//!
//! Yarns are looked at in ranges of length per mass and of gauge, the likeliest range
//! first, at the little that stands in the index; one is judged in full only where
//! that little leaves it a place among the best. The answer is that of judging every
//! yarn.

use super::{
    super::{
        AppError,
        question::{ResolvedQuestion, Role, answer::judged, candidate::Candidate},
    },
    CandidateSource, Nearest,
    blend_groups::{BlendGroup, blend_groups},
    kind_bounds::KindBounds,
    name_order,
};
use crate::{
    matching::{AtBest, Best, Bounds},
    record::{Id, Yarn},
    store::{GAUGE_SPREADS, IndexEntry, NameKeys, ScanRange},
};
use std::collections::HashSet;

/// How many yarns are handled at a time; the answer does not depend on it.
#[derive(Debug, Clone, Copy)]
struct Batches {
    /// Yarns that are kept in mind before they are judged.
    pending: usize,
    /// Yarns that may all be as good, of which each name is read on its own; of more,
    /// all names are gone through in their order until enough are found.
    tied: usize,
    /// Names that are read at a time.
    names: u32,
}

const BATCHES: Batches = Batches {
    pending: 4000,
    tied: 1000,
    names: 500,
};

/// The best yarns for a role, of those with and of those without a length per
/// mass.
pub(super) fn nearest(
    source: &CandidateSource<'_>,
    asked: &ResolvedQuestion,
    role: &Role,
) -> Result<Nearest, AppError> {
    nearest_in(source, asked, role, BATCHES)
}

fn nearest_in(
    source: &CandidateSource<'_>,
    asked: &ResolvedQuestion,
    role: &Role,
    batches: Batches,
) -> Result<Nearest, AppError> {
    let mut search = Search {
        batches,
        ..Search::new(source, asked, role)?
    };
    let groups = blend_groups(source.reader, &search.bounds)?;
    search.look_at_all(true, &groups)?;
    let with_grist = std::mem::replace(&mut search.best, Best::new(source.top)).in_order();
    search.look_at_all(false, &groups)?;
    Ok(Nearest {
        with_grist,
        without_grist: search.best.in_order(),
        judged: search.judged,
    })
}

/// Yarns to look at, and what they do at best.
struct Look<'g> {
    at_best: AtBest,
    range: ScanRange,
    group: &'g BlendGroup,
    /// Whether those are meant whose length per mass is judged, or the others.
    by_grist: bool,
}

struct Search<'a> {
    batches: Batches,
    source: &'a CandidateSource<'a>,
    asked: &'a ResolvedQuestion,
    role: &'a Role,
    bounds: Bounds<'a>,
    kinds: KindBounds,
    swatched: HashSet<Id<Yarn>>,
    best: Best<Id<Yarn>, NameKeys>,
    /// Yarns that may have a place among the best.
    pending: Vec<(AtBest, Id<Yarn>)>,
    judged: u64,
}

impl<'a> Search<'a> {
    fn new(
        source: &'a CandidateSource<'a>,
        asked: &'a ResolvedQuestion,
        role: &'a Role,
    ) -> Result<Self, AppError> {
        let is_measured = asked.own_gauge.is_some();
        Ok(Self {
            batches: BATCHES,
            source,
            asked,
            role,
            bounds: Bounds::new(&role.wanted, &asked.settings, is_measured),
            kinds: KindBounds::default(),
            swatched: source.reader.yarns_with_swatches()?,
            best: Best::new(source.top),
            pending: Vec::new(),
            judged: 0,
        })
    }

    /// Judges the yarns with swatches, of which the index tells too little; then the
    /// others, the likeliest ranges first.
    fn look_at_all(&mut self, with_grist: bool, groups: &[BlendGroup]) -> Result<(), AppError> {
        let mut swatched: Vec<_> = self.swatched.iter().copied().collect();
        swatched.sort_by_key(|id| id.number());
        for id in swatched {
            self.judge(id, Some(with_grist))?;
        }
        let looks = groups
            .iter()
            .flat_map(|group| self.looks(with_grist, group));
        let mut looks: Vec<Look<'_>> = looks.collect();
        looks.sort_by_key(|look| look.at_best.order());
        for look in looks {
            if self.best.has_no_place_for(look.at_best) {
                break;
            }
            self.look(&look, with_grist)?;
        }
        Ok(())
    }

    /// All yarns of a group with a length per mass, by that where it is judged, else
    /// by gauge; or all without.
    fn looks<'g>(&self, with_grist: bool, group: &'g BlendGroup) -> Vec<Look<'g>> {
        let look = |at_best, range, by_grist| Look {
            at_best,
            range,
            group,
            by_grist,
        };
        let by_gauge = (0..).zip(GAUGE_SPREADS).flat_map(|(spread, widest)| {
            let ranges = self.bounds.gauge_ranges(widest, group.least).into_iter();
            ranges.map(move |(at_best, (from, to))| {
                let range = ScanRange::Gauge {
                    spread,
                    from,
                    to,
                    with_grist,
                };
                look(at_best, range, false)
            })
        });
        let mut looks: Vec<Look<'g>> = by_gauge.collect();
        let rest = match (looks.is_empty(), with_grist) {
            (true, true) => ScanRange::AnyGrist,
            (true, false) => ScanRange::NoGrist,
            (false, true) => ScanRange::NoGauge,
            (false, false) => ScanRange::Neither,
        };
        looks.push(look(self.bounds.with_neither(group.least), rest, false));
        if with_grist {
            let by_grist = self.bounds.grist_ranges(group.least).into_iter();
            looks.extend(
                by_grist.map(|(at_best, (from, to))| {
                    look(at_best, ScanRange::Grist { from, to }, true)
                }),
            );
        }
        looks
    }

    fn look(&mut self, look: &Look<'_>, with_grist: bool) -> Result<(), AppError> {
        let (reader, blends) = (self.source.reader, &look.group.blends);
        reader.scan_index(look.range, blends, |entry| {
            self.consider(&entry, with_grist.then_some(look.by_grist))
        })?;
        self.judge_pending()
    }

    /// Keeps a yarn in mind where it may have a place. Of yarns with a length per
    /// mass those are meant of which that is judged, or is not, as `by_grist` says.
    fn consider(&mut self, entry: &IndexEntry, by_grist: Option<bool>) -> Result<(), AppError> {
        if self.swatched.contains(&entry.yarn) {
            return Ok(());
        }
        let kind = self
            .kinds
            .of(entry.kind, &self.bounds, self.source.reader)?;
        if by_grist.is_some_and(|by_grist| by_grist != kind.is_comparable) {
            return Ok(());
        }
        let gauge = entry.gauge.as_ref();
        let at_best = self.bounds.at_best(&kind, entry.grist, gauge);
        if self.best.has_no_place_for(at_best) {
            return Ok(());
        }
        self.pending.push((at_best, entry.yarn));
        if self.pending.len() < self.batches.pending {
            return Ok(());
        }
        self.judge_pending()
    }

    /// Judges what may have a place, the likeliest first.
    fn judge_pending(&mut self) -> Result<(), AppError> {
        let mut pending = std::mem::take(&mut self.pending);
        pending.sort_by_key(|(at_best, id)| (at_best.order(), id.number()));
        for tied in pending.chunk_by(|(a, _), (b, _)| a == b) {
            let Some((at_best, _)) = tied.first() else {
                continue;
            };
            if self.best.has_no_place_for(*at_best) {
                break;
            }
            let ids: Vec<Id<Yarn>> = tied.iter().map(|(_, id)| *id).collect();
            self.judge_tied(*at_best, &ids)?;
        }
        Ok(())
    }

    /// Judges yarns that may all be as good, in the order of their names.
    fn judge_tied(&mut self, at_best: AtBest, ids: &[Id<Yarn>]) -> Result<(), AppError> {
        let reader = self.source.reader;
        if ids.len() > self.batches.tied {
            return self.judge_many_tied(at_best, &ids.iter().copied().collect());
        }
        let mut named = Vec::new();
        for id in ids {
            named.extend(reader.name_keys(*id)?.map(|name| (name, *id)));
        }
        named.sort_by(|(a, _), (b, _)| a.cmp(b));
        for (name, id) in named {
            if self.best.has_no_place_for_key(at_best, &name) {
                break;
            }
            self.judge(id, None)?;
        }
        Ok(())
    }

    fn judge_many_tied(
        &mut self,
        at_best: AtBest,
        ids: &HashSet<Id<Yarn>>,
    ) -> Result<(), AppError> {
        let reader = self.source.reader;
        let mut last = NameKeys::default();
        loop {
            let names = reader.name_keys_after(&last, self.batches.names)?;
            let Some((_, end)) = names.last().cloned() else {
                return Ok(());
            };
            for (id, name) in names {
                if self.best.has_no_place_for_key(at_best, &name) {
                    return Ok(());
                }
                if ids.contains(&id) {
                    self.judge(id, None)?;
                }
            }
            last = end;
        }
    }

    /// Judges a yarn; where asked for, only one with or only one without a length per
    /// mass.
    fn judge(&mut self, id: Id<Yarn>, with_grist: Option<bool>) -> Result<(), AppError> {
        let reader = self.source.reader;
        let Some(yarn) = reader.yarn_to_judge(id)? else {
            return Ok(());
        };
        let has_grist = yarn.record.facts.grist().is_some();
        if with_grist.is_some_and(|with| with != has_grist) || !(self.source.meant)(&yarn.record) {
            return Ok(());
        }
        let name = name_order(&yarn.record);
        let mut candidate = Candidate {
            facts: yarn.record.facts,
            ..Candidate::default()
        };
        if self.swatched.contains(&id) {
            let swatches = reader.swatches_of(id)?;
            candidate.swatches = swatches.into_iter().map(|kept| kept.record).collect();
        }
        let judgement = judged(self.asked, self.role, &candidate, 1);
        self.best.offer(id, name, judgement);
        self.judged += 1;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        app::{
            InputReader, QuestionRequest, Source,
            question::{own_gauge, resolve},
        },
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
            chosen(&[
                "22 sts / 10 cm",
                "24 sts / 4 in",
                "28-30 sts / 10 cm",
                "20-22 sts",
                "18-26 sts / 10 cm",
                "20-22 sts / 10 cm in garter",
            ]),
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

    fn any_question() -> impl Strategy<Value = (QuestionRequest, Option<&'static str>)> {
        let wants = select(vec![
            "DK 225 m/100 g, 100% wool, 22 sts / 10 cm, plied",
            "225 m/100 g",
            "225 m/100 g, 22 sts / 10 cm, machine wash",
            "450 m/100 g held double, 22 sts / 10 cm, cotton",
            "brushed 300 m/100 g, 70% mohair 30% silk, class 3",
            "22 sts / 10 cm, 100% wool",
            "20-24 sts / 10 cm in garter",
            "22 sts / 10 cm, 5 ply, boucle",
            "100% wool, DK",
        ]);
        let purpose = prop::option::weighted(0.2, Just("hot pad"));
        let tolerance = prop::option::of(select(&TOLERANCES[..]));
        let weight = prop::option::weighted(0.4, select(&WEIGHTS[..]));
        let own = prop::option::weighted(0.1, Just("23 sts / 10 cm"));
        let told = (wants, purpose, tolerance, weight, own);
        told.prop_map(|(wants, purpose, tolerance, weight, own)| {
            let question = QuestionRequest {
                wants: Some(wants.to_owned()),
                purpose: purpose.map(str::to_owned),
                tolerance: tolerance.map(str::to_owned),
                weights: weight.into_iter().map(str::to_owned).collect(),
                ..QuestionRequest::default()
            };
            (question, own)
        })
    }

    fn resolved(question: &QuestionRequest, own: Option<&str>) -> ResolvedQuestion {
        let asked = resolve(&mut InputReader::default(), question, None);
        let mut asked = asked.unwrap().unwrap();
        let own = own.map(|own| cells::gauge(own).unwrap().value);
        asked.own_gauge = own.map(|own| own_gauge(own, &asked.roles));
        asked
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

    fn found(
        reader: &Reader<'_>,
        asked: &ResolvedQuestion,
        top: usize,
        batches: Batches,
    ) -> Nearest {
        let source = CandidateSource {
            reader,
            from: Source::Catalogue,
            with_reserved: false,
            top,
            meant: &meant,
        };
        nearest_in(&source, asked, &asked.roles[0], batches).unwrap()
    }

    /// Every yarn judged, one after the other.
    fn by_judging_all(
        reader: &Reader<'_>,
        asked: &ResolvedQuestion,
        has_grist: bool,
        top: usize,
    ) -> Vec<(Id<Yarn>, Judgement)> {
        let mut all = Vec::new();
        let done: Result<(), AppError> = reader.yarns(|yarn| {
            if !meant(&yarn.record) {
                return Ok(());
            }
            let swatches = reader.swatches_of(yarn.id)?;
            let name = name_order(&yarn.record);
            let candidate = Candidate {
                facts: yarn.record.facts,
                swatches: swatches.into_iter().map(|kept| kept.record).collect(),
                ..Candidate::default()
            };
            if candidate.facts.grist().is_some() == has_grist {
                let judgement = judged(asked, &asked.roles[0], &candidate, 1);
                all.push(((name, yarn.id), judgement));
            }
            Ok(())
        });
        done.unwrap();
        let ranked = rank(all, |(name, _)| name.clone(), top).into_iter();
        ranked.map(|((_, id), judgement)| (id, judgement)).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]
        #[test]
        fn prop_the_answer_is_that_of_judging_every_yarn(
            yarns in prop::collection::vec(any_kept(), 0..70), (question, own) in any_question(), top in 0_usize..12,
            pending in 1_usize..90, tied in 0_usize..9, names in 1_u32..9,
        ) {
            let batches = Batches { pending, tied, names };
            let store = catalogue(&yarns);
            let reader = store.reader().unwrap();
            let asked = resolved(&question, own);
            let found = found(&reader, &asked, top, batches);
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
        let question = QuestionRequest {
            wants: Some("DK 225 m/100 g".to_owned()),
            ..QuestionRequest::default()
        };
        let asked = resolved(&question, None);
        let reader = store.reader().unwrap();
        let found = found(&reader, &asked, 3, BATCHES);
        assert_eq!(found.with_grist.len(), 3);
        assert!(found.judged < 30, "{} judged", found.judged);
    }
}
