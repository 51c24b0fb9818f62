//! The need of a piece by the geometry of plain knitting, to hold a reckoned
//! need against.

use crate::trade::PLAIN_KNIT;

/// How a stitch differs from fully relaxed plain knitting, learned from a
/// sample: c = (metres per m2) / sqrt(Ks S), S stitches per m2 of the sample, Ks
/// of [`PLAIN_KNIT`]. Length per area is S l and S = Ks / l^2, so plain knitting
/// itself has c = 1.
pub fn stitch_factor(metres_per_m2: f64, stitches_per_m2: f64) -> f64 {
    metres_per_m2 / (PLAIN_KNIT.ks() * stitches_per_m2).sqrt()
}

/// Metres of yarn in `area` m2 of a stitch of factor c at S stitches per m2:
/// area x c x sqrt(Ks S).
pub fn metres_by_geometry(area: f64, factor: f64, stitches_per_m2: f64) -> f64 {
    area * factor * (PLAIN_KNIT.ks() * stitches_per_m2).sqrt()
}

/// How far a need may lie from the geometry without a word, as a share. Common
/// practice, no source: gauges are counted to about half a stitch in twenty.
pub const GEOMETRY_TOLERANCE: f64 = 0.05;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::loop_length;

    /// GATE TF 2015, question 54: Kw 4.2, Kc 5.5, loop 0.5 cm: 92 loops/cm2, so
    /// 46 cm of yarn to the square centimetre.
    #[test]
    fn loops_times_their_length_is_the_length_per_area() {
        let metres = metres_by_geometry(1.0, 1.0, 92.4e4);
        assert!((metres - 46.2e2).abs() < 0.5e2, "{metres}");
        assert!((stitch_factor(metres, 92.4e4) - 1.0).abs() < 1e-12);
        assert!((stitch_factor(1.2 * metres, 92.4e4) - 1.2).abs() < 1e-12);
        assert!((metres_by_geometry(0.5, 1.2, 92.4e4) / metres - 0.6).abs() < 1e-12);
    }

    #[test]
    fn the_need_grows_with_the_gauge_and_not_with_its_square() {
        let at = |sts: f64| metres_by_geometry(1.0, 1.0, sts * sts * 100.0 * 5.5 / 4.2);
        assert!((at(22.0) / at(20.0) - 1.1).abs() < 1e-12);
        let loops = 20.0 * 20.0 * 100.0 * 5.5 / 4.2;
        let by_loops = loops * loop_length(4.2, 20.0) / 100.0;
        assert!((at(20.0) - by_loops).abs() < 1e-6);
    }
}
