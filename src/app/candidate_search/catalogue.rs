//! The best yarns of a catalogue of any size, found without judging them all.
//!
//! Yarns are looked at in ranges of length per mass and of gauge, the likeliest range
//! first, at the little that stands in the index; one is judged in full only where
//! that little leaves it a place among the best. The answer is that of judging every
//! yarn.

use super::{
    CandidateSource, LeftOut, Nearest,
    blend_groups::{BlendGroup, blend_groups},
    eligible::Eligible,
    scan_plan::{RangeScan, scan_plan},
    shortlist::{BATCHES, Batches, KindBounds, Shortlist},
};
use crate::{
    app::{
        AppError,
        question::{ResolvedQuestion, Role, wishes::LeftOutReason},
    },
    matching::{AtBest, Bounds, FibreLimits},
    store::{BlendFilter, IndexEntry, IndexScan, NameKeys, Reader, ScanRange},
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

pub(super) fn nearest_in(
    source: &CandidateSource<'_>,
    asked: &ResolvedQuestion,
    role: &Role,
    batches: Batches,
) -> Result<Nearest, AppError> {
    let is_measured = asked.own_gauge.is_some();
    let eligible = Eligible::of(source.reader, asked, role)?;
    let mut search = Search {
        reader: source.reader,
        bounds: Bounds::new(&role.wanted, &asked.settings, is_measured),
        kinds: KindBounds::default(),
        shortlist: Shortlist::new((source, asked, role), eligible.as_ref(), batches)?,
        eligible: eligible.as_ref(),
        batches,
    };
    let groups = blend_groups(source.reader, &search.bounds, &asked.settings.limits)?;
    search.scan_all(true, &groups)?;
    let with_grist = search.shortlist.take_in_order();
    search.scan_all(false, &groups)?;
    let without_grist = search.shortlist.take_in_order();
    let (judged, mut too_dear) = search.shortlist.judged();
    let told = match eligible {
        Some(eligible) => eligible.left_out,
        None => left_out(source.reader, &asked.settings.limits)?,
    };
    too_dear.add_all(told);
    Ok(Nearest {
        with_grist,
        without_grist,
        judged,
        left_out: too_dear,
    })
}

/// How many yarns the limits leave out, by reason.
pub(super) fn left_out(reader: &Reader<'_>, limits: &FibreLimits) -> Result<LeftOut, AppError> {
    let mut left_out = LeftOut::default();
    if !limits.is_empty() {
        for (blend, yarns) in reader.count_by_blend()? {
            let why = limits.exclusion(blend.as_ref());
            left_out.add(why.map(LeftOutReason::Fibre), yarns);
        }
    }
    Ok(left_out)
}

struct Search<'a> {
    reader: &'a Reader<'a>,
    bounds: Bounds<'a>,
    kinds: KindBounds,
    shortlist: Shortlist<'a>,
    eligible: Option<&'a Eligible>,
    batches: Batches,
}

/// So many times names are read before all yarns are scanned after all: together a
/// small part of the time of a scan of a million yarns.
const LOOKS_BY_NAME: usize = 16;

