//! Values as cells: what is written here reads back to the same value.
//!
//! A value is written as it was printed wherever that text, alone in its cell, means
//! the same value. A text that was cut from a longer one may not: then the value is
//! written in canonical units instead. A number with exactly three decimals gets a
//! fourth, since one mark before three digits may part thousands.

use super::Cell;
use crate::{
    label::cells,
    measure::{
        Gauge, Grist, GristTolerance, Interval, Length, Mass, Over, YarnCount, units::INCH_M,
    },
    record::{
        Blend, Classes, FlatOrRound, Multiple, Need, Needles, Price, PriceBasis, Printed,
        StatedGauge, YarnFacts,
    },
    trade::Construction,
    words::{or_list, unmistakable},
};

/// `20`, `20-22`.
pub fn range(range: Interval<f64>) -> String {
    let (low, high) = (unmistakable(range.low()), unmistakable(range.high()));
    if range.is_one() {
        low
    } else {
        format!("{low}-{high}")
    }
}

/// `125 m`.
pub fn length(length: Length) -> String {
    format!("{} m", unmistakable(length.as_metres()))
}

/// `50 g`.
pub fn mass(mass: Mass) -> String {
    format!("{} g", unmistakable(mass.as_grams()))
}

/// `120 x 2 tex`: the number of a single, then the singles.
pub fn count(count: YarnCount) -> String {
    format!(
        "{} x {} {}",
        unmistakable(count.single()),
        count.plies(),
        count.system().symbol()
    )
}

/// `377.4 m/100 g (368.9 to 386.1)`: what was measured, and how far it may be off.
pub fn measured(value: Grist, range: Interval<Grist>) -> String {
    let metres = |grist: Grist| crate::words::number(grist.as_metres_per_100_g(), 1);
    let (low, high) = (metres(range.low()), metres(range.high()));
    format!("{} m/100 g ({low} to {high})", metres(value))
}

/// `22 sts x 30 rows / 10 cm`, with stitch, flat or round, washed and strands.
pub fn gauge(stated: &StatedGauge) -> String {
    let mut text = counts(&stated.gauge);
    if let Some(stitch) = &stated.stitch {
        text.push_str(&format!(", {}", stitch.name()));
    }
    if let Some(worked) = stated.worked {
        text.push_str(match worked {
            FlatOrRound::Flat => ", flat",
            FlatOrRound::InTheRound => ", in the round",
        });
    }
    if let Some(washed) = stated.washed {
        text.push_str(if washed {
            ", after washing"
        } else {
            ", before washing"
        });
    }
    if let Some(strands) = stated.strands {
        text.push_str(&format!(
            ", {}",
            crate::words::count_of(f64::from(strands), "strand")
        ));
    }
    text
}

/// `22 sts x 30 rows / 10 cm`, without what else was stated.
pub fn counts(gauge: &Gauge) -> String {
    let rows = gauge
        .rows()
        .map_or(String::new(), |rows| format!(" x {} rows", range(rows)));
    let over = gauge
        .over()
        .map_or(String::new(), |over| format!(" / {}", over_length(over)));
    format!("{} sts{rows}{over}", range(gauge.stitches()))
}

/// Whole inches, else centimetres to the nanometre, as it is kept.
fn over_length(over: Over) -> String {
    let metres = over.as_metres();
    let inches = metres / INCH_M;
    let whole = (inches - inches.round()).abs() < 1e-9 && inches.round() >= 1.0;
    if whole {
        format!("{} in", inches.round())
    } else if metres == 0.001 {
        "mm".to_owned()
    } else {
        format!("{} cm", crate::words::number(metres * 100.0, 7))
    }
}

/// `4 mm`, `3.25-3.75 mm`.
pub fn needles(needles: Needles) -> String {
    format!(
        "{} mm",
        range(needles.map(|needle| needle.as_millimetres()))
    )
}

/// `6.50 GBP`, `6.50 GBP per 50 g`.
pub fn price(price: &Price) -> String {
    match price.per {
        PriceBasis::Skein => price.money.to_string(),
        PriceBasis::Mass(basis) => format!("{} per {}", price.money, mass(basis)),
        PriceBasis::Length(basis) => format!("{} per {}", price.money, length(basis)),
    }
}

