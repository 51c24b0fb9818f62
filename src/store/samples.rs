//! Invented records for the store's tests, full and almost empty, and
//! generators of any that can be made.

use super::Store;
use crate::{
    measure::{
        Gauge, Grist, GristTolerance, Interval, Length, Mass, Money, NeedleSize, Over, Ratio,
        YarnCount, units::COUNT_SYSTEMS,
    },
    record::*,
    trade::{Construction, FIBRES, Gtin, WeightClass, fibre},
};
use iso_currency::Currency;
use proptest::{option::of, prelude::*, sample::select};
use rust_decimal::Decimal;

pub(super) fn name(text: &str) -> Name {
    Name::new("a name", text).unwrap()
}

pub(super) fn metres(m: f64) -> Length {
    Length::metres(m).unwrap()
}

pub(super) fn grams(g: f64) -> Mass {
    Mass::grams(g).unwrap()
}

pub(super) fn bare(maker: &str, title: &str) -> Yarn {
    Yarn {
        maker: name(maker),
        name: name(title),
        facts: YarnFacts::default(),
        gtin: None,
        more_gtins: Vec::new(),
        low: None,
        shades: Vec::new(),
        discontinued: false,
        notes: String::new(),
    }
}

pub(super) fn put_up(maker: &str, title: &str, length: f64, mass: f64) -> Yarn {
    let mut yarn = bare(maker, title);
    yarn.facts.length = Some(Printed::new(format!("{length} m"), metres(length)));
    yarn.facts.mass = Some(Printed::new(format!("{mass} g"), grams(mass)));
    yarn
}

fn gauge() -> StatedGauge {
    let over = Over::inches(4.0).unwrap();
    let stitches = Interval::between(20.0, 22.0).unwrap();
    StatedGauge {
        gauge: Gauge::new(stitches, Some(Interval::one(30.0)), Some(over)).unwrap(),
        stitch: Some(Stitch::Other("garter".to_owned())),
        worked: Some(FlatOrRound::InTheRound),
        washed: Some(true),
        strands: Some(2),
    }
}

fn price() -> Price {
    Price {
        money: Money {
            amount: Decimal::new(1295, 2),
            currency: Currency::EUR,
        },
        per: PriceBasis::Mass(grams(50.0)),
    }
}

/// Every field filled.
pub(super) fn full() -> Yarn {
    let mut yarn = put_up("Köhler & Töchter", "Ferry Lane", 125.0, 50.0);
    let blend = vec![
        BlendPart {
            fibre: FibreName::Known(fibre("wool").unwrap()),
            percent: 75.0,
        },
        BlendPart {
            fibre: FibreName::Other("other \"fibres\"\n".to_owned()),
            percent: 100.0 / 3.0 - 8.0,
        },
    ];
    let classes = [2, 3].map(|n| WeightClass::new(n).unwrap()).to_vec();
    let count = YarnCount::new(28.0, 2, COUNT_SYSTEMS[3].system).unwrap();
    let needles = [3.5, 4.0].map(|mm| NeedleSize::millimetres(mm).unwrap());
    yarn.facts.count = Some(Printed::new("Nm 28/2", count));
    yarn.facts.class = Some(Printed::new("sport", Classes::new(classes).unwrap()));
    yarn.facts.blend = Some(Printed::new("75% wool ...", Blend::new(blend).unwrap()));
    yarn.facts.construction = Some(Printed::new("plied", Construction::Plied));
    yarn.facts.plies = Some(4);
    yarn.facts.gauge = Some(Printed::new("20-22 sts", gauge()));
    let needles = Interval::between(needles[0], needles[1]).unwrap();
    yarn.facts.needles = Some(Printed::new("3,5-4", needles));
    yarn.facts.care = Some(Printed::new("by hand", Care::HandWash));
    yarn.facts.price = Some(Printed::new("12,95 EUR / 50 g", price()));
    yarn.gtin = Some(Gtin::read("4006381333931").unwrap());
    yarn.shades = vec!["Heather".to_owned(), "Ash".to_owned()];
    yarn.discontinued = true;
    yarn.notes = "soft\nand round".to_owned();
    yarn
}

pub(super) fn lot(shade: &str, number: Option<&str>) -> Lot {
    Lot {
        shade: shade.to_owned(),
        colour: None,
        lot: number.map(str::to_owned),
        place: String::new(),
        weighed: None,
        price: None,
        notes: String::new(),
    }
}

