//! How much fabric a piece is: by area, by stitches, or both.

/// What is known of the fabric of a piece; at least one of area and stitches.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Extent {
    /// Area, m2, where measures are given.
    pub area: Option<f64>,
    /// Stitches, where counts are given.
    pub stitches: Option<f64>,
    /// Stitches per m2 of the gauge, where one with rows is given.
    pub per_area: Option<f64>,
}

impl Extent {
    /// Area, m2: as measured, else stitches / (stitches per m2).
    pub fn area(&self) -> Option<f64> {
        self.area.or_else(|| Some(self.stitches? / self.per_area?))
    }

    /// Stitches: as counted, else area x (stitches per m2).
    pub fn stitches(&self) -> Option<f64> {
        self.stitches.or_else(|| Some(self.area? * self.per_area?))
    }

    /// Stitches per m2: counted over measured where both are given, else those
    /// of the gauge.
    pub fn density(&self) -> Option<f64> {
        let counted = self.stitches.zip(self.area).map(|(n, area)| n / area);
        counted.or(self.per_area)
    }
}

/// What yarn is reckoned by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// Metres of yarn per m2 of fabric.
    Area,
    /// Metres of yarn per stitch.
    Stitches,
}

impl Basis {
    /// The basis in which all of these can be told, area first; `None` where
    /// there is none.
    pub fn common(extents: &[Extent]) -> Option<Self> {
        let all = |told: fn(&Extent) -> Option<f64>| extents.iter().all(|e| told(e).is_some());
        match (all(Extent::area), all(Extent::stitches)) {
            (true, _) => Some(Self::Area),
            (false, true) => Some(Self::Stitches),
            (false, false) => None,
        }
    }

    /// How much of it an extent is.
    pub fn amount(self, extent: &Extent) -> Option<f64> {
        match self {
            Self::Area => extent.area(),
            Self::Stitches => extent.stitches(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_and_a_gauge_make_an_area() {
        let counted = Extent {
            stitches: Some(6600.0),
            per_area: Some(66_000.0),
            area: None,
        };
        assert_eq!(counted.area(), Some(0.1));
        assert_eq!(Basis::common(&[counted]), Some(Basis::Area));
        assert_eq!(Basis::Area.amount(&counted), Some(0.1));
        assert_eq!(Basis::Stitches.amount(&counted), Some(6600.0));
        let measured = Extent {
            area: Some(0.1),
            per_area: Some(66_000.0),
            stitches: None,
        };
        assert_eq!(measured.stitches(), Some(6600.0));
    }

    #[test]
    fn measures_beside_counts_need_a_gauge() {
        let counted = Extent {
            stitches: Some(6600.0),
            ..Extent::default()
        };
        let measured = Extent {
            area: Some(0.1),
            ..Extent::default()
        };
        assert_eq!(Basis::common(&[counted]), Some(Basis::Stitches));
        assert_eq!(Basis::common(&[counted, measured]), None);
    }

    #[test]
    fn what_is_counted_and_measured_says_more_than_a_gauge() {
        let both = Extent {
            area: Some(0.1),
            stitches: Some(6000.0),
            per_area: Some(66_000.0),
        };
        assert!((both.density().unwrap() - 60_000.0).abs() < 1e-6);
    }
}
