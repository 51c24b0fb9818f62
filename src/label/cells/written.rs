//! Values as cells: what is written here reads back to the same value.
//!
//! A number with exactly three decimals gets a fourth, since one mark before
//! three digits may part thousands.

use crate::{
    measure::{Gauge, Grist, Interval, Length, Mass, Over, YarnCount, units::INCH_M},
    record::{Blend, FlatOrRound, Needles, Price, PriceBasis, StatedGauge},
    words::unmistakable,
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

/// `2.5 m/g`.
pub fn grist(grist: Grist) -> String {
    format!("{} m/g", unmistakable(grist.as_metres_per_gram()))
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
                prop_assert_eq!(cells::grist(&grist(density)).unwrap().value, density);
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
