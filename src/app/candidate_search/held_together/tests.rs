//! That the best strands are those of judging all.

use super::*;
use crate::{
    app::{
        InputReader, PatternRequest, QuestionRequest, StashRequest, WishesRequest,
        question::resolve,
    },
    files::pattern_file::read_typed_pattern,
    label::cells,
    measure::{Length, Mass},
    record::{Entry, EntryKind, Lot, Name, Printed, StockAmount, Swatch, YarnFacts},
    store::{Reader, Store},
};
use proptest::{prelude::*, sample::select, strategy::ValueTree};
use std::collections::BTreeMap;

const FIBRES: [&str; 6] = [
    "wool",
    "cotton",
    "silk",
    "75% wool 25% nylon",
    "70% mohair 30% silk",
    "60% wool 40% unknown fibre",
];
const BUILT: [&str; 5] = ["plied", "single", "brushed", "chainette", "boucle"];

fn printed<T>(text: &str, read: fn(&str) -> cells::Cell<T>) -> Printed<T> {
    Printed::new(text, read(text).unwrap().value)
}

fn chosen(texts: &'static [&'static str]) -> impl Strategy<Value = Option<&'static str>> {
    prop::option::weighted(0.8, select(texts))
}

/// A yarn of a catalogue in which many are alike, so that there are ties, and how many
/// balls of it are there.
fn any_kept() -> impl Strategy<Value = (YarnFacts, u8)> {
    let near = select(vec![225.0, 400.0, 450.0, 480.0, 600.0, 675.0, 840.0, 900.0]);
    let metres = prop_oneof![3 => near, 1 => (80.0..1200.0_f64).prop_map(f64::round)];
    let told = (
        prop::option::weighted(0.9, metres),
        chosen(&FIBRES),
        chosen(&BUILT),
        chosen(&["machine wash", "hand wash", "dry clean"]),
        chosen(&["5 EUR", "4.20 EUR/50 g", "19 EUR", "6 GBP"]),
        0_u8..8,
    );
    told.prop_map(|(metres, fibre, built, care, price, balls)| {
        let facts = YarnFacts {
            length: metres.map(|m| Printed::new("", Length::metres(m).unwrap())),
            mass: Some(Printed::new("", Mass::grams(100.0).unwrap())),
            blend: fibre.map(|text| printed(text, cells::blend)),
            construction: built
                .map(|text| Printed::new(text, cells::construction(text).unwrap().value.0)),
            care: care.map(|text| printed(text, cells::care)),
            price: price.map(|text| printed(text, cells::price)),
            ..YarnFacts::default()
        };
        (facts, balls)
    })
}

fn any_question() -> impl Strategy<Value = QuestionRequest> {
    let wants = select(vec![
        "DK 225 m/100 g, 100% wool, 22 sts / 10 cm, plied",
        "225 m/100 g",
        "225 m/100 g, 22 sts / 10 cm, machine wash",
        "240 m/100 g, 75% wool 25% cotton, 22 sts / 10 cm",
        "brushed 300 m/100 g, 70% mohair 30% silk, class 3",
        "boucle 300 m/100 g, 22 sts / 10 cm, no wool",
        "450 m/100 g held double, 22 sts / 10 cm, cotton, hand wash",
    ]);
    let purpose = prop::option::weighted(
        0.3,
        select(vec!["hot pad", "socks", "baby", "felted", "dishcloth"]),
    );
    let most = prop::option::weighted(0.3, select(vec!["40 EUR", "95 EUR"]));
    let weight = prop::option::weighted(0.3, select(vec!["gauge=0", "fibre=9", "construction=0"]));
    let told = (wants, purpose, most, weight, any::<bool>());
    told.prop_map(|(wants, purpose, most, weight, enough)| QuestionRequest {
        of: PatternRequest {
            wants: Some(wants.to_owned()),
            need: Some("900 m".to_owned()),
            ..PatternRequest::default()
        },
        purpose: purpose.map(str::to_owned),
        weights: weight.into_iter().map(str::to_owned).collect(),
        wishes: WishesRequest {
            max_cost: most.map(str::to_owned),
            enough,
            stash: StashRequest::default(),
            ..WishesRequest::default()
        },
        ..QuestionRequest::default()
    })
}

