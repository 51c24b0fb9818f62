//! Changing the needle.

use crate::{
    matching::{
        Candidate, Remedy, Requirement, Turn,
        criterion::{in_tolerances, is_within},
        expected_gauge::ExpectedGauge,
        gauge::tolerance_on,
    },
    measure::NeedleSize,
    trade::needle_steps_from,
};

/// Stitches over 10 cm that one needle size (some 0.5 mm at 4 mm) shifts.
/// Common practice, no source.
const STITCHES_A_SIZE: f64 = 1.0;
/// Sizes beyond which the fabric becomes board or net: common practice, no source.
const MOST_SIZES: u8 = 2;
/// Share of the wanted gauge beyond which no needle is proposed: common practice,
/// no source.
const MOST_OFF: f64 = 0.10;

/// The fewest sizes, at most 2, that bring the expected gauge within the fit's
/// tolerance, one size shifting about one stitch in 10 cm; none for a gauge more
/// than 10 % off.
pub(super) fn change_needle(
    wanted: &Requirement,
    offered: &Candidate,
    expected: &ExpectedGauge,
) -> Option<Remedy> {
    if (expected.ratio - 1.0).abs() > MOST_OFF + 1e-9 {
        return None;
    }
    let turn = if expected.offered > expected.wanted {
        Turn::Up
    } else {
        Turn::Down
    };
    let steps = (1..=MOST_SIZES).find(|steps| brings_within(wanted, expected, turn, *steps))?;
    let from = needle_now(offered, expected);
    let to = from.and_then(|from| needle_steps_from(from, signed(turn, steps)?));
    Some(Remedy::ChangeNeedle {
        turn,
        steps,
        from,
        to,
        expected_per_10_cm: expected.offered,
        wanted_per_10_cm: expected.wanted,
    })
}

fn brings_within(wanted: &Requirement, expected: &ExpectedGauge, turn: Turn, steps: u8) -> bool {
    let shift = f64::from(steps) * STITCHES_A_SIZE;
    let then = match turn {
        Turn::Up => expected.offered - shift,
        Turn::Down => expected.offered + shift,
    };
    let off = then / expected.wanted - 1.0;
    let tolerance = tolerance_on(wanted.fit, expected.is_predicted);
    is_within(in_tolerances(off, tolerance))
}

fn signed(turn: Turn, steps: u8) -> Option<i8> {
    let steps = i8::try_from(steps).ok()?;
    Some(match turn {
        Turn::Up => steps,
        Turn::Down => -steps,
    })
}

/// The needle of the swatch, else the common size nearest to the middle of the
/// label's needles, which hold for one strand.
fn needle_now(offered: &Candidate, expected: &ExpectedGauge) -> Option<NeedleSize> {
    expected.needle.or_else(|| {
        let needles = offered
            .facts
            .needles
            .as_ref()
            .filter(|_| offered.strands == 1)?;
        let (low, high) = (needles.value.low(), needles.value.high());
        let middle = f64::midpoint(low.as_millimetres(), high.as_millimetres());
        needle_steps_from(NeedleSize::millimetres(middle).ok()?, 0)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::matching::{
        expected_gauge::expected_gauge,
        samples::{Build, offered, wanted},
    };

    fn remedy(wanted: &Requirement, offered: &Candidate) -> Option<Remedy> {
        let expected = expected_gauge(wanted, offered).unwrap();
        change_needle(wanted, offered, &expected)
    }

    #[test]
    fn too_many_stitches_ask_for_a_thicker_needle() {
        let wanted = wanted().label_gauge(20.0);
        let Some(Remedy::ChangeNeedle {
            turn,
            steps,
            from,
            to,
            ..
        }) = remedy(&wanted, &offered().label_gauge(21.5).needles(4.0))
        else {
            panic!("no needle")
        };
        assert_eq!((turn, steps), (Turn::Up, 1));
        assert_eq!(from.unwrap().as_millimetres(), 4.0);
        assert_eq!(to.unwrap().as_millimetres(), 4.5);
    }

    /// From 22 to 20 stitches is two needles up, 4 to 5 mm, and no more than 10 %;
    /// from 21 to 22 one down, 4 to 3.75 mm.
    #[test]
    fn two_sizes_up_and_one_down_lead_to_needles_that_are_made() {
        for (wants, label, turn, steps, mm) in [
            (20.0, 22.0, Turn::Up, 2, 5.0),
            (22.0, 21.0, Turn::Down, 1, 3.75),
        ] {
            let found = remedy(
                &wanted().label_gauge(wants),
                &offered().label_gauge(label).needles(4.0),
            );
            let Some(Remedy::ChangeNeedle {
                turn: told_turn,
                steps: told_steps,
                to,
                ..
            }) = found
            else {
                panic!("no needle for {label}")
            };
            assert_eq!((told_turn, told_steps), (turn, steps));
            assert_eq!(to.unwrap().as_millimetres(), mm);
        }
        assert!(remedy(&wanted().label_gauge(20.0), &offered().label_gauge(22.1)).is_none());
    }

    #[test]
    fn too_few_ask_for_a_thinner_one_and_an_unknown_needle_stays_unknown() {
        let wanted = wanted().label_gauge(20.0);
        let Some(Remedy::ChangeNeedle {
            turn, steps, from, ..
        }) = remedy(&wanted, &offered().label_gauge(18.1))
        else {
            panic!("no needle")
        };
        assert_eq!((turn, steps, from), (Turn::Down, 2, None));
    }

    #[test]
    fn no_needle_mends_more_than_a_tenth() {
        let wanted = wanted().label_gauge(20.0);
        assert_eq!(remedy(&wanted, &offered().label_gauge(22.2)), None);
    }
}
