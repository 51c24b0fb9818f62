//! Geometry of plain knitting: stitches per area follow from loop length alone.
//!
//! Sources: GATE TF 2015 question 54 (Kc 5.5, Kw 4.2, fully relaxed); Texcoms
//! Textile Technical Handbook (2023), p. 147 (fabric mass); Munden's constants
//! of 1959 are from memory. That stitch density depends only on loop length:
//! AUTEX Research Journal 6(4) 2006, p. 223 (survey of the literature).

use super::Basis;

/// Constants of plain knitting in one state; loop length in cm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlainKnit {
    /// The state of the fabric.
    pub state: &'static str,
    /// Courses per cm times loop length.
    pub kc: f64,
    /// Wales per cm times loop length.
    pub kw: f64,
    /// What the constants rest on.
    pub basis: Basis,
}

impl PlainKnit {
    /// Ks = Kc Kw: loops per cm2 times the square of loop length.
    pub fn ks(&self) -> f64 {
        self.kc * self.kw
    }
}

/// Fully relaxed, which is what a washed piece comes nearest to.
pub const PLAIN_KNIT: PlainKnit = PlainKnit {
    state: "fully relaxed",
    kc: 5.5,
    kw: 4.2,
    basis: Basis::Published("GATE TF 2015, question 54"),
};

/// Loops per cm2: S = Ks / l^2, l loop length in cm.
pub fn stitch_density(ks: f64, loop_cm: f64) -> f64 {
    ks / (loop_cm * loop_cm)
}

/// Fabric mass in g/m2: S l T / 100, S loops per cm2, l loop length in mm, T tex
/// (Texcoms Textile Technical Handbook, 2023, p. 147).
pub fn fabric_mass(loops_per_cm2: f64, loop_mm: f64, tex: f64) -> f64 {
    loops_per_cm2 * loop_mm * tex / 100.0
}

/// Mass of plain fabric in g/m2: Ks T / l, T tex, l loop length in mm.
pub fn plain_fabric_mass(ks: f64, tex: f64, loop_mm: f64) -> f64 {
    ks * tex / loop_mm
}

/// Loop length in cm of a stockinette gauge: l = 10 Kw / stitches over 10 cm.
pub fn loop_length(kw: f64, stitches_per_10_cm: f64) -> f64 {
    10.0 * kw / stitches_per_10_cm
}

#[cfg(test)]
mod tests {
    use super::*;

    /// GATE TF 2015, question 54: Kw 4.2, Kc 5.5, loop 0.5 cm: 92 loops/cm2.
    #[test]
    fn loops_of_half_a_centimetre_stand_92_to_the_square_centimetre() {
        let density = stitch_density(PLAIN_KNIT.ks(), 0.5);
        assert!((density - 92.0).abs() < 0.5, "{density}");
    }

    /// Texcoms Textile Technical Handbook (2023), p. 147, formula in inches:
    /// g/m2 = wales x courses x l (mm) x 39.37^2 x tex / 1e6, for 18 wales and
    /// 21 courses per inch, 3.4 mm and 20 Ne; computed from it: 58.8.
    #[test]
    fn fabric_mass_agrees_with_the_formula_in_inches() {
        let tex = 590.541 / 20.0;
        let inches = 18.0 * 21.0 * 3.4 * 39.37_f64.powi(2) * tex / 1e6;
        let metric = fabric_mass(18.0 * 21.0 / 6.4516, 3.4, tex);
        assert!((metric - inches).abs() < 0.01, "{metric} {inches}");
        assert!((metric - 58.8).abs() < 0.05, "{metric}");
    }

    #[test]
    fn the_short_form_is_the_long_form_for_plain_fabric() {
        let ks = PLAIN_KNIT.ks();
        let long = fabric_mass(stitch_density(ks, 1.91), 19.1, 450.0);
        assert!((plain_fabric_mass(ks, 450.0, 19.1) - long).abs() < 1e-9);
    }

    /// Computed from Kw 4.2: 22 stitches over 10 cm are loops of 1.91 cm.
    #[test]
    fn a_hand_knit_gauge_has_a_loop_length() {
        assert!((loop_length(PLAIN_KNIT.kw, 22.0) - 1.91).abs() < 0.005);
    }
}
