//! What another gauge does to the need.

/// What a knitter keeps when the gauge is not the pattern's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    /// The finished size: stitch counts are reworked.
    Size,
    /// The stitch counts: the finished size changes.
    Counts,
}

impl Keep {
    /// Change of need, `gauge_ratio` = own gauge / pattern's gauge. Same size:
    /// k = gauge_c / gauge_r, since loops per area S = Ks / l^2 give a length
    /// per area of sqrt(Ks S), proportional to the gauge (plain-knit geometry).
    /// Same counts: k = gauge_r / gauge_c, since each loop grows with the stitch.
    pub fn need_factor(self, gauge_ratio: f64) -> f64 {
        match self {
            Self::Size => gauge_ratio,
            Self::Counts => 1.0 / gauge_ratio,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tighter_gauge_takes_more_yarn_for_the_same_size_and_less_for_the_same_counts() {
        assert_eq!(Keep::Size.need_factor(1.1), 1.1);
        assert!((Keep::Counts.need_factor(1.25) - 0.8).abs() < 1e-12);
    }
}
