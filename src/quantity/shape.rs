//! Areas of knitted pieces.

use crate::measure::Length;

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

#[cfg(test)]
mod tests {
    use super::*;

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

    /// Worked examples of common practice, no source; recomputed (C83, C85): a
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