impl Search<'_> {
    /// Judges the yarns with swatches, of which the index tells too little; then the
    /// others, the likeliest ranges first.
    fn scan_all(&mut self, with_grist: bool, groups: &[BlendGroup]) -> Result<(), AppError> {
        let eligible = self.eligible;
        if let Some(few) = eligible.and_then(|it| it.few(self.batches.few, with_grist)) {
            return self.shortlist.judge_all(few);
        }
        self.shortlist.judge_swatched(with_grist)?;
        if self.reader.has_at_most(self.batches.few, with_grist)? {
            return self.scan_whole(with_grist);
        }
        let scans = scan_plan(&self.bounds, with_grist, groups);
        let whole = scans.first().filter(|scan| scan.range.is_whole());
        if let Some(best) = whole.map(|scan| scan.at_best)
            && self.fill_by_name(best, with_grist)?
        {
            return Ok(());
        }
        for alike in scans.chunk_by(|a, b| a.at_best == b.at_best) {
            let has_no_place = |scan: &RangeScan<'_>| self.shortlist.has_no_place_for(scan.at_best);
            if alike.first().is_some_and(has_no_place) {
                break;
            }
            for scan in alike {
                self.scan(scan, with_grist)?;
                // Those of several ranges that are as good are best judged together, once
                // it is known what they have to beat.
                if self.shortlist.worst().is_none() {
                    self.shortlist.judge_pending()?;
                }
            }
            self.shortlist.judge_pending()?;
        }
        Ok(())
    }

    fn scan_whole(&mut self, with_grist: bool) -> Result<(), AppError> {
        let index_scan = IndexScan {
            range: ScanRange::whole(with_grist),
            blends: &BlendFilter::Any,
            reaching: None,
            with_gauge: self.bounds.look_at_gauge(),
        };
        let reader = self.reader;
        reader.scan_index(&index_scan, |entry| self.consider(&entry, None))?;
        self.shortlist.judge_pending()
    }

    /// Where neither length per mass nor gauge tells yarns apart, there may be many that
    /// do as well as any; judges the first of them in the order of names. Whether they
    /// leave no place to others.
    fn fill_by_name(&mut self, best: AtBest, with_grist: bool) -> Result<bool, AppError> {
        let mut last = NameKeys::default();
        for _ in 0..LOOKS_BY_NAME {
            let entries = self.reader.index_entries_after(&last, self.batches.names)?;
            for (name, entry) in entries {
                if self.shortlist.has_no_place_for_name(best, &name) {
                    return Ok(true);
                }
                if entry.grist.is_some() == with_grist {
                    self.judge_if_best(best, &entry)?;
                }
                last = name;
            }
        }
        Ok(false)
    }

    fn judge_if_best(&mut self, best: AtBest, entry: &IndexEntry) -> Result<(), AppError> {
        let kind = self.kinds.of(entry.kind, &self.bounds, self.reader)?;
        let gauge = entry.gauge.as_ref();
        let at_best = self.bounds.at_best(&kind, entry.grist, gauge);
        if at_best.order() > best.order() || self.shortlist.is_out_of_question(entry.yarn) {
            return Ok(());
        }
        self.shortlist.judge_by_name(entry.yarn)
    }

    fn scan(&mut self, scan: &RangeScan<'_>, with_grist: bool) -> Result<(), AppError> {
        let reader = self.reader;
        let index_scan = IndexScan {
            range: scan.range,
            blends: &scan.group.blends,
            reaching: self
                .shortlist
                .worst()
                .and_then(|worst| self.bounds.least_reach(worst, scan.group.least)),
            with_gauge: self.bounds.look_at_gauge(),
        };
        reader.scan_index(&index_scan, |entry| {
            self.consider(&entry, with_grist.then_some(scan.by_grist))
        })
    }

    /// Keeps a yarn in mind where it may have a place. Of yarns with a length per
    /// mass those are meant of which that is judged, or is not, as `by_grist` says.
    fn consider(&mut self, entry: &IndexEntry, by_grist: Option<bool>) -> Result<(), AppError> {
        if self.shortlist.is_out_of_question(entry.yarn) {
            return Ok(());
        }
        let kind = self.kinds.of(entry.kind, &self.bounds, self.reader)?;
        if by_grist.is_some_and(|by_grist| by_grist != kind.is_comparable) {
            return Ok(());
        }
        let gauge = entry.gauge.as_ref();
        let at_best = self.bounds.at_best(&kind, entry.grist, gauge);
        if self.shortlist.has_no_place_for(at_best) {
            return Ok(());
        }
        self.shortlist.add(at_best, entry.yarn)
    }
}

