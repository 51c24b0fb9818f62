//! The chance that bought skeins do not reach, from stated uncertainties.

use super::uncertainty::standard;
use crate::{
    measure::{Length, Mass, Ratio},
    record::NeedRange,
    trade::tolerable_shortfall,
};
use statrs::distribution::ContinuousCDF;

/// Half width of a normal interval that holds 95 of 100, in standard deviations.
const OF_95: f64 = 1.96;

/// What is uncertain about skeins and need. What is not stated does not count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UncertainNeed {
    /// The need, strand metres: one figure, or anything in a range.
    pub need: NeedRange,
    /// Length of one skein as its label says.
    pub skein: Length,
    /// Standard deviation of a skein's length, as a share of it.
    pub skein_spread: f64,
    /// Standard deviation of what the knitter uses, as a share of the need.
    pub use_spread: f64,
}

/// Standard deviation of a skein's mass, and so of its length, as a share: its
/// tolerable shortfall (Directive 76/211/EEC, Annex I) / 1.96 / mass, since at most
/// 1 in 40 may fall short by more (UK packers' rules, read second hand in a summary
/// of Trading Standards; 2.5 % of a normal spread lie
/// beyond 1.96 standard deviations). `None` where the directive gives none.
pub fn label_spread(mass: Mass) -> Option<f64> {
    Some(tolerable_shortfall(mass)?.as_grams() / OF_95 / mass.as_grams())
}

/// Standard deviation of what a knitter uses who stays within `share` of the need
/// 95 times in 100: share / 1.96.
pub fn use_spread(share: Ratio) -> f64 {
    share.as_fraction() / OF_95
}

impl UncertainNeed {
    /// Chance that `skeins` skeins do not reach: the mean over the needs u of the
    /// range, all equally likely, of Phi((u - n l) / s), s^2 = (u k)^2 + n (l t)^2; n
    /// skeins of l, each of spread t, use of spread k, both normal and
    /// independent. Simpson's rule, 400 steps over the part that is neither 0 nor 1.
    pub fn chance(&self, skeins: u32) -> f64 {
        let (low, high) = (
            self.need.at_least.as_metres(),
            self.need.buy_for.as_metres(),
        );
        let held = f64::from(skeins) * self.skein.as_metres();
        let reach = 9.0 * self.spread(high, skeins);
        let (from, to) = (
            (held - reach).clamp(low, high),
            (held + reach).clamp(low, high),
        );
        match high - low {
            width if width <= 1e-9 * high => self.falls_short(high, skeins),
            width => ((high - to) + self.integral(from, to, skeins)) / width,
        }
    }

    fn spread(&self, need: f64, skeins: u32) -> f64 {
        let used = need * self.use_spread;
        let held = self.skein.as_metres() * self.skein_spread;
        (used * used + f64::from(skeins) * held * held).sqrt()
    }

    /// Chance that the skeins do not reach for one need.
    fn falls_short(&self, need: f64, skeins: u32) -> f64 {
        let beyond = need - f64::from(skeins) * self.skein.as_metres();
        match self.spread(need, skeins) {
            spread if spread > 0.0 => standard(|normal| normal.cdf(beyond / spread)),
            _ if beyond > 1e-9 * need => 1.0,
            _ => 0.0,
        }
    }

    fn integral(&self, from: f64, to: f64, skeins: u32) -> f64 {
        const STEPS: u32 = 400;
        let step = (to - from) / f64::from(STEPS);
        let weighted = (0..=STEPS).map(|place| {
            let weight = match place {
                0 | STEPS => 1.0,
                odd if odd % 2 == 1 => 4.0,
                _ => 2.0,
            };
            weight * self.falls_short(from + step * f64::from(place), skeins)
        });
        weighted.sum::<f64>() * step / 3.0
    }

