//! Fibres with their shares.

use super::RecordError;
use crate::{trade::Fibre, words::number};
use std::fmt;

/// How far the shares may sum from 100, points. Directive-based label rules
/// allow 3 points between label and yarn (UK test-lab page on S.I. 2006/3298).
const SUM_TOLERANCE: f64 = 3.0;

/// A fibre by the table's row, or by name where the table has none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FibreName {
    /// A fibre of the table.
    Known(&'static Fibre),
    /// Another one, such as `other fibres`, kept as named.
    Other(String),
}

impl fmt::Display for FibreName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Known(fibre) => f.write_str(fibre.name),
            Self::Other(name) => f.write_str(name),
        }
    }
}

/// One fibre of a blend and its share in percent of mass.
#[derive(Debug, Clone, PartialEq)]
pub struct BlendPart {
    /// The fibre.
    pub fibre: FibreName,
    /// Its share, %.
    pub percent: f64,
}

/// Fibres whose shares sum to 100 %, within 3 points. Parts of one fibre are
/// merged; largest first, ties by name.
#[derive(Debug, Clone, PartialEq)]
pub struct Blend {
    parts: Vec<BlendPart>,
}

impl Blend {
    /// A blend of these parts.
    pub fn new(parts: Vec<BlendPart>) -> Result<Self, RecordError> {
        let sum: f64 = parts.iter().map(|part| part.percent).sum();
        if parts.is_empty()
            || parts
                .iter()
                .any(|part| part.percent.is_nan() || part.percent <= 0.0)
        {
            return Err(RecordError::EmptyBlend);
        }
        if (sum - 100.0).abs() > SUM_TOLERANCE + 1e-9 {
            return Err(RecordError::Shares(number(sum, 2)));
        }
        Ok(Self {
            parts: merged(parts),
        })
    }

    /// All of one fibre.
    #[cfg(test)]
    pub fn pure(fibre: &'static Fibre) -> Self {
        Self {
            parts: vec![BlendPart {
                fibre: FibreName::Known(fibre),
                percent: 100.0,
            }],
        }
    }

    /// What several blends are together, each with its mass (in any one unit): shares
    /// add by mass. None for no blends.
    pub fn mixed(blends: &[(&Self, f64)]) -> Option<Self> {
        let mass: f64 = blends.iter().map(|(_, mass)| mass).sum();
        let parts = blends.iter().flat_map(|(blend, own)| {
            let total: f64 = blend.parts.iter().map(|part| part.percent).sum();
            let parts = blend.parts.iter();
            parts.map(move |part| BlendPart {
                fibre: part.fibre.clone(),
                percent: part.percent / total * (own / mass) * 100.0,
            })
        });
        Self::new(parts.collect()).ok()
    }

    /// The parts, largest first.
    pub fn parts(&self) -> &[BlendPart] {
        &self.parts
    }

    /// Share of the blend, 0 to 1, in fibres for which `holds`.
    pub fn share_where(&self, holds: impl Fn(&Fibre) -> bool) -> f64 {
        self.weighted(|fibre| holds(fibre).then_some(1.0)).1
    }

    /// Mean of `value` by share over the fibres that have one, and the share of
    /// the blend, 0 to 1, that has: (sum of p v / sum of p, sum of p / total).
    pub fn mean(&self, value: impl Fn(&Fibre) -> Option<f64>) -> (Option<f64>, f64) {
        let (sum, share) = self.weighted(value);
        ((share > 0.0).then(|| sum / share), share)
    }

    /// Sum of p v and sum of p over the fibres that have a value, p of 1.
    fn weighted(&self, value: impl Fn(&Fibre) -> Option<f64>) -> (f64, f64) {
        let total: f64 = self.parts.iter().map(|part| part.percent).sum();
        let known = self.parts.iter().filter_map(|part| match part.fibre {
            FibreName::Known(fibre) => Some((value(fibre)?, part.percent / total)),
            FibreName::Other(_) => None,
        });
        known.fold((0.0, 0.0), |(sum, share), (v, p)| (sum + v * p, share + p))
    }
}

fn merged(parts: Vec<BlendPart>) -> Vec<BlendPart> {
    let mut merged: Vec<BlendPart> = Vec::with_capacity(parts.len());
    for part in parts {
        match merged.iter_mut().find(|known| known.fibre == part.fibre) {
            Some(known) => known.percent += part.percent,
            None => merged.push(part),
        }
    }
    merged.sort_by(|a, b| {
        b.percent
            .total_cmp(&a.percent)
            .then_with(|| a.fibre.to_string().cmp(&b.fibre.to_string()))
    });
    merged
}

impl fmt::Display for Blend {
    /// `75% wool, 25% nylon`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let parts: Vec<String> = self
            .parts
            .iter()
            .map(|part| format!("{}% {}", number(part.percent, 2), part.fibre))
            .collect();
        f.write_str(&parts.join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::fibre;

    fn part(name: &str, percent: f64) -> BlendPart {
        let fibre = fibre(name).map_or(FibreName::Other(name.to_owned()), FibreName::Known);
        BlendPart { fibre, percent }
    }

    #[test]
    fn shares_make_a_whole_within_three_points() {
        assert!(Blend::new(vec![part("wool", 75.0), part("nylon", 22.0)]).is_ok());
        let error = Blend::new(vec![part("wool", 60.0), part("cotton", 50.0)]).unwrap_err();
        assert_eq!(error, RecordError::Shares("110".to_owned()));
        assert_eq!(Blend::new(vec![]), Err(RecordError::EmptyBlend));
        assert_eq!(
            Blend::new(vec![part("wool", 0.0), part("nylon", 100.0)]),
            Err(RecordError::EmptyBlend)
        );
    }

    #[test]
    fn two_names_of_one_fibre_are_one_part_and_order_does_not_count() {
        let a = Blend::new(vec![
            part("nylon", 20.0),
            part("wool", 40.0),
            part("merino", 40.0),
        ])
        .unwrap();
        let b = Blend::new(vec![part("wool", 80.0), part("polyamide", 20.0)]).unwrap();
        assert_eq!(a, b);
        assert_eq!(a.to_string(), "80% wool, 20% nylon");
    }

    #[test]
    fn a_mean_leaves_out_fibres_without_a_value_and_says_how_much_had_one() {
        let blend = Blend::new(vec![part("wool", 80.0), part("moss fibre", 20.0)]).unwrap();
        let (mean, share) = blend.mean(|fibre| Some(fibre.density.value));
        assert!((mean.unwrap() - 1.31).abs() < 1e-12);
        assert!((share - 0.8).abs() < 1e-12);
    }
}