/// A swatch of two or three of the yarns, by their places, or of several strands of one.
#[derive(Debug, Clone)]
struct Held {
    yarns: Vec<usize>,
    strands: Option<u8>,
    stitches: f64,
}

fn any_held() -> impl Strategy<Value = Held> {
    let stitches = prop_oneof![3 => Just(22.0), 1 => (15.0..30.0_f64).prop_map(f64::round)];
    let yarns = prop_oneof![
        4 => prop::collection::vec(0..40_usize, 2..4),
        1 => prop::collection::vec(0..40_usize, 1..2),
    ];
    (yarns, 2..4_u8, stitches).prop_map(|(yarns, strands, stitches)| Held {
        strands: (yarns.len() == 1).then_some(strands),
        yarns,
        stitches,
    })
}

fn any_swatches() -> impl Strategy<Value = Vec<Held>> {
    prop_oneof![1 => Just(Vec::new()), 2 => prop::collection::vec(any_held(), 0..8)]
}

fn add_swatches(store: &mut Store, count: usize, swatches: &[Held]) {
    let yarn = |place: usize| Id::new(i64::try_from(place % count + 1).unwrap());
    for held in swatches.iter().filter(|_| count > 0) {
        let strands = held
            .strands
            .map_or_else(String::new, |n| format!(", {n} strands"));
        let text = format!("{} sts / 10 cm{strands}", held.stitches);
        let before = cells::gauge(&text).unwrap().value;
        let after = (held.strands.is_none()).then(|| cells::gauge(&text).unwrap().value);
        let needle = cells::needle("4 mm").unwrap().value;
        let swatch = Swatch::measured(needle, Some(before), after).unwrap();
        let swatch = Swatch {
            measured_on: "2026-03-01".to_owned(),
            ..swatch
        };
        let mut yarns = held.yarns.iter().map(|place| yarn(*place));
        let first = yarns.next().unwrap();
        let swatch = swatch.held_with(yarns.collect()).unwrap();
        store.write(|w| w.add_swatch(first, &swatch)).unwrap();
    }
}

fn kept(yarns: &[(YarnFacts, u8)], swatches: &[Held]) -> Store {
    let mut store = kept_yarns(yarns);
    add_swatches(&mut store, yarns.len(), swatches);
    store
}

fn kept_yarns(yarns: &[(YarnFacts, u8)]) -> Store {
    let mut store = Store::in_memory().unwrap();
    let done: Result<(), AppError> = store.write(|writer| {
        for (number, (facts, balls)) in yarns.iter().enumerate() {
            let id = writer.add_yarn(&Yarn {
                maker: Name::new("maker", "Quay").unwrap(),
                name: Name::new("name", &format!("Dune {}", number * 7 % 31 + 100 * number))
                    .unwrap(),
                facts: facts.clone(),
                gtin: None,
                shades: Vec::new(),
                discontinued: number % 3 == 0,
                low: None,
                more_gtins: Vec::new(),
                notes: String::new(),
            })?;
            if *balls > 0 {
                let opening = opening(f64::from(*balls));
                writer.add_lot(id, &lot(), &opening)?;
            }
        }
        Ok(())
    });
    done.unwrap();
    store
}

fn lot() -> Lot {
    Lot {
        shade: String::new(),
        colour: None,
        lot: None,
        place: String::new(),
        weighed: None,
        price: None,
        notes: String::new(),
    }
}

fn opening(skeins: f64) -> Entry {
    Entry {
        kind: EntryKind::Bought,
        amount: Printed::new("", StockAmount::new(skeins, None).unwrap()),
        on: "2026-01-02".to_owned(),
        notes: String::new(),
    }
}

fn resolved(question: &QuestionRequest) -> ResolvedQuestion {
    let asked = resolve(&mut InputReader::default(), question, None);
    asked.unwrap().unwrap()
}

fn source<'a>(reader: &'a Reader<'a>, from: Source, top: usize) -> CandidateSource<'a> {
    CandidateSource {
        reader,
        from,
        with_reserved: false,
        top,
        meant: &|_| true,
    }
}

/// Every way to take `count` of these, in whatever order, one more than once too.
fn ways(ids: &[Id<Yarn>], count: usize) -> Vec<Vec<Id<Yarn>>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let each = ids.iter().enumerate().flat_map(|(place, id)| {
        let rest = ways(&ids[place..], count - 1).into_iter();
        rest.map(move |rest| [vec![*id], rest].concat())
    });
    each.collect()
}

