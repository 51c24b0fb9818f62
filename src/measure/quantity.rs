//! The shape that every scalar quantity shares.

/// Declares a quantity: a finite `f64` in `$low..=$high` of the canonical unit,
/// ordered and hashable, made only through `$new`, read through `$get`.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $what:literal, $unit:literal, $new:ident, $get:ident, $low:expr, $high:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(ordered_float::NotNan<f64>);

        impl $name {
            #[doc = concat!("From a number of ", $unit, "; refused when not finite or out of range.")]
            pub fn $new(value: f64) -> Result<Self, $crate::measure::MeasureError> {
                let refused = || $crate::measure::MeasureError::OutOfRange {
                    what: $what, given: value, low: $low, high: $high, unit: $unit,
                };
                match ($low..=$high).contains(&value) {
                    true => ordered_float::NotNan::new(value).map(Self).map_err(|_| refused()),
                    false => Err(refused()),
                }
            }

            #[doc = concat!("The value in ", $unit, ".")]
            pub fn $get(self) -> f64 {
                self.0.into_inner()
            }
        }
    };
}

pub(crate) use quantity;
