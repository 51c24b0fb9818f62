//! How far a computed figure may lie from the truth, from what is known of its
//! inputs.

use statrs::distribution::{ContinuousCDF, Normal};

/// One thing that keeps an input from being exact.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Doubt {
    /// Anywhere within so much either way, all equally likely: a scale that
    /// rounds, a tape that is read.
    Within(f64),
    /// Scattered about the value, 95 of 100 within so much either way.
    Mostly(f64),
}

/// An input and its doubts.
#[derive(Debug, Clone, PartialEq)]
pub struct Measurement {
    /// The value.
    pub value: f64,
    /// Its doubts, independent of each other.
    pub doubts: Vec<Doubt>,
}

impl Measurement {
    /// A value without doubt.
    pub fn exactly(value: f64) -> Self {
        Self {
            value,
            doubts: Vec::new(),
        }
    }
}

/// A figure and the interval about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The figure.
    pub value: f64,
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Estimate {
    /// All three times `factor`, which is not negative.
    pub fn times(self, factor: f64) -> Self {
        Self {
            value: self.value * factor,
            low: self.low * factor,
            high: self.high * factor,
        }
    }

    /// All three less `amount`.
    pub fn less(self, amount: f64) -> Self {
        Self {
            value: self.value - amount,
            low: self.low - amount,
            high: self.high - amount,
        }
    }
}

/// Share of truths that an interval holds.
pub const CONFIDENCE: f64 = 0.95;

/// The figure that `of` makes of the inputs, with the interval that holds
/// [`CONFIDENCE`] of all truths: doubts go through to first order (each multiplied by
/// the slope of `of` in its input) and add as independent ones do.
pub fn estimate(inputs: &[Measurement], of: impl Fn(&[f64]) -> f64) -> Estimate {
    let values: Vec<f64> = inputs.iter().map(|known| known.value).collect();
    let value = of(&values);
    let mut doubts = Vec::new();
    for (place, known) in inputs.iter().enumerate() {
        let slope = slope(&values, place, &of).abs();
        doubts.extend(known.doubts.iter().map(|doubt| match doubt {
            Doubt::Within(width) => Doubt::Within(width * slope),
            Doubt::Mostly(width) => Doubt::Mostly(width * slope),
        }));
    }
    let half = half_width(&doubts);
    Estimate {
        value,
        low: value - half,
        high: value + half,
    }
}

fn slope(values: &[f64], place: usize, of: &impl Fn(&[f64]) -> f64) -> f64 {
    let step = values
        .get(place)
        .map_or(0.0, |value| value.abs() * 1e-5)
        .max(1e-9);
    let at = |by: f64| {
        let moved = values.iter().enumerate();
        let moved: Vec<f64> = moved
            .map(|(i, v)| if i == place { v + by } else { *v })
            .collect();
        of(&moved)
    };
    (at(step) - at(-step)) / (2.0 * step)
}

/// Half the width of the interval about the sum of independent doubts that holds
/// [`CONFIDENCE`] of it. The widest even doubt, half width h, is used as it is; the
/// others as one normal spread s, s^2 = sum h_i^2 / 3 + sum (w_i / z)^2, where w_i
/// holds 95 of 100 and z = 1.96. The distribution of both together is exact:
/// F(x) = s / (2 h) (p((x + h) / s) - p((x - h) / s)), p(t) = t Phi(t) + phi(t).
/// Of two equal even doubts the interval so found holds 95.6 of 100.
pub fn half_width(doubts: &[Doubt]) -> f64 {
    let z = standard(|normal| normal.inverse_cdf(0.5 + CONFIDENCE / 2.0));
    let widest = doubts.iter().map(|doubt| match doubt {
        Doubt::Within(width) => *width,
        Doubt::Mostly(_) => 0.0,
    });
    let widest = widest.fold(0.0, f64::max);
    let variance: f64 = doubts
        .iter()
        .map(|doubt| match doubt {
            Doubt::Within(width) => width * width / 3.0,
            Doubt::Mostly(width) => (width / z).powi(2),
        })
        .sum();
    let sd = (variance - widest * widest / 3.0).max(0.0).sqrt();
    if sd <= 1e-6 * widest {
        return CONFIDENCE * widest;
    }
    if widest <= 1e-3 * sd {
        return z * variance.sqrt();
    }
    quantile(widest, sd)
}

/// The x with F(x) = (1 + CONFIDENCE) / 2, by halving.
fn quantile(h: f64, s: f64) -> f64 {
    let p = |t: f64| standard(|normal| t * normal.cdf(t)) + density(t);
    let share = |x: f64| s / (2.0 * h) * (p((x + h) / s) - p((x - h) / s));
    let (mut low, mut high) = (0.0, h + 6.0 * s);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if share(middle) < 0.5 + CONFIDENCE / 2.0 {
            low = middle
        } else {
            high = middle
        }
    }
    (low + high) / 2.0
}

fn density(t: f64) -> f64 {
    (-t * t / 2.0).exp() / std::f64::consts::TAU.sqrt()
}

/// Something of the standard normal distribution.
pub(super) fn standard(of: impl Fn(&Normal) -> f64) -> f64 {
    of(&Normal::standard())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_even_doubt_holds_its_share_of_itself() {
        assert!((half_width(&[Doubt::Within(0.5)]) - 0.475).abs() < 1e-9);
        assert_eq!(half_width(&[]), 0.0);
    }

    #[test]
    fn a_normal_doubt_is_its_own_interval_and_two_add_as_squares() {
        assert!((half_width(&[Doubt::Mostly(3.0)]) - 3.0).abs() < 1e-9);
        assert!((half_width(&[Doubt::Mostly(3.0), Doubt::Mostly(4.0)]) - 5.0).abs() < 1e-9);
    }

    /// Computed from the triangular distribution of the sum of two: the interval
    /// of 95 % reaches 2 (1 - sqrt 0.05) = 1.553 half widths.
    #[test]
    fn two_even_doubts_are_nearly_those_of_a_triangle() {
        let half = half_width(&[Doubt::Within(1.0), Doubt::Within(1.0)]);
        let held = 1.0 - ((2.0 - half) / 2.0).powi(2);
        assert!((held - 0.95).abs() < 0.01, "{half} {held}");
    }

    /// SciPy 1.17.1, `norm.cdf` under `integrate.quad`, solved by `brentq`.
    #[test]
    fn an_even_doubt_and_a_normal_one_together_hold_their_share() {
        for (even, normal, half) in [
            (1.0, 0.3, 1.182_204_219),
            (1.0, 1.0, 2.254_137_083),
            (0.5, 0.2, 0.655_543_724),
        ] {
            let z = standard(|standard| standard.inverse_cdf(0.975));
            let found = half_width(&[Doubt::Within(even), Doubt::Mostly(normal * z)]);
            assert!((found - half).abs() < 1e-6, "{even}, {normal}: {found}");
        }
    }

    #[test]
    fn doubts_go_through_a_quotient() {
        let known = |value, width| Measurement {
            value,
            doubts: vec![Doubt::Mostly(width)],
        };
        let found = estimate(&[known(100.0, 1.0), known(10.0, 0.1)], |v| v[0] / v[1]);
        assert!((found.value - 10.0).abs() < 1e-12);
        assert!((found.high - found.value - 0.1 * 2.0_f64.sqrt()).abs() < 1e-6);
    }
}
