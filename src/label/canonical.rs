//! Values in canonical form, for texts that do not read back by themselves.
//!
//! A value is written as it was printed wherever that text, alone in its cell,
//! means the same value. A text that was cut from a longer one may not: then
//! the value is written in canonical units instead.

use super::cells::{
    self, Cell,
    written::{length, mass, range},
};
use crate::{
    measure::{Grist, GristTolerance, Length, Mass},
    record::{Classes, Multiple, Need, Printed, YarnFacts},
    trade::Construction,
    words::{or_list, unmistakable},
};

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