/// Every strand judged, one after the other, without a look at any bound.
fn by_judging_all(
    source: &CandidateSource<'_>,
    question: StrandQuestion<'_>,
) -> Vec<(Vec<Id<Yarn>>, Judgement)> {
    let (asked, role) = (question.asked, question.role);
    let is_of_stash = source.from == Source::Stash || asked.wishes.is_of_stash();
    let mut read = BTreeMap::new();
    let done: Result<(), AppError> = source.reader.yarns(|yarn| {
        let candidate = source.candidate(asked, yarn.id)?;
        let is_out = asked.settings.limits.exclusion(blend(&candidate)).is_some();
        if !is_out
            && candidate.facts.grist().is_some()
            && !(is_of_stash && candidate.lots.is_empty())
        {
            read.insert(yarn.id.number(), (candidate, tie_order(&yarn.record)));
        }
        Ok(())
    });
    done.unwrap();
    let ids: Vec<Id<Yarn>> = read.keys().map(|number| Id::new(*number)).collect();
    let mut best = Best::new(source.top);
    for mut ids in ways(&ids, question.count) {
        ids.sort_by_key(|id| read[&id.number()].1.1.clone());
        let ends: Vec<&ReadYarn> = ids.iter().map(|id| &read[&id.number()]).collect();
        let strand = Candidate::held_together(ends.iter().map(|end| end.0.clone()).collect());
        let judgement = judged(asked, role, &strand, 1);
        let plan = best_plan(&judgement, 1);
        let answer = crate::app::CandidateAnswer::new(
            asked,
            role,
            strand,
            (judgement.clone(), plan),
            question.allotted,
        )
        .unwrap();
        let wishes = &asked.wishes;
        let mut each = answer.ends.iter();
        if each.any(|it| {
            wishes
                .unmet_amount(&it.candidate, &it.skeins, &it.cover)
                .is_some()
        }) {
            continue;
        }
        let bought: Vec<_> = answer
            .ends
            .iter()
            .map(|it| (&it.candidate, it.skeins.clone()))
            .collect();
        if wishes.unmet_cost_of_each(&bought).is_some() {
            continue;
        }
        let covers = source.from == Source::Catalogue || !answer.is_short();
        let key = (
            ends.iter().any(|end| end.1.0),
            ends.iter().map(|end| end.1.1.clone()).collect::<Vec<_>>(),
        );
        best.offer_of_stock(ids, key, judgement, covers);
    }
    best.in_order()
}

fn blend(candidate: &Candidate) -> Option<&crate::record::Blend> {
    candidate.facts.blend.as_ref().map(|printed| &printed.value)
}

/// Names and what the order rests on: all else of a judgement follows from them.
fn told(best: &[(Vec<Id<Yarn>>, Judgement)]) -> Vec<(Vec<i64>, crate::matching::Verdict, f64)> {
    let told = best.iter().map(|(ids, judgement)| {
        let ids = ids.iter().map(|id| id.number()).collect();
        (ids, judgement.verdict, judgement.for_ranking)
    });
    told.collect()
}

fn is_same(
    store: &Store,
    question: &QuestionRequest,
    (from, count, top): (Source, usize, usize),
) -> Result<(), TestCaseError> {
    let reader = store.reader().unwrap();
    let asked = resolved(question);
    let source = source(&reader, from, top);
    let allotted = Allotted::default();
    let question = StrandQuestion {
        asked: &asked,
        role: &asked.roles[0],
        allotted: &allotted,
        count,
    };
    let found = source.best_strands(question).unwrap();
    prop_assert_eq!(told(&found.best), told(&by_judging_all(&source, question)));
    Ok(())
}

const SOCK: &str =
    "put_up = \"420 m / 100 g\"\nfibre = \"75% wool, 25% nylon\"\nconstruction = \"plied\"";
const MOHAIR: &str =
    "put_up = \"420 m / 50 g\"\nfibre = \"70% mohair, 30% silk\"\nconstruction = \"brushed\"";