/// `75% wool, 25% nylon`.
pub fn blend(value: &Blend) -> String {
    let parts = value.parts().iter();
    let texts = parts.map(|part| format!("{}% {}", unmistakable(part.percent), part.fibre));
    texts.collect::<Vec<_>>().join(", ")
}

/// The text of a value: as printed where that reads back to it, else plainly.
pub(crate) fn text_of<T: PartialEq>(
    printed: &Printed<T>,
    read: impl Fn(&str) -> Cell<T>,
    plain: impl Fn(&T) -> String,
) -> String {
    let same = |text: &str| read(text).is_ok_and(|reading| reading.value == printed.value);
    if same(&printed.text) {
        return printed.text.clone();
    }
    let plain = plain(&printed.value);
    if same(&plain) {
        plain
    } else {
        printed.text.clone()
    }
}

/// `3`, or `2 or 3`.
pub(crate) fn class(value: &Classes) -> String {
    let numbers = value.as_slice().iter().map(|class| class.number());
    or_list(numbers.map(|n| n.to_string()).collect::<Vec<_>>())
}

/// `48.5 g = 121 m`.
pub(crate) fn weighed(value: &(Mass, Option<Length>)) -> String {
    match value {
        (grams, None) => mass(*grams),
        (grams, Some(metres)) => format!("{} = {}", mass(*grams), length(*metres)),
    }
}

/// `4 + 2`.
pub(crate) fn multiple(value: &Multiple) -> String {
    match value.plus {
        0 => value.stitches.to_string(),
        plus => format!("{} + {plus}", value.stitches),
    }
}

/// `8 %`, `15 m/100 g`.
pub(crate) fn tolerance(value: &GristTolerance) -> String {
    match value {
        GristTolerance::Share(share) => format!("{} %", unmistakable(share.as_percent())),
        GristTolerance::Absolute(grist) => per_hundred(*grist),
    }
}

fn per_hundred(grist: Grist) -> String {
    format!(
        "{} m/100 g",
        unmistakable(grist.as_metres_per_gram() * 100.0)
    )
}

/// `900-1100 m`, `9 x 200 m`, `650 g`.
pub(crate) fn need(value: &Need) -> String {
    match value {
        Need::Length(of) => format!("{} m", range(of.map(Length::as_metres))),
        Need::Mass(of) => format!("{} g", range(of.map(Mass::as_grams))),
        Need::Skeins { count, skein } => format!("{} x {}", unmistakable(*count), length(*skein)),
    }
}

