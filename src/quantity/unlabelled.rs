//! Length per mass and length of a ball that has no label.

use super::uncertainty::{Estimate, Measurement, estimate};
use crate::{
    measure::{
        Interval, MeasureError,
        units::{INCH_M, POUND_G, YARD_M},
    },
    trade::grist_by_wraps,
};

/// One way of finding out; lengths in m, masses in g.
#[derive(Debug, Clone, PartialEq)]
pub enum BallMethod {
    /// A length that was measured off, and its mass.
    Measured {
        /// The length.
        length: Measurement,
        /// Its mass.
        mass: Measurement,
    },
    /// The length of a strand that just balances on a yarn balance.
    Balance(Measurement),
    /// Turns of a reel that hold the whole ball, and the length of one.
    Turns {
        /// How many.
        turns: Measurement,
        /// The length of one.
        reel: Measurement,
    },
}

/// Yards in a pound for each inch of a strand that balances; common practice,
/// no source: balances are built so that inches x 100 are yards per pound.
const YARDS_PER_POUND_BY_INCH: f64 = 100.0;

impl BallMethod {
    /// Length per mass, m/g: length / mass of what was measured off; inches of the
    /// strand x 100 yd/lb; turns x reel / mass of the ball. `None` where the ball's
    /// mass is needed and not known.
    pub fn grist(&self, ball: Option<&Measurement>) -> Option<Estimate> {
        Some(match self {
            Self::Measured { length, mass } => {
                figure([length, mass], |[length, mass]| length / mass)
            }
            Self::Balance(strand) => figure([strand], |[strand]| balanced(strand)),
            Self::Turns { turns, reel } => figure([turns, reel, ball?], |[turns, reel, ball]| {
                turns * reel / ball
            }),
        })
    }

    /// Length of the whole ball, m: its mass x length per mass, or turns x reel.
    pub fn length(&self, ball: Option<&Measurement>) -> Option<Estimate> {
        Some(match self {
            Self::Measured { length, mass } => {
                figure([length, mass, ball?], |[length, mass, ball]| {
                    ball * length / mass
                })
            }
            Self::Balance(strand) => {
                figure([strand, ball?], |[strand, ball]| ball * balanced(strand))
            }
            Self::Turns { turns, reel } => figure([turns, reel], |[turns, reel]| turns * reel),
        })
    }
}

/// Length per mass of a strand of so many metres that balances, m/g.
fn balanced(strand: f64) -> f64 {
    strand / INCH_M * YARDS_PER_POUND_BY_INCH * YARD_M / POUND_G
}

fn figure<const N: usize>(inputs: [&Measurement; N], of: impl Fn([f64; N]) -> f64) -> Estimate {
    let inputs = inputs.map(Measurement::clone);
    estimate(&inputs, |values| {
        values
            .try_into()
            .map_or(f64::NAN, |values: [f64; N]| of(values))
    })
}