pub(super) fn full_lot() -> Lot {
    Lot {
        place: "attic".to_owned(),
        weighed: Some(Printed::new("48 g", (grams(48.0), Some(metres(120.0))))),
        price: Some(Printed::new("12,95", price())),
        notes: "gift".to_owned(),
        ..lot("Heather", Some("12"))
    }
}

pub(super) fn line(kind: EntryKind, skeins: f64, mass: f64) -> Entry {
    let amount = StockAmount::new(skeins, Some(grams(mass))).unwrap();
    Entry {
        kind,
        amount: Printed::new(format!("{skeins} + {mass} g"), amount),
        on: "2026-03-01".to_owned(),
        notes: String::new(),
    }
}

pub(super) fn swatches() -> [Swatch; 2] {
    let bare = Swatch {
        needle: NeedleSize::millimetres(4.0).unwrap(),
        before: None,
        after: None,
        measured_on: "2026-03-01".to_owned(),
        notes: String::new(),
        held_with: Vec::new(),
    };
    let full = Swatch {
        before: Some(gauge()),
        after: Some(gauge().gauge),
        notes: "grew".to_owned(),
        ..bare.clone()
    };
    [bare, full]
}

/// As little as a pattern can hold.
pub(super) fn bare_pattern(title: &str) -> Pattern {
    let need = Need::Length(Interval::one(metres(400.0)));
    Pattern {
        name: name(title),
        purpose: Purpose::Garment,
        fit: Fit::Relaxed,
        gauge: None,
        multiple: None,
        care: None,
        tolerance: None,
        margin_included: None,
        sizes: vec![Size {
            name: name("one size"),
            width: None,
            height: None,
            cast_on: None,
            rows: None,
        }],
        yarns: vec![PatternYarn {
            key: name("A"),
            called: None,
            reference: YarnFacts::default(),
            strands: 1,
            held_with: None,
            needs: vec![Printed::new("400 m", need)],
        }],
        notes: String::new(),
    }
}

/// Every field filled, every kind of need.
pub(super) fn full_pattern(title: &str) -> Pattern {
    let sizes = ["S", "M", "L"].map(|size| Size {
        name: name(size),
        width: Some(Printed::new("40 in", metres(1.016))),
        height: Some(Printed::new("60 cm", metres(0.6))),
        cast_on: Some(200),
        rows: Some(180),
    });
    let needs = vec![
        Printed::new("300 g", Need::Mass(Interval::one(grams(300.0)))),
        Printed::new(
            "8.5 balls",
            Need::Skeins {
                count: 8.5,
                skein: metres(200.0),
            },
        ),
        Printed::new(
            "900-1000 m",
            Need::Length(Interval::between(metres(900.0), metres(1000.0)).unwrap()),
        ),
    ];
    let role = |key: &str, facts: YarnFacts| PatternYarn {
        key: name(key),
        called: Some("Maker, Yarn".to_owned()),
        reference: facts,
        strands: 2,
        held_with: (key != "MC").then(|| name("mc")),
        needs: needs.clone(),
    };
    let multiple = Multiple {
        stitches: 8,
        plus: 1,
    };
    let share = GristTolerance::Share(Ratio::percent(10.0).unwrap());
    Pattern {
        purpose: Purpose::ChildNightwear,
        fit: Fit::Fitted,
        gauge: Some(Printed::new("20-22 sts over 4 in", gauge())),
        multiple: Some(Printed::new("8 + 1", multiple)),
        care: Some(Printed::new("machine", Care::MachineWash)),
        tolerance: Some(Printed::new("10 %", share)),
        margin_included: Some(true),
        sizes: sizes.to_vec(),
        yarns: vec![role("MC", full().facts), role("CC", YarnFacts::default())],
        notes: "with pockets".to_owned(),
        ..bare_pattern(title)
    }
}

fn printed<T: std::fmt::Debug>(
    value: impl Strategy<Value = T>,
) -> impl Strategy<Value = Option<Printed<T>>> {
    of((any::<String>(), value).prop_map(|(text, value)| Printed { text, value }))
}

fn any_range(least: f64, most: f64) -> impl Strategy<Value = Interval<f64>> {
    let end = least..=most;
    (end.clone(), end).prop_map(|(a, b)| Interval::between(a.min(b), a.max(b)).unwrap())
}