fn ids(reader: &Reader<'_>) -> Vec<Id<Yarn>> {
    let mut ids = Vec::new();
    let done: Result<(), AppError> = reader.yarns(|yarn| {
        ids.push(yarn.id);
        Ok(())
    });
    done.unwrap();
    ids
}

/// The same of single yarns.
fn each(best: Vec<(Id<Yarn>, Judgement)>) -> Vec<(Vec<i64>, crate::matching::Verdict, f64)> {
    let best = best
        .into_iter()
        .map(|(id, judgement)| (vec![id], judgement));
    told(&best.collect::<Vec<_>>())
}

/// A pattern that holds two yarns together, the second perhaps in two strands.
fn pattern_of_two(yarns: [&str; 2], strands: u8) -> crate::record::Pattern {
    let [first, second] = yarns;
    let text = format!(
        "pattern = \"P\"\npurpose = \"garment\"\nfit = \"relaxed\"\ngauge = \"20 sts / 10 cm\"\n\
         [[size]]\nname = \"M\"\n\
         [[yarn]]\nkey = \"A\"\n{first}\nneeds = \"300 m\"\n\
         [[yarn]]\nkey = \"B\"\n{second}\nheld_with = \"A\"\nstrands = {strands}\nneeds = \"320 m\"\n"
    );
    read_typed_pattern(&text).unwrap().pattern
}

/// Every yarn judged in place of the second of the two, without a look at any bound.
fn beside_by_judging_all(
    source: &CandidateSource<'_>,
    question: StrandQuestion<'_>,
    beside: &Beside,
) -> Vec<(Id<Yarn>, Judgement)> {
    let (asked, role) = (question.asked, question.role);
    let mut best = Best::new(source.top);
    for id in ids(source.reader) {
        let kept = source.reader.yarn(id).unwrap();
        let candidate = source.candidate(asked, id).unwrap();
        let is_out = asked.settings.limits.exclusion(blend(&candidate)).is_some();
        let is_there = source.from == Source::Catalogue || !candidate.lots.is_empty();
        if is_out || candidate.facts.grist().is_none() || !is_there {
            continue;
        }
        let judgement = judged(asked, role, &beside.strand(candidate), 1);
        let answer = source.answer_beside(question, beside, (id, judgement.clone()));
        let covers = source.from == Source::Catalogue || !answer.unwrap().is_short();
        let (is_gone, name) = tie_order(&kept.record);
        best.offer_of_stock(id, (is_gone, vec![name]), judgement, covers);
    }
    best.in_order()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn prop_the_best_beside_a_yarn_are_those_of_judging_all(
        yarns in prop::collection::vec(any_kept(), 0..40), swatches in any_swatches(), strands in 1..3_u8,
        second in select(&[MOHAIR,
            "put_up = \"300 m / 50 g\"\nfibre = \"100% wool\"", "class = \"DK\""][..]),
        top in 1_usize..12, of_stash in any::<bool>(),
    ) {
        let store = kept(&yarns, &swatches);
        let pattern = pattern_of_two([SOCK, second], strands);
        let mut question = QuestionRequest::about("P");
        question.of.role = Some("B".to_owned());
        let asked = resolve(&mut InputReader::default(), &question, Some(&pattern)).unwrap().unwrap();
        let reader = store.reader().unwrap();
        let from = if of_stash { Source::Stash } else { Source::Catalogue };
        let source = source(&reader, from, top);
        let role = &asked.roles[0];
        let Some(beside) = Beside::of((&reader, false), role).unwrap() else {
            prop_assert!(second.starts_with("class"));
            return Ok(());
        };
        let question = StrandQuestion { asked: &asked, role, allotted: &Allotted::default(), count: 1 };
        let found = source.best_beside(question, &beside).unwrap();
        prop_assert_eq!(each(found.with_grist), each(beside_by_judging_all(&source, question, &beside)));
    }

    /// What a pattern wants may be a strand itself: the bounds hold for it too.
    #[test]
    fn prop_the_best_pairs_and_yarns_for_a_strand_are_those_of_judging_all(
        yarns in prop::collection::vec(any_kept(), 0..40), swatches in any_swatches(), strands in 1..3_u8,
        top in 1_usize..12,
    ) {
        let store = kept(&yarns, &swatches);
        let pattern = pattern_of_two([SOCK, MOHAIR], strands);
        let question = QuestionRequest::about("P");
        let asked = resolve(&mut InputReader::default(), &question, Some(&pattern)).unwrap().unwrap();
        let reader = store.reader().unwrap();
        let source = source(&reader, Source::Catalogue, top);
        let (role, allotted) = (&asked.roles[0], Allotted::default());
        let question = StrandQuestion { asked: &asked, role, allotted: &allotted, count: 2 };
        let found = source.best_strands(question).unwrap();
        prop_assert_eq!(told(&found.best), told(&by_judging_all(&source, question)));
        let mut best = Best::new(top);
        for id in ids(&reader) {
            let candidate = source.candidate(&asked, id).unwrap();
            if candidate.facts.grist().is_some() {
                let key = tie_order(&reader.yarn(id).unwrap().record);
                best.offer_of_stock(id, key, judged(&asked, role, &candidate, 1), true);
            }
        }
        let found = source.best(&asked, role, &allotted).unwrap();
        prop_assert_eq!(each(found.with_grist), each(best.in_order()));
    }

    #[test]
    fn prop_the_best_pairs_are_those_of_judging_all(
        yarns in prop::collection::vec(any_kept(), 0..40), swatches in any_swatches(), question in any_question(), top in 1_usize..12, of_stash in any::<bool>(),
    ) {
        let from = if of_stash { Source::Stash } else { Source::Catalogue };
        is_same(&kept(&yarns, &swatches), &question, (from, 2, top))?;
    }

    #[test]
    fn prop_the_best_threes_of_the_stash_are_those_of_judging_all(
        yarns in prop::collection::vec(any_kept(), 0..12), swatches in any_swatches(), question in any_question(), top in 1_usize..9,
    ) {
        is_same(&kept(&yarns, &swatches), &question, (Source::Stash, 3, top))?;
    }
}

