//! The rail: the pattern's value in the middle of a line, the tolerance as a
//! band on it, a mark where the candidate falls, numbers at the ends.

use crate::words::number;

/// Numbers of one rail, all in `unit`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rail {
    /// In the middle.
    pub wanted: f64,
    /// Where the mark falls.
    pub offered: f64,
    /// The band reaches so far either way; the rail twice as far.
    pub tolerance: f64,
    /// The unit.
    pub unit: &'static str,
}

/// Characters from the middle of the rail to the edge of the band.
const BAND: i32 = 10;

/// The rail as characters: `-` the line, `=` the band, `|` what is wanted, `o`
/// the candidate, `<` or `>` where it lies beyond the end.
pub fn rail(rail: &Rail) -> String {
    let end = rail.tolerance * 2.0;
    let mark = place(rail);
    let line: String = (-2 * BAND..=2 * BAND).map(|at| symbol(at, mark)).collect();
    format!(
        "{} {line} {} {}",
        number(rail.wanted - end, 1),
        number(rail.wanted + end, 1),
        rail.unit
    )
}

fn symbol(at: i32, mark: Option<i32>) -> char {
    match (mark, at) {
        (Some(mark), at) if mark < -2 * BAND && at == -2 * BAND => '<',
        (Some(mark), at) if mark > 2 * BAND && at == 2 * BAND => '>',
        (Some(mark), at) if mark == at => 'o',
        (_, 0) => '|',
        (_, at) if at.abs() <= BAND => '=',
        _ => '-',
    }
}

/// Characters from the middle to the mark; `None` where there is no band.
fn place(rail: &Rail) -> Option<i32> {
    let tolerances = (rail.offered - rail.wanted) / rail.tolerance;
    let clamped = (tolerances * f64::from(BAND)).clamp(-30.0, 30.0).round();
    (-30..=30).find(|at| (f64::from(*at) - clamped).abs() < 0.5)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(offered: f64) -> String {
        rail(&Rail {
            wanted: 200.0,
            offered,
            tolerance: 20.0,
            unit: "m/100 g",
        })
    }

    #[test]
    fn the_mark_falls_where_the_candidate_lies() {
        assert_eq!(
            drawn(210.0),
            "160 ----------==========|====o=====---------- 240 m/100 g"
        );
        assert_eq!(
            drawn(200.0),
            "160 ----------==========o==========---------- 240 m/100 g"
        );
        assert_eq!(
            drawn(180.0),
            "160 ----------o=========|==========---------- 240 m/100 g"
        );
    }

    #[test]
    fn a_candidate_beyond_the_end_is_pointed_at() {
        assert!(drawn(100.0).contains(" <-"));
        assert!(drawn(900.0).contains("-> "));
    }
}