fn any_gauge() -> impl Strategy<Value = StatedGauge> {
    let stitch = of(any::<Option<String>>().prop_map(|other| match other {
        None => Stitch::Stockinette,
        Some(name) => Stitch::Other(name),
    }));
    let over = of((0.0001..=10.0).prop_map(|m| Over::metres(m).unwrap()));
    let counts = (any_range(0.1, 1000.0), of(any_range(0.1, 1000.0)), over)
        .prop_map(|(stitches, rows, over)| Gauge::new(stitches, rows, over).unwrap());
    let worked = of(select(vec![FlatOrRound::Flat, FlatOrRound::InTheRound]));
    let rest = (worked, any::<Option<bool>>(), of(1..=u8::MAX));
    (counts, stitch, rest).prop_map(|(gauge, stitch, (worked, washed, strands))| StatedGauge {
        gauge,
        stitch,
        worked,
        washed,
        strands,
    })
}

fn any_blend() -> impl Strategy<Value = Blend> {
    let fibre = prop_oneof![
        (0..FIBRES.len()).prop_map(|row| FibreName::Known(&FIBRES[row])),
        any::<String>().prop_map(FibreName::Other),
    ];
    proptest::collection::vec((fibre, 1.0..100.0_f64), 1..6).prop_map(|parts| {
        let sum: f64 = parts.iter().map(|(_, share)| share).sum();
        let part = |(fibre, share): (FibreName, f64)| BlendPart {
            fibre,
            percent: share / sum * 100.0,
        };
        Blend::new(parts.into_iter().map(part).collect()).unwrap()
    })
}

fn any_price() -> impl Strategy<Value = Price> {
    let amount = (any::<u64>(), 0..10_u32)
        .prop_map(|(n, scale)| Decimal::try_from_i128_with_scale(i128::from(n), scale).unwrap());
    let per = prop_oneof![
        Just(PriceBasis::Skein),
        (0.0..=1e9).prop_map(|g| PriceBasis::Mass(grams(g))),
        (0.0..=1e9).prop_map(|m| PriceBasis::Length(metres(m))),
    ];
    let currency = select(vec![Currency::EUR, Currency::GBP, Currency::JPY]);
    (amount, currency, per).prop_map(|(amount, currency, per)| Price {
        money: Money { amount, currency },
        per,
    })
}

fn any_facts() -> impl Strategy<Value = YarnFacts> {
    let count = (1.0..300.0_f64, 1..=12_u8, 0..COUNT_SYSTEMS.len())
        .prop_map(|(n, plies, row)| YarnCount::new(n, plies, COUNT_SYSTEMS[row].system).unwrap());
    let classes = proptest::collection::vec(0..=7_u8, 1..4).prop_map(|numbers| {
        let classes = numbers.into_iter().filter_map(WeightClass::new).collect();
        Classes::new(classes).unwrap()
    });
    let needles = any_range(0.5, 60.0).prop_map(|r| {
        let size = |mm| NeedleSize::millimetres(mm).unwrap();
        Interval::between(size(r.low()), size(r.high())).unwrap()
    });
    let first = (
        printed((0.0..=1e9).prop_map(metres)),
        printed((0.0..=1e9).prop_map(grams)),
        printed(count),
        printed(classes),
        printed(any_blend()),
    );
    let second = (
        printed(select(&Construction::ALL[..])),
        of(1..=u8::MAX),
        printed(any_gauge()),
        printed(needles),
        printed(select(&Care::ALL[..])),
        printed(any_price()),
    );
    (first, second).prop_map(|(first, second)| YarnFacts {
        length: first.0,
        mass: first.1,
        count: first.2,
        class: first.3,
        blend: first.4,
        construction: second.0,
        plies: second.1,
        gauge: second.2,
        needles: second.3,
        care: second.4,
        price: second.5,
        together: None,
    })
}

fn any_name() -> impl Strategy<Value = Name> {
    let names = any::<String>().prop_filter_map("no name", |text| Name::new("a name", &text).ok());
    names.boxed()
}