/// 200 yarns make 20,100 pairs, those of one yarn with itself too.
#[test]
fn pairs_of_some_hundred_yarns_are_those_of_judging_all() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let yarns = prop::collection::vec(any_kept(), 200..201)
        .new_tree(&mut runner)
        .unwrap()
        .current();
    let swatches = prop::collection::vec(any_held(), 20).new_tree(&mut runner);
    let swatches = swatches.unwrap().current();
    let question = any_question().new_tree(&mut runner).unwrap().current();
    is_same(
        &kept(&yarns, &swatches),
        &question,
        (Source::Catalogue, 2, 10),
    )
    .unwrap();
}

fn yarn(put_up: f64, fibre: &str, built: &str) -> (YarnFacts, u8) {
    let facts = YarnFacts {
        length: Some(Printed::new("", Length::metres(put_up).unwrap())),
        mass: Some(Printed::new("", Mass::grams(100.0).unwrap())),
        blend: Some(printed(fibre, cells::blend)),
        construction: Some(Printed::new(
            built,
            cells::construction(built).unwrap().value.0,
        )),
        ..YarnFacts::default()
    };
    (facts, 0)
}

/// Alone too little is known of the brushed yarn to tell how dense it is; beside cotton
/// four fifths are known, and the pair counts as denser than its length alone says.
#[test]
fn fibres_too_little_known_alone_tell_beside_others() {
    let cotton = |metres| yarn(metres, "cotton", "plied");
    let unknown = "60% wool 40% unknown fibre";
    let yarns = [
        cotton(480.0),
        yarn(225.0, unknown, "plied"),
        cotton(400.0),
        yarn(450.0, unknown, "brushed"),
        cotton(400.0),
    ];
    let store = kept(&yarns, &[]);
    let pattern = pattern_of_two([SOCK, MOHAIR], 1);
    let question = QuestionRequest::about("P");
    let asked = resolve(&mut InputReader::default(), &question, Some(&pattern))
        .unwrap()
        .unwrap();
    let reader = store.reader().unwrap();
    for top in 1..8 {
        let source = source(&reader, Source::Catalogue, top);
        let question = StrandQuestion {
            asked: &asked,
            role: &asked.roles[0],
            allotted: &Allotted::default(),
            count: 2,
        };
        let found = source.best_strands(question).unwrap();
        assert_eq!(
            told(&found.best),
            told(&by_judging_all(&source, question)),
            "the best {top}"
        );
    }
}
