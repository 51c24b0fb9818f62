//! Whether metres and grams come first, or yards and ounces.

/// Which unit of a pair comes first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnitOrder {
    /// Metres and grams, then yards and ounces.
    #[default]
    MetricFirst,
    /// Yards and ounces, then metres and grams.
    YardsFirst,
}

impl UnitOrder {
    /// Two texts of the same value, the preferred one first.
    pub fn of<T>(self, metric: T, other: T) -> [T; 2] {
        match self {
            Self::MetricFirst => [metric, other],
            Self::YardsFirst => [other, metric],
        }
    }
}