    /// The fewest skeins whose chance of not reaching is at most 1 - `sure`, and
    /// that chance; `None` for more than `most`.
    pub fn skeins_for(&self, sure: Ratio, most: u32) -> Option<(u32, f64)> {
        let allowed = 1.0 - sure.as_fraction();
        let (mut low, mut high) = (0, most);
        if self.chance(most) > allowed + 1e-12 {
            return None;
        }
        while low < high {
            let middle = low + (high - low) / 2;
            if self.chance(middle) <= allowed + 1e-12 {
                high = middle
            } else {
                low = middle + 1
            }
        }
        Some((high, self.chance(high)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn metres(value: f64) -> Length {
        Length::metres(value).unwrap()
    }

    fn uncertain(low: f64, high: f64, skein_spread: f64, use_spread: f64) -> UncertainNeed {
        UncertainNeed {
            need: NeedRange {
                at_least: metres(low),
                buy_for: metres(high),
            },
            skein: metres(100.0),
            skein_spread,
            use_spread,
        }
    }

    #[test]
    fn without_any_doubt_skeins_reach_or_do_not() {
        let sure = uncertain(580.0, 580.0, 0.0, 0.0);
        assert_eq!((sure.chance(5), sure.chance(6)), (1.0, 0.0));
        let range = uncertain(500.0, 600.0, 0.0, 0.0);
        assert!((range.chance(5) - 1.0).abs() < 1e-9 && range.chance(6) < 1e-9);
        let half = uncertain(550.0, 650.0, 0.0, 0.0);
        assert!((half.chance(6) - 0.5).abs() < 1e-9);
    }

    #[test]
    fn a_need_that_is_just_met_runs_out_one_time_in_two() {
        assert!((uncertain(600.0, 600.0, 0.02, 0.03).chance(6) - 0.5).abs() < 1e-12);
    }

    /// Directive 76/211/EEC, Annex I: a ball of 50 g may fall 4.5 g short.
    #[test]
    fn one_ball_in_forty_falls_short_by_more_than_it_may() {
        let spread = label_spread(Mass::grams(50.0).unwrap()).unwrap();
        assert!((spread - 0.0459).abs() < 0.00005, "{spread}");
        let one = uncertain(91.0, 91.0, spread, 0.0);
        assert!((one.chance(1) - 0.025).abs() < 1e-4);
    }

    /// SciPy 1.17.1, `norm.cdf` and `integrate.quad` over the range of needs.
    #[test]
    fn the_chance_is_the_mean_over_the_needs_of_the_range() {
        for (low, high, label, own, skeins, chance) in [
            (580.0, 580.0, 0.02, 0.05, 6, 0.248_245_771_712),
            (500.0, 700.0, 0.04, 0.03, 6, 0.497_292_901_183),
            (560.0, 640.0, 0.02, 0.05, 6, 0.493_063_308_442),
            (100.0, 2000.0, 0.03, 0.02, 12, 0.420_799_696_234),
        ] {
            let ours = uncertain(low, high, label, own).chance(skeins);
            assert!((ours - chance).abs() < 1e-9, "{low} to {high}: {ours}");
        }
    }

    /// 5 % / 1.96.
    #[test]
    fn who_stays_within_five_percent_spreads_by_two_and_a_half() {
        let spread = use_spread(Ratio::percent(5.0).unwrap());
        assert!((spread - 0.0255).abs() < 0.00005, "{spread}");
    }

    #[test]
    fn with_too_few_skeins_allowed_none_are_told() {
        let asked = uncertain(580.0, 580.0, 0.02, 0.05);
        let sure = Ratio::percent(95.0).unwrap();
        assert_eq!(asked.skeins_for(sure, 5), None);
        let (skeins, _) = asked.skeins_for(sure, 1000).unwrap();
        assert_eq!(asked.skeins_for(sure, skeins).unwrap().0, skeins);
        assert_eq!(asked.skeins_for(sure, skeins - 1), None);
    }

    #[test]
    fn the_fewest_that_are_sure_enough_are_told() {
        let asked = uncertain(580.0, 580.0, 0.02, 0.05);
        let (skeins, chance) = asked
            .skeins_for(Ratio::percent(95.0).unwrap(), 1000)
            .unwrap();
        assert!(
            chance <= 0.05 && asked.chance(skeins - 1) > 0.05,
            "{skeins} {chance}"
        );
    }

    proptest! {
        #[test]
        fn prop_more_skeins_never_run_out_more_often(
            low in 10.0f64..5000.0, more in 0.0f64..500.0, label in 0.0f64..0.05, own in 0.0f64..0.1, n in 1u32..60,
        ) {
            let asked = uncertain(low, low + more, label, own);
            prop_assert!(asked.chance(n + 1) <= asked.chance(n) + 1e-6);
            prop_assert!((-1e-9..=1.0 + 1e-9).contains(&asked.chance(n)));
        }
    }
}