/// Any yarn that can be made.
pub(super) fn any_yarn() -> impl Strategy<Value = Yarn> {
    let gtin = of(select(vec!["4006381333931", "036000291452", "96385074"]))
        .prop_map(|digits| digits.map(|digits| Gtin::read(digits).unwrap()));
    let more =
        prop::sample::subsequence(vec!["5012345678900", "2900090039035"], 0..=2).prop_map(|all| {
            all.into_iter()
                .map(|digits| Gtin::read(digits).unwrap())
                .collect()
        });
    let numbers = (gtin, more, of(1_u32..=1000));
    let rest = (
        numbers,
        any::<Vec<String>>(),
        any::<bool>(),
        any::<String>(),
    );
    (any_name(), any_name(), any_facts(), rest).prop_map(|(maker, name, facts, rest)| Yarn {
        maker,
        name,
        facts,
        gtin: rest.0.0,
        more_gtins: rest.0.1,
        low: rest.0.2,
        shades: rest.1,
        discontinued: rest.2,
        notes: rest.3,
    })
}

/// Any swatch that can be made.
pub(super) fn any_swatch() -> impl Strategy<Value = Swatch> {
    let needle = (0.5..=60.0).prop_map(|mm| NeedleSize::millimetres(mm).unwrap());
    let gauges = (of(any_gauge()), of(any_gauge()));
    (needle, gauges, any::<String>()).prop_map(|(needle, (before, after), notes)| Swatch {
        needle,
        before,
        after: after.map(|after| after.gauge),
        measured_on: String::new(),
        notes,
        held_with: Vec::new(),
    })
}

fn any_need() -> impl Strategy<Value = Printed<Need>> {
    let range = || any_range(0.0, 1e6);
    let need = prop_oneof![
        range().prop_map(|r| Need::Length(r.map(metres))),
        range().prop_map(|r| Need::Mass(r.map(grams))),
        (0.0..100.0_f64, 0.0..=1e6).prop_map(|(count, skein)| Need::Skeins {
            count,
            skein: metres(skein),
        }),
    ];
    (any::<String>(), need).prop_map(|(text, need)| Printed::new(text, need))
}

/// Any pattern that can be made, of at most three sizes and three yarns.
pub(super) fn any_pattern() -> impl Strategy<Value = Pattern> {
    let size = (of(any::<u32>()), printed((0.0..=1e9).prop_map(metres)));
    let sizes = proptest::collection::vec(size, 1..=3);
    let needs = proptest::collection::vec(any_need(), 3);
    let strands = (1..=u8::MAX, any::<bool>());
    let role = (any_facts(), needs, of(any::<String>()), strands);
    let roles = proptest::collection::vec(role, 1..=3);
    let rest = (printed(any_gauge()), any::<Option<bool>>(), any::<String>());
    (any_name(), sizes, roles, rest).prop_map(|(name, sizes, roles, rest)| Pattern {
        name,
        gauge: rest.0,
        margin_included: rest.1,
        notes: rest.2,
        yarns: (0..)
            .zip(roles)
            .map(|(n, (reference, needs, called, strands))| PatternYarn {
                key: super::samples::name(&format!("CC{n}")),
                called,
                reference,
                strands: strands.0,
                held_with: (n > 0 && strands.1).then(|| super::samples::name("cc0")),
                needs: needs[..sizes.len()].to_vec(),
            })
            .collect(),
        sizes: (0..)
            .zip(sizes)
            .map(|(n, (number, width))| Size {
                name: super::samples::name(&format!("{n}")),
                height: width.clone(),
                width,
                cast_on: number,
                rows: number,
            })
            .collect(),
        ..full_pattern("any")
    })
}

/// A tolerance stated as a length per mass.
pub(super) fn absolute() -> GristTolerance {
    GristTolerance::Absolute(Grist::metres_per_gram(0.15).unwrap())
}

/// A store with one yarn of 125 m in 50 g.
pub(super) fn shelf() -> (Store, Id<Yarn>) {
    let mut store = Store::in_memory().unwrap();
    let yarn = put_up("Quay", "Dune", 125.0, 50.0);
    let yarn = store.write(|w| w.add_yarn(&yarn)).unwrap();
    (store, yarn)
}

/// Adds a lot of so many skeins.
pub(super) fn add(store: &mut Store, yarn: Id<Yarn>, lot: &Lot, skeins: f64) -> Id<Lot> {
    let opening = line(EntryKind::Bought, skeins, 0.0);
    store.write(|w| w.add_lot(yarn, lot, &opening)).unwrap()
}
