//! A knitted piece: its outline, how much fabric it is, its rows and its edges.

use crate::{measure::Length, record::RowRange};

/// The outline of one piece, every measure a length of the finished fabric.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Straight sides.
    Rectangle {
        /// Across.
        width: Length,
        /// Along.
        height: Length,
    },
    /// A sleeve, a shaped body: it widens or narrows evenly.
    Trapezoid {
        /// Across the one end.
        width: Length,
        /// Across the other end.
        top: Length,
        /// Along.
        height: Length,
    },
    /// A shawl from a point, a gusset.
    Triangle {
        /// Across the wide end.
        width: Length,
        /// From there to the point.
        height: Length,
    },
    /// What a straight line cuts off a circle: a sleeve cap, a crescent.
    Segment {
        /// Along the line.
        width: Length,
        /// From the line to the arc.
        height: Length,
    },
    /// A circle, a ring or a part of one: a round yoke, half a round shawl.
    Ring {
        /// From the centre to the outer edge.
        radius: Length,
        /// From the centre to the inner edge.
        inner: Length,
        /// How much of the full turn, degrees.
        degrees: f64,
    },
    /// A body, a sleeve or a sock in the round.
    Tube {
        /// Around the one end.
        around: Length,
        /// Around the other end.
        top: Length,
        /// Along.
        height: Length,
    },
}

impl Shape {
    /// Area, m2: rectangle w h; trapezoid and tube (w + t) h / 2; triangle
    /// w h / 2; ring d / 360 pi (R^2 - r^2), d degrees of the turn; segment of a
    /// circle of radius r = (w^2 / 4 + h^2) / (2 h): r^2 acos((r - h) / r) -
    /// (r - h) w / 2. Plane geometry; no rounding.
    pub fn area(&self) -> f64 {
        let m = Length::as_metres;
        match *self {
            Self::Rectangle { width, height } => m(width) * m(height),
            Self::Trapezoid { width, top, height } => (m(width) + m(top)) / 2.0 * m(height),
            Self::Tube {
                around,
                top,
                height,
            } => (m(around) + m(top)) / 2.0 * m(height),
            Self::Triangle { width, height } => m(width) * m(height) / 2.0,
            Self::Segment { width, height } => segment(m(width), m(height)),
            Self::Ring {
                radius,
                inner,
                degrees,
            } => degrees / 360.0 * std::f64::consts::PI * (m(radius).powi(2) - m(inner).powi(2)),
        }
    }
}

fn segment(width: f64, height: f64) -> f64 {
    let radius = (width * width / 4.0 + height * height) / (2.0 * height);
    let beyond = radius - height;
    radius * radius * (beyond / radius).clamp(-1.0, 1.0).acos() - beyond * width / 2.0
}

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

/// What yarn is computed by.
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

/// Stitches worked in all: the sum over the runs of rows (first + last) / 2,
/// the sum of an even row of numbers. A triangle is judged by these, not by its
/// rows: 77 of 100 rows are 59 % of its stitches.
pub fn stitches_in(ranges: &[RowRange]) -> f64 {
    ranges
        .iter()
        .map(|range| f64::from(range.rows) * (range.first + range.last) / 2.0)
        .sum()
}

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
    mod shape {
        use super::super::*;

        fn inches(value: f64) -> Length {
            Length::metres(value * 0.0254).unwrap()
        }

        fn square_inches(shape: Shape) -> f64 {
            shape.area() / (0.0254 * 0.0254)
        }

        fn trapezoid(width: f64, top: f64, height: f64) -> f64 {
            square_inches(Shape::Trapezoid {
                width: inches(width),
                top: inches(top),
                height: inches(height),
            })
        }

        /// FlatOrRound examples of common practice, no source; recomputed (C83, C85): a
        /// sleeve of 8 to 15 in over 18 in is 207 sq in; 9 to 12 in over 10.5 in is
        /// 110.25; a cap of 12 to 4.25 in over 5 in is 40.625.
        /// DIFFERENCE: printed 81.25 for that cap, which is not halved.
        #[test]
        fn a_trapezoid_is_halved() {
            assert!((trapezoid(8.0, 15.0, 18.0) - 207.0).abs() < 1e-9);
            assert!((trapezoid(9.0, 12.0, 10.5) - 110.25).abs() < 1e-9);
            assert!((trapezoid(12.0, 4.25, 5.0) - 40.625).abs() < 1e-9);
        }

        #[test]
        fn a_segment_as_high_as_half_its_width_is_half_a_circle() {
            let half = Shape::Segment {
                width: inches(20.0),
                height: inches(10.0),
            };
            let ring = Shape::Ring {
                radius: inches(10.0),
                inner: inches(0.0),
                degrees: 180.0,
            };
            assert!((square_inches(half) - 50.0 * std::f64::consts::PI).abs() < 1e-9);
            assert!((half.area() - ring.area()).abs() < 1e-12);
        }

        #[test]
        fn a_segment_beyond_half_a_circle_is_what_the_rest_leaves() {
            let part = |height: f64| {
                square_inches(Shape::Segment {
                    width: inches(16.0),
                    height: inches(height),
                })
            };
            assert!((part(4.0) + part(16.0) - 100.0 * std::f64::consts::PI).abs() < 1e-9);
        }

        /// Plane geometry, by hand: half of 20 x 10; half a ring from 6 to 10 is 32 pi;
        /// a segment that spans 120 degrees of a circle of 10 is 100 / 2 (2 pi / 3 -
        /// sin 120).
        #[test]
        fn triangles_rings_and_segments_have_their_areas() {
            let triangle = Shape::Triangle {
                width: inches(20.0),
                height: inches(10.0),
            };
            assert!((square_inches(triangle) - 100.0).abs() < 1e-9);
            let ring = Shape::Ring {
                radius: inches(10.0),
                inner: inches(6.0),
                degrees: 180.0,
            };
            assert!((square_inches(ring) - 100.530_965).abs() < 5e-7);
            let segment = Shape::Segment {
                width: inches(2.0 * 75.0_f64.sqrt()),
                height: inches(5.0),
            };
            assert!((square_inches(segment) - 61.418_485).abs() < 5e-7);
        }

        #[test]
        fn a_tube_is_the_rectangle_that_it_would_be_cut_open() {
            let tube = Shape::Tube {
                around: inches(40.0),
                top: inches(40.0),
                height: inches(18.0),
            };
            assert!((square_inches(tube) - 720.0).abs() < 1e-9);
        }
    }

    mod extent {
        use super::super::*;

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

    mod row_counts {
        use super::super::*;

        fn triangle(rows: u32) -> f64 {
            stitches_in(&[RowRange {
                rows,
                first: 1.0,
                last: f64::from(rows),
            }])
        }

        /// A worked example of common practice, no source; recomputed: 77 % of the
        /// rows of a triangle are 59 % of its yarn.
        #[test]
        fn three_quarters_of_the_rows_of_a_triangle_are_not_three_quarters_of_its_yarn() {
            let share = triangle(77) / triangle(100);
            assert!((share - 0.59).abs() < 0.005, "{share}");
        }

        #[test]
        fn straight_rows_are_rows_times_stitches() {
            let straight = RowRange {
                rows: 20,
                first: 20.0,
                last: 20.0,
            };
            assert_eq!(stitches_in(&[straight, straight]), 800.0);
        }
    }

    mod edge {
        use super::super::*;

        fn inches(value: f64) -> Length {
            Length::metres(value * 0.0254).unwrap()
        }

        /// FlatOrRound examples of common practice, no source; recomputed (C93, C95): 4
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
}
