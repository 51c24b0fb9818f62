//! How much a package may lawfully fall short of its label.
//!
//! Source: Directive 76/211/EEC, Annex I, tolerable negative error (TNE) by
//! nominal quantity; no package may fall short by more than twice of it, and
//! the mean of a lot must reach the nominal quantity. It covers mass. For the
//! length of yarn no EU or US tolerance was found.

use crate::measure::Mass;

/// What a band of nominal masses allows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LabelTolerance {
    /// Percent of the nominal mass.
    Percent(f64),
    /// So many grams.
    Grams(f64),
}

/// Bands of nominal mass in g, each from its first to its second number.
pub const LABEL_TOLERANCES: [(f64, f64, LabelTolerance); 6] = [
    (5.0, 50.0, LabelTolerance::Percent(9.0)),
    (50.0, 100.0, LabelTolerance::Grams(4.5)),
    (100.0, 200.0, LabelTolerance::Percent(4.5)),
    (200.0, 300.0, LabelTolerance::Grams(9.0)),
    (300.0, 500.0, LabelTolerance::Percent(3.0)),
    (500.0, 1000.0, LabelTolerance::Grams(15.0)),
];

/// How many grams a package of nominal mass `nominal` may fall short; `None`
/// outside the bands. At a shared end both bands give the same.
pub fn tolerable_shortfall(nominal: Mass) -> Option<Mass> {
    let grams = nominal.as_grams();
    let (_, _, allowed) = LABEL_TOLERANCES
        .iter()
        .find(|(low, high, _)| (*low..=*high).contains(&grams))?;
    let shortfall = match allowed {
        LabelTolerance::Percent(percent) => grams * percent / 100.0,
        LabelTolerance::Grams(grams) => *grams,
    };
    Mass::grams(shortfall).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shortfall(grams: f64) -> Option<f64> {
        tolerable_shortfall(Mass::grams(grams).unwrap()).map(Mass::as_grams)
    }

    /// Directive 76/211/EEC, Annex I: 9 % to 50 g, 4.5 g to 100 g, 4.5 % to
    /// 200 g, 9 g to 300 g, 3 % to 500 g, 15 g to 1000 g.
    #[test]
    fn each_published_band_gives_its_error() {
        for (nominal, error) in [
            (5.0, 0.45),
            (25.0, 2.25),
            (50.0, 4.5),
            (75.0, 4.5),
            (100.0, 4.5),
            (150.0, 6.75),
            (200.0, 9.0),
            (250.0, 9.0),
            (300.0, 9.0),
            (400.0, 12.0),
            (500.0, 15.0),
            (750.0, 15.0),
            (1000.0, 15.0),
        ] {
            let found = shortfall(nominal).unwrap();
            assert!((found - error).abs() < 1e-9, "{nominal} g: {found}");
        }
    }

    #[test]
    fn neighbouring_bands_agree_where_they_meet() {
        for pair in LABEL_TOLERANCES.windows(2) {
            let (_, end, _) = pair[0];
            let (start, _, allowed) = pair[1];
            let above = match allowed {
                LabelTolerance::Percent(percent) => start * percent / 100.0,
                LabelTolerance::Grams(grams) => grams,
            };
            assert!((shortfall(end).unwrap() - above).abs() < 1e-9);
        }
    }

    #[test]
    fn outside_the_bands_nothing_is_claimed() {
        assert_eq!(shortfall(4.9), None);
        assert_eq!(shortfall(1000.1), None);
    }
}
