//! Yarn in edges: cast-on, bind-off, picked-up bands, tails.

use crate::measure::Length;

/// An edge that is worked along, and the tails left hanging on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// Along the edge.
    pub length: Length,
    /// Lengths of yarn that one length of the edge takes.
    pub takes: f64,
    /// Tail that is left beside it.
    pub tail: Length,
    /// How many such edges there are.
    pub times: u32,
}

impl Edge {
    /// Yarn, m: times x (length x takes + tail). How many lengths an edge takes is
    /// the user's: tables of practice say 3 to 6 and disagree (no source).
    pub fn metres(&self) -> f64 {
        f64::from(self.times) * (self.length.as_metres() * self.takes + self.tail.as_metres())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(value: f64) -> Length {
        Length::metres(value * 0.0254).unwrap()
    }

    /// Worked examples of common practice, no source; recomputed (C93, C95): 4
    /// times 9 in are 36 in; 3 times the 10 in of 50 stitches are 30 in.
    #[test]
    fn an_edge_takes_a_multiple_of_its_length() {
        for (length, takes, expected) in [(9.0, 4.0, 36.0), (10.0, 3.0, 30.0)] {
            let edge = Edge {
                length: inches(length),
                takes,
                tail: inches(0.0),
                times: 1,
            };
            assert!((edge.metres() / 0.0254 - expected).abs() < 1e-9);
        }
    }

    #[test]
    fn tails_count_for_every_edge() {
        let edge = Edge {
            length: Length::metres(0.5).unwrap(),
            takes: 3.0,
            tail: Length::metres(0.2).unwrap(),
            times: 2,
        };
        assert!((edge.metres() - 3.4).abs() < 1e-12);
    }
}