#[cfg(test)]
mod tests {
    use super::{
        super::{exclusion, tie_order},
        *,
    };
    use crate::{
        app::{
            FibresRequest, InputReader, PatternRequest, QuestionRequest, Source, StashRequest,
            TermsRequest, WishesRequest,
            question::{
                amounts::purchases,
                answer::{best_plan, judged},
                candidate::Candidate,
                own_gauge, resolve,
            },
        },
        label::cells,
        matching::{Judgement, rank},
        measure::{Length, Mass},
        record::{Id, Name, Printed, Swatch, Yarn, YarnFacts},
        store::Store,
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
            chosen(&["5 EUR", "4.20 EUR/50 g", "19 EUR", "6 GBP"]),
        );
        (told, more, swatches).prop_map(
            |((metres, fibre, built), (class, gauge, care, price), swatches)| {
                let facts = YarnFacts {
                    length: metres.map(|m| Printed::new("", Length::metres(m).unwrap())),
                    mass: Some(Printed::new("", Mass::grams(100.0).unwrap())),
                    blend: fibre.map(|text| printed(text, cells::blend)),
                    construction: built
                        .map(|text| Printed::new(text, cells::construction(text).unwrap().value.0)),
                    class: class.map(|text| printed(text, cells::class)),
                    gauge: gauge.map(|text| printed(text, cells::gauge)),
                    care: care.map(|text| printed(text, cells::care)),
                    price: price.map(|text| printed(text, cells::price)),
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
            "DK 225 m/100 g, no wool, 22 sts / 10 cm",
        ]);
        let purpose = prop::option::weighted(0.2, Just("hot pad"));
        let tolerance = prop::option::of(select(&TOLERANCES[..]));
        let weight = prop::option::weighted(0.4, select(&WEIGHTS[..]));
        let own = prop::option::weighted(0.1, Just("23 sts / 10 cm"));
        let without = prop::option::weighted(0.2, select(vec!["wool", "animal, nylon"]));
        let only = prop::option::weighted(0.1, select(vec!["cotton", "plant or animal"]));
        let most = prop::option::weighted(0.3, select(vec!["40 EUR", "95 EUR", "400 EUR"]));
        let shade = prop::option::weighted(0.2, select(vec!["moss", "dark", "moss dark"]));
        let limits = (without, only, most, shade);
        let told = (wants, purpose, tolerance, weight, own, limits);
        told.prop_map(|(wants, purpose, tolerance, weight, own, limits)| {
            let (without, only, most, shade) = limits;
            let question = QuestionRequest {
                of: PatternRequest {
                    wants: Some(wants.to_owned()),
                    need: Some("900 m".to_owned()),
                    ..PatternRequest::default()
                },
                purpose: purpose.map(str::to_owned),
                terms: TermsRequest {
                    tolerance: tolerance.map(str::to_owned),
                    ..TermsRequest::default()
                },
                weights: weight.into_iter().map(str::to_owned).collect(),
                fibres: FibresRequest {
                    without: without.into_iter().map(str::to_owned).collect(),
                    only: only.into_iter().map(str::to_owned).collect(),
                },
                wishes: WishesRequest {
                    max_cost: most.map(str::to_owned),
                    stash: StashRequest {
                        shade: shade.map(str::to_owned),
                        ..StashRequest::default()
                    },
                    ..WishesRequest::default()
                },
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
                    more_gtins: Vec::new(),
                    low: None,
                    shades: match number % 4 {
                        0 => vec!["Moss".to_owned()],
                        1 => vec!["Ash".to_owned(), "Dark moss".to_owned()],
                        _ => Vec::new(),
                    },
                    discontinued: number % 3 == 0,
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
                            held_with: Vec::new(),
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
            let limits = &asked.settings.limits;
            if !meant(&yarn.record) || exclusion(limits, &yarn.record).is_some() {
                return Ok(());
            }
            let mut shades = yarn.record.shades.iter();
            if !shades.any(|name| asked.wishes.is_shade_meant(name, None))
                && asked.wishes.shade.is_some()
            {
                return Ok(());
            }
            let swatches = reader.swatches_of(yarn.id)?;
            let order = tie_order(&yarn.record);
            let candidate = Candidate {
                facts: yarn.record.facts,
                swatches: swatches.into_iter().map(|kept| kept.record).collect(),
                ..Candidate::default()
            };
            if candidate.facts.grist().is_some() == has_grist {
                let role = &asked.roles[0];
                let judgement = judged(asked, role, &candidate, 1);
                let plan = best_plan(&judgement, 1);
                let skeins = purchases(asked, role, &candidate, plan)?;
                if asked
                    .wishes
                    .unmet_cost(candidate.price(), &skeins)
                    .is_some()
                {
                    return Ok(());
                }
                all.push(((order, yarn.id), judgement));
            }
            Ok(())
        });
        done.unwrap();
        let ranked = rank(all, |(order, _)| order.clone(), top).into_iter();
        ranked.map(|((_, id), judgement)| (id, judgement)).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]
        #[test]
        fn prop_the_answer_is_that_of_judging_every_yarn(
            yarns in prop::collection::vec(any_kept(), 0..70), (question, own) in any_question(), top in 0_usize..12,
            pending in 1_usize..90, tied in 0_usize..9, names in 1_u32..9, few in 0_u32..40,
        ) {
            let batches = Batches { pending, tied, names, few };
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
        let mut question = QuestionRequest::default();
        question.of.wants = Some("DK 225 m/100 g".to_owned());
        let asked = resolved(&question, None);
        let reader = store.reader().unwrap();
        let found = found(&reader, &asked, 3, BATCHES);
        assert_eq!(found.with_grist.len(), 3);
        assert!(found.judged < 30, "{} judged", found.judged);
    }
}
