//! What a candidate is judged by.

/// What a candidate is judged by, in the order in which answers list it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Criterion {
    /// Length per mass.
    Grist,
    /// Stitches over a length.
    Gauge,
    /// Weight class.
    WeightClass,
    /// Fibres.
    Fibre,
    /// How it is built.
    Construction,
    /// Washing.
    Care,
}

impl Criterion {
    /// All of them, in order.
    pub const ALL: [Self; 6] = [
        Self::Grist,
        Self::Gauge,
        Self::WeightClass,
        Self::Fibre,
        Self::Construction,
        Self::Care,
    ];

    /// The words used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Grist => "grist",
            Self::Gauge => "gauge",
            Self::WeightClass => "weight class",
            Self::Fibre => "fibre",
            Self::Construction => "construction",
            Self::Care => "care",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn criteria_have_the_names_that_are_documented() {
        let names = Criterion::ALL.map(Criterion::name);
        assert_eq!(
            names.join(", "),
            "grist, gauge, weight class, fibre, construction, care"
        );
    }
}