/// Length per mass, m/g, that so many wraps over so many metres may stand for,
/// the count good to half a wrap either way: the whole published spread, no
/// middle.
pub fn grist_of_wraps(wraps: f64, over: f64) -> Result<Interval<f64>, MeasureError> {
    let per_inch = |wraps: f64| wraps / (over / INCH_M);
    let fewest = grist_by_wraps(per_inch((wraps - 0.5).max(wraps / 2.0)))?;
    let most = grist_by_wraps(per_inch(wraps + 0.5))?;
    Interval::between(
        fewest.low().as_metres_per_gram(),
        most.high().as_metres_per_gram(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::uncertainty::Doubt;

    fn exactly(value: f64) -> Measurement {
        Measurement::exactly(value)
    }

    /// By hand: 200 turns of 1.5 m are 300 m, of 100 g 3 m/g; 10 m of 4 g are 2.5
    /// m/g.
    #[test]
    fn turns_and_a_sample_tell_length_per_mass() {
        let turns = BallMethod::Turns {
            turns: exactly(200.0),
            reel: exactly(1.5),
        };
        let grist = turns.grist(Some(&exactly(100.0))).unwrap();
        assert!((grist.value - 3.0).abs() < 1e-9);
        assert!((turns.length(None).unwrap().value - 300.0).abs() < 1e-9);
        assert_eq!(turns.grist(None), None);
        let sample = BallMethod::Measured {
            length: exactly(10.0),
            mass: exactly(4.0),
        };
        assert!((sample.grist(None).unwrap().value - 2.5).abs() < 1e-9);
    }

    /// By hand: 11.5 and 12.5 wraps to the inch, (11.5 / 0.41)^2 and (12.5 / 0.31)^2
    /// yd/lb; counted over two inches the half wrap weighs half.
    #[test]
    fn wraps_are_good_to_half_a_wrap() {
        for (wraps, over, low, high) in [
            (12.0, INCH_M, 1.585_983, 3.277_684),
            (24.0, 2.0 * INCH_M, 1.655_688, 3.147_888),
        ] {
            let grist = grist_of_wraps(wraps, over).unwrap();
            assert!((grist.low() - low).abs() < 1e-6, "{wraps}");
            assert!((grist.high() - high).abs() < 1e-6, "{wraps}");
        }
    }

    /// FlatOrRound examples of common practice, no source; recomputed (C65, C73): 10 m
    /// weigh 12 g, a ball of 60 g holds 50 m; a strand of 8.4 in is 840 yd/lb and
    /// 12 oz of it 630 yd.
    #[test]
    fn a_sample_and_a_balance_tell_the_length() {
        let sample = BallMethod::Measured {
            length: exactly(10.0),
            mass: exactly(12.0),
        };
        let ball = sample.length(Some(&exactly(60.0))).unwrap();
        assert!((ball.value - 50.0).abs() < 1e-9);
        let strand = BallMethod::Balance(exactly(8.4 * INCH_M));
        let twelve_ounces = exactly(12.0 / 16.0 * POUND_G);
        let length = strand.length(Some(&twelve_ounces)).unwrap();
        assert!((length.value / YARD_M - 630.0).abs() < 1e-6);
    }

    #[test]
    fn turns_need_no_mass_for_the_length_and_one_for_the_grist() {
        let turns = BallMethod::Turns {
            turns: exactly(100.0),
            reel: exactly(1.5),
        };
        assert_eq!(turns.length(None).unwrap().value, 150.0);
        assert_eq!(turns.grist(None), None);
        assert_eq!(turns.grist(Some(&exactly(50.0))).unwrap().value, 3.0);
    }

    #[test]
    fn a_coarse_scale_widens_what_is_told() {
        let on = |scale: f64| {
            let mass = Measurement {
                value: 3.0,
                doubts: vec![Doubt::Within(scale / 2.0)],
            };
            let found = BallMethod::Measured {
                length: exactly(6.0),
                mass,
            };
            let grist = found.grist(None).unwrap();
            grist.high - grist.low
        };
        assert!(on(1.0) > 9.0 * on(0.1));
    }

    /// Seeded: of 10,000 balls, sampled by a ruler and a scale that are off within
    /// what is stated, the interval of 95 % holds the true length 93 to 97 times in
    /// 100.
    #[test]
    fn the_interval_holds_the_truth_about_95_times_in_100() {
        use proptest::{
            prelude::Rng,
            test_runner::{RngAlgorithm, TestRng},
        };
        let mut random = TestRng::from_seed(RngAlgorithm::ChaCha, &[11; 32]);
        let mut draw = || f64::from(random.next_u32()) / f64::from(u32::MAX);
        for (scale, fine, ruler) in [(1.0, 0.1, 0.02), (1.0, 0.01, 0.01), (1.0, 0.5, 0.02)] {
            let mut held = 0;
            for _ in 0..10_000 {
                let (grist, ball) = (1.0 + 4.0 * draw(), 40.0 + 60.0 * draw());
                let truth = 10.0 * (1.0 + ruler * (2.0 * draw() - 1.0));
                let on = |grams: f64, step: f64| Measurement {
                    value: (grams / step).round() * step,
                    doubts: vec![Doubt::Within(step / 2.0)],
                };
                let sample = BallMethod::Measured {
                    length: Measurement {
                        value: 10.0,
                        doubts: vec![Doubt::Within(10.0 * ruler)],
                    },
                    mass: on(truth / grist, fine),
                };
                let told = sample.length(Some(&on(ball, scale))).unwrap();
                held += u32::from((told.low..=told.high).contains(&(ball * grist)));
            }
            assert!(
                (9300..=9700).contains(&held),
                "{scale} {fine} {ruler}: {held}"
            );
        }
    }

    #[test]
    fn wraps_tell_a_wide_range() {
        let range = grist_of_wraps(24.0, 2.0 * INCH_M).unwrap();
        assert!(range.high() / range.low() > 1.7);
    }
}