/// The text of a construction: as printed, unless that says other plies.
pub(crate) fn construction_text(facts: &YarnFacts) -> Option<String> {
    let built = facts.construction.as_ref()?;
    let same = |(value, plies): (Construction, Option<u8>)| {
        value == built.value && (plies.is_none() || plies == facts.plies)
    };
    Some(match cells::construction(&built.text) {
        Ok(read) if same(read.value) => built.text.clone(),
        _ => built.value.name().to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        label::cells,
        measure::{Money, NeedleSize, units::CountSystem},
        record::{Blend, BlendPart, FibreName, Stitch, StockAmount},
        trade::FIBRES,
    };
    use proptest::prelude::*;

    fn over() -> impl Strategy<Value = Option<Over>> {
        let known = prop_oneof![
            Just(Over::inches(4.0)),
            Just(Over::inches(1.0)),
            Just(Over::of(1.0, 0.001)),
            (1.0_f64..50.8).prop_map(Over::centimetres),
            (1.0_f64..20.0).prop_map(Over::inches),
            (25_u32..=500).prop_map(|mm| Over::of(f64::from(mm), 0.001)),
        ];
        proptest::option::of(known.prop_map(Result::unwrap))
    }

    /// Found by fuzzing.
    #[test]
    fn the_length_of_a_gauge_reads_back_to_the_last_bit() {
        for (text, written) in [
            ("44 sts / 44 mm", "44 sts / 4.4 cm"),
            ("8 sts / 8.5 in", "8 sts / 21.59 cm"),
            ("8 sts / 19.9 in", "8 sts / 50.546 cm"),
            ("22 sts / 10 cm", "22 sts / 10 cm"),
            ("7 sts / 3.302 cm", "7 sts / 3.302 cm"),
            ("5 sts / 1.3022211111111 in", "5 sts / 3.3076416 cm"),
        ] {
            let read = cells::gauge(text).unwrap().value;
            assert_eq!(gauge(&read), written);
            assert_eq!(cells::gauge(written).unwrap().value, read);
        }
    }

    #[test]
    fn three_decimals_are_written_as_four() {
        assert_eq!(length(Length::metres(1.125).unwrap()), "1.1250 m");
        assert_eq!(mass(Mass::grams(50.0).unwrap()), "50 g");
    }

    #[test]
    fn stock_with_three_decimals_is_printed_so_that_it_reads_back() {
        for (milliskeins, milligrams, text) in [
            (1125, 0, "1.1250 skeins"),
            (0, 60_125, "60.1250 g"),
            (2001, 500, "2.0010 skeins + 0.5 g"),
        ] {
            let amount = StockAmount::from_thousandths(milliskeins, milligrams).unwrap();
            assert_eq!(amount.to_string(), text);
            assert_eq!(cells::stock_amount(text).unwrap().value, amount);
        }
    }

    fn stated(stitches: f64, rows: Option<f64>, over: Option<Over>) -> StatedGauge {
        let rows = rows.map(|rows| Interval::between(rows, rows + 2.0).unwrap());
        StatedGauge::bare(Gauge::new(Interval::one(stitches), rows, over).unwrap())
    }

    proptest! {
        #[test]
        fn prop_lengths_masses_and_grists_read_back(value in 0.001f64..1e6) {
            let metres = Length::metres(value).unwrap();
            prop_assert_eq!(cells::length(&length(metres)).unwrap().value, metres);
            let grams = Mass::grams(value).unwrap();
            prop_assert_eq!(cells::mass(&mass(grams)).unwrap().value, grams);
            let density = Grist::metres_per_gram(value / 1000.0).ok();
            if let Some(density) = density.filter(|d| d.as_metres_per_gram() > 1e-4) {
                prop_assert_eq!(cells::grist(&format!("{} m/g", unmistakable(density.as_metres_per_gram()))).unwrap().value, density);
            }
        }

        #[test]
        fn prop_counts_read_back(single in 2.0f64..500.0, plies in 1u8..13, system in 0usize..9) {
            let system = [CountSystem::Tex, CountSystem::Decitex, CountSystem::Denier, CountSystem::Metric, CountSystem::Cotton,
                CountSystem::Worsted, CountSystem::WoollenRun, CountSystem::WoollenCut, CountSystem::Linen][system];
            let given = YarnCount::new(single, plies, system).unwrap();
            prop_assert_eq!(cells::count(&count(given)).unwrap().value, given);
        }

        #[test]
        fn prop_gauges_read_back(
            stitches in 1.0f64..60.0, rows in proptest::option::of(1.0f64..80.0), over in over(),
            stitch in 0usize..4, worked in 0usize..3, washed in any::<Option<bool>>(), strands in proptest::option::of(1u8..5),
        ) {
            let mut given = stated(stitches, rows, over);
            given.stitch = [None, Some(Stitch::Stockinette), Some(Stitch::named("garter")), Some(Stitch::named("roman stripe pattern"))][stitch].clone();
            given.worked = [None, Some(FlatOrRound::Flat), Some(FlatOrRound::InTheRound)][worked];
            given.washed = washed;
            given.strands = strands;
            let read = cells::gauge(&gauge(&given)).unwrap().value;
            prop_assert_eq!(read.gauge, given.gauge);
            prop_assert_eq!((read.stitch, read.worked, read.washed, read.strands), (given.stitch, given.worked, given.washed, given.strands));
        }

        #[test]
        fn prop_needles_read_back(low in 0.5f64..30.0, more in 0.0f64..20.0) {
            let size = |mm| NeedleSize::millimetres(mm).unwrap();
            let given = Interval::between(size(low), size(low + more)).unwrap();
            prop_assert_eq!(cells::needles(&needles(given)).unwrap().value, given);
        }

        #[test]
        fn prop_prices_read_back(cents in 1i64..10_000_000, currency in 0usize..4, per in 0usize..3, basis in 1.0f64..500.0) {
            let code = ["GBP", "EUR", "USD", "NOK"][currency];
            let money = Money { amount: rust_decimal::Decimal::new(cents, 2), currency: iso_currency::Currency::from_code(code).unwrap() };
            let per = [PriceBasis::Skein, PriceBasis::Mass(Mass::grams(basis).unwrap()), PriceBasis::Length(Length::metres(basis).unwrap())][per];
            let given = Price { money, per };
            prop_assert_eq!(cells::price(&price(&given)).unwrap().value, given);
        }

        #[test]
        fn prop_blends_read_back(first in 1u32..100, one in 0usize..FIBRES.len(), other in 0usize..FIBRES.len()) {
            let part = |place: usize, percent| BlendPart { fibre: FibreName::Known(&FIBRES[place]), percent };
            let given = Blend::new(vec![part(one, f64::from(first)), part(other, f64::from(100 - first))]).unwrap();
            prop_assert_eq!(cells::blend(&given.to_string()).unwrap().value, given);
        }

        #[test]
        fn prop_stock_amounts_read_back(skeins in 0i64..1_000_000, milligrams in 0i64..1_000_000_000) {
            let given = StockAmount::from_thousandths(skeins, milligrams).unwrap();
            prop_assert_eq!(cells::stock_amount(&given.to_string()).unwrap().value, given);
        }

        #[test]
        fn prop_no_text_makes_a_cell_panic(text in any::<String>()) {
            let facts = crate::record::YarnFacts::default();
            let _ = (cells::length(&text), cells::mass(&text), cells::count(&text), cells::grist(&text), cells::put_up(&text));
            let _ = (cells::percent(&text), cells::tolerance(&text), cells::class(&text), cells::blend(&text), cells::construction(&text));
            let _ = (cells::gauge(&text), cells::needles(&text), cells::needle(&text), cells::care(&text), cells::price(&text));
            let _ = (cells::stock_amount(&text), cells::weighed(&text), cells::needs(&text, &facts), cells::multiple(&text));
            let _ = (cells::purpose(&text), cells::fit(&text), cells::yes_no(&text));
        }
    }
}

#[cfg(test)]
mod canonical_tests {
    use super::*;
    use crate::{
        label::cells::written,
        measure::{Gauge, Interval, Money, NeedleSize, Over, Ratio, YarnCount, units::CountSystem},
        record::{
            Blend, BlendPart, FibreName, FlatOrRound, Price, PriceBasis, StatedGauge, Stitch,
        },
        trade::{FIBRES, WeightClass},
    };
    use proptest::{option, prelude::*, sample::select};
    use rust_decimal::Decimal;

    /// Whether a value's plain text reads back to it.
    fn comes_back<T: PartialEq + std::fmt::Debug>(
        value: T,
        read: impl Fn(&str) -> Cell<T>,
        plain: impl Fn(&T) -> String,
    ) -> Result<(), TestCaseError> {
        let text = plain(&value);
        match read(&text) {
            Ok(reading) => prop_assert_eq!(reading.value, value, "{}", text),
            Err(error) => prop_assert!(false, "{text}: {error}"),
        }
        Ok(())
    }

    fn interval(low: f64, high: f64) -> impl Strategy<Value = Interval<f64>> {
        (low..high, option::of(0.5..2.0)).prop_map(|(low, more): (f64, Option<f64>)| {
            Interval::between(low, low + more.unwrap_or(0.0)).unwrap()
        })
    }

    prop_compose! {
        fn stated()(
            stitches in interval(1.0, 60.0),
            rows in option::of(interval(1.0, 60.0)),
            inches in any::<bool>(),
            stitch in option::of(select(&["stockinette", "garter stitch"][..])),
            worked in option::of(select(&[FlatOrRound::Flat, FlatOrRound::InTheRound][..])),
            washed in option::of(any::<bool>()),
            strands in option::of(2u8..5),
        ) -> StatedGauge {
            let over = if inches { Over::inches(4.0) } else { Over::centimetres(10.0) };
            let gauge = Gauge::new(stitches, rows, Some(over.unwrap())).unwrap();
            let stitch = stitch.map(Stitch::named);
            StatedGauge { gauge, stitch, worked, washed, strands }
        }
    }

    proptest! {
        #[test]
        fn prop_lengths_and_masses_come_back(value in 0.001..1e6) {
            comes_back(Length::metres(value).unwrap(), cells::length, |v| length(*v))?;
            comes_back(Mass::grams(value).unwrap(), cells::mass, |v| mass(*v))?;
        }

        #[test]
        fn prop_thousandths_are_not_taken_for_thousands(value in 1000_u32..999_999) {
            let value = f64::from(value) / 1000.0;
            comes_back(Length::metres(value).unwrap(), cells::length, |v| length(*v))?;
        }

        #[test]
        fn prop_bare_gauges_come_back(value in stated()) {
            let gauge = StatedGauge::bare(value.gauge);
            comes_back(gauge, cells::gauge, |v| written::counts(&v.gauge))?;
        }

        #[test]
        fn prop_gauges_come_back_with_all_that_was_stated(value in stated()) {
            comes_back(value, cells::gauge, written::gauge)?;
        }

        #[test]
        fn prop_needles_come_back(low in 1.0..20.0, more in 0.25..3.0) {
            let size = |mm| NeedleSize::millimetres(mm).unwrap();
            comes_back(Interval::one(size(low)), cells::needles, |v| written::needles(*v))?;
            let both = Interval::between(size(low), size(low + more)).unwrap();
            comes_back(both, cells::needles, |v| written::needles(*v))?;
        }

        #[test]
        fn prop_classes_come_back(low in 0_u8..=7, other in 0_u8..=7) {
            let classes = [low, other].into_iter().filter_map(WeightClass::new).collect();
            comes_back(Classes::new(classes).unwrap(), cells::class, class)?;
        }

        #[test]
        fn prop_blends_come_back(first in 0..FIBRES.len(), second in 0..FIBRES.len(), share in 1_u32..99) {
            prop_assume!(first != second);
            let part = |index: usize, percent| BlendPart {
                fibre: FibreName::Known(&FIBRES[index]),
                percent,
            };
            let share = f64::from(share);
            let parts = vec![part(first, share), part(second, 100.0 - share)];
            comes_back(Blend::new(parts).unwrap(), cells::blend, written::blend)?;
        }

        #[test]
        fn prop_counts_come_back(single in 1.0..60.0, plies in 1_u8..6, system in select(&[
            CountSystem::Metric, CountSystem::Cotton, CountSystem::Worsted, CountSystem::Tex,
        ][..])) {
            comes_back(YarnCount::new(single, plies, system).unwrap(), cells::count, |v| written::count(*v))?;
        }

        #[test]
        fn prop_prices_come_back(cents in 1_i64..100_000, per in select(&[0, 1, 2][..])) {
            let amount = Decimal::new(cents, 2);
            let per = match per {
                0 => PriceBasis::Skein,
                1 => PriceBasis::Mass(Mass::grams(50.0).unwrap()),
                _ => PriceBasis::Length(Length::metres(100.0).unwrap()),
            };
            let money = Money { amount, currency: iso_currency::Currency::EUR };
            comes_back(Price { money, per }, cells::price, written::price)?;
        }

        #[test]
        fn prop_needs_come_back(range in interval(1.0, 5000.0), count in 1_u32..40) {
            let read = |text: &str| {
                let read = cells::needs(text, &YarnFacts::default())?;
                Ok(crate::label::reading::Reading { value: read.value[0].1, notes: read.notes })
            };
            comes_back(Need::Length(range.map(|m| Length::metres(m).unwrap())), read, need)?;
            comes_back(Need::Mass(range.map(|g| Mass::grams(g).unwrap())), read, need)?;
            let skein = Length::metres(range.low()).unwrap();
            comes_back(Need::Skeins { count: f64::from(count), skein }, read, need)?;
        }

        #[test]
        fn prop_the_rest_comes_back(stitches in 1_u32..99, plus in 0_u32..9, share in 0_u32..90, grams in 1.0..999.0) {
            comes_back(Multiple { stitches, plus }, cells::multiple, multiple)?;
            let share = Ratio::percent(f64::from(share)).unwrap();
            comes_back(GristTolerance::Share(share), cells::tolerance, tolerance)?;
            let full = Mass::grams(grams).unwrap();
            comes_back((full, None), cells::weighed, weighed)?;
            comes_back((full, Some(Length::metres(grams * 2.5).unwrap())), cells::weighed, weighed)?;
        }
    }

    #[test]
    fn a_text_cut_from_a_longer_one_gives_way_to_the_value_and_any_other_stays() {
        let value = Length::metres(125.0).unwrap();
        let text =
            |printed: &str| text_of(&Printed::new(printed, value), cells::length, |v| length(*v));
        assert_eq!(text("125 metres"), "125 metres");
        assert_eq!(text("125 m / 50 g"), "125 m");
        assert_eq!(text("250 m"), "125 m");
    }
}
