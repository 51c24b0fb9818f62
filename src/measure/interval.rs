//! A closed range whose ends are in order.

use super::MeasureError;

/// From `low` to `high`, both included; one value when they are equal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Interval<T> {
    low: T,
    high: T,
}

impl<T: Copy + PartialOrd + std::fmt::Debug> Interval<T> {
    /// The range that holds exactly one value.
    pub fn one(value: T) -> Self {
        Self {
            low: value,
            high: value,
        }
    }

    /// The range from `low` to `high`; refused when `low` is above `high`.
    pub fn between(low: T, high: T) -> Result<Self, MeasureError> {
        if low <= high {
            Ok(Self { low, high })
        } else {
            Err(MeasureError::RangeReversed {
                low: format!("{low:?}"),
                high: format!("{high:?}"),
            })
        }
    }

    /// The lower end.
    pub fn low(&self) -> T {
        self.low
    }

    /// The upper end.
    pub fn high(&self) -> T {
        self.high
    }

    /// Whether it is one value.
    pub fn is_one(&self) -> bool {
        self.low == self.high
    }

    /// The value in the range that lies nearest to `value`.
    pub fn nearest(&self, value: T) -> T {
        if value < self.low {
            self.low
        } else if value > self.high {
            self.high
        } else {
            value
        }
    }

    /// Both ends through `change`, which must keep their order.
    pub fn map<U: Copy + PartialOrd + std::fmt::Debug>(
        &self,
        change: impl Fn(T) -> U,
    ) -> Interval<U> {
        Interval {
            low: change(self.low),
            high: change(self.high),
        }
    }
}

impl Interval<f64> {
    /// The middle: (low + high) / 2.
    pub fn middle(&self) -> f64 {
        (self.low + self.high) / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_counts_from_its_nearer_end() {
        let range = Interval::between(20.0, 22.0).unwrap();
        assert_eq!(range.nearest(18.0), 20.0);
        assert_eq!(range.nearest(21.0), 21.0);
        assert_eq!(range.nearest(30.0), 22.0);
    }

    #[test]
    fn ends_out_of_order_and_nan_are_refused() {
        assert!(Interval::between(2.0, 1.0).is_err());
        assert!(Interval::between(f64::NAN, 1.0).is_err());
    }
}
