//! Geometry of plain knitting: stitches per area follow from loop length alone.
//!
//! Sources: GATE TF 2015 question 54 (Kc 5.5, Kw 4.2, fully relaxed); Munden's
//! constants of 1959 are from memory. That stitch density depends only on loop length:
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

#[cfg(test)]
mod tests {
    use super::*;

    /// GATE TF 2015, question 54: Kw 4.2, Kc 5.5, loop 0.5 cm: 92 loops/cm2.
    #[test]
    fn loops_of_half_a_centimetre_stand_92_to_the_square_centimetre() {
        let density = PLAIN_KNIT.ks() / 0.5_f64.powi(2);
        assert!((density - 92.0).abs() < 0.5, "{density}");
    }
}
