//! What someone has in hand, without keeping a record of it: which sizes it makes, and
//! what is left over or lacks.

use super::{
    ResolvedQuestion, Role,
    amounts::{KnittingPlan, strand_metres},
    candidate::Candidate,
};
use crate::{
    app::{AppError, InputReader, QuestionFault, input::filled},
    label::cells::{self, HandAmount},
    measure::{Length, Ratio},
    quantity::Purchase,
};

/// What is in hand, and what each size takes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct InHand {
    /// As typed.
    pub text: String,
    /// How long it is.
    pub length: Length,
    /// What is to be spare.
    pub margin: Ratio,
    /// Each size of each yarn of the pattern, in order.
    pub sizes: Vec<SizeInHand>,
}

/// What one size takes of one yarn of the pattern.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeInHand {
    /// The size.
    pub size: String,
    /// Key of the pattern's yarn.
    pub yarn: String,
    /// Strand metres, nothing spare.
    pub need: Length,
    /// What is left over of what is in hand, m; below 0 what lacks.
    pub left_m: f64,
    /// Whether it is enough.
    pub enough: EnoughInHand,
}

/// Whether what is in hand is enough.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EnoughInHand {
    /// With what is to be spare.
    WithSpare,
    /// For the need, and not for all that is to be spare.
    Just,
    /// Not for the need.
    TooLittle,
}

/// An amount as typed.
#[derive(Debug, Clone)]
pub(in crate::app) struct TypedAmount {
    text: String,
    amount: HandAmount,
}

impl TypedAmount {
    pub(in crate::app) fn read(reader: &mut InputReader, typed: Option<&str>) -> Option<Self> {
        let text = filled(typed)?.to_owned();
        let amount = reader.optional("have", typed, cells::amount_in_hand)?;
        Some(Self { text, amount })
    }

    /// What it makes of these needs: size, key of the yarn, strand metres. Refused where
    /// it is not known how long it is.
    pub(in crate::app) fn makes(
        self,
        candidate: &Candidate,
        margin: Ratio,
        needs: Vec<(String, String, Length)>,
    ) -> Result<InHand, AppError> {
        let facts = &candidate.facts;
        let length = match self.amount {
            HandAmount::Length(length) => Some(length),
            HandAmount::Stock(amount) => amount.length(facts.skein_length(), facts.grist()),
        };
        let Some(length) = length else {
            let mut refused = InputReader::default();
            refused.fault("have", QuestionFault::HaveWithoutLength(self.text));
            return refused.checked(None);
        };
        Ok(InHand {
            text: self.text,
            ..InHand::of_length(length, margin, needs)
        })
    }
}

impl InHand {
    /// What so much length makes of these needs.
    pub(in crate::app) fn of_length(
        length: Length,
        margin: Ratio,
        needs: Vec<(String, String, Length)>,
    ) -> Self {
        let size = |(size, yarn, need)| SizeInHand::new(size, yarn, need, (length, margin));
        Self {
            text: String::new(),
            length,
            margin,
            sizes: needs.into_iter().map(size).collect(),
        }
    }
}

impl SizeInHand {
    /// Enough is `have >= need x (1 + margin)`, just enough `have >= need`; an exact fit
    /// is enough.
    fn new(size: String, yarn: String, need: Length, (have, margin): (Length, Ratio)) -> Self {
        let left_m = have.as_metres() - need.as_metres();
        let spare = need.as_metres() * margin.as_fraction();
        let enough = if left_m >= spare - 1e-9 {
            EnoughInHand::WithSpare
        } else if left_m >= -1e-9 {
            EnoughInHand::Just
        } else {
            EnoughInHand::TooLittle
        };
        Self {
            size,
            yarn,
            need,
            left_m,
            enough,
        }
    }
}

/// The strand metres of every size that is asked about.
pub(in crate::app) fn needs_of(
    asked: &ResolvedQuestion,
    role: &Role,
    plan: KnittingPlan,
) -> Result<Vec<(String, String, Length)>, AppError> {
    let mut needs = Vec::new();
    for (place, size) in asked.chosen_sizes() {
        if let Some(need) = strand_metres(role, place, plan)? {
            needs.push((size.to_owned(), role.key.clone(), need.buy_for));
        }
    }
    Ok(needs)
}

/// The same of what is bought for a size.
pub(in crate::app) fn need_bought(
    size: &str,
    yarn: &str,
    bought: &Purchase,
) -> (String, String, Length) {
    (size.to_owned(), yarn.to_owned(), bought.need.buy_for)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Mass;
    use crate::record::{Printed, YarnFacts};

    fn metres(m: f64) -> Length {
        Length::metres(m).unwrap()
    }

    /// A cone: metres per gram are known, not how long one is.
    fn dk() -> Candidate {
        Candidate {
            facts: YarnFacts {
                length: Some(Printed::new("", metres(120.0))),
                mass: Some(Printed::new("", Mass::grams(50.0).unwrap())),
                ..YarnFacts::default()
            },
            ..Candidate::default()
        }
    }

    fn makes(text: &str, needs: &[f64]) -> InHand {
        let amount = cells::amount_in_hand(text).unwrap().value;
        let typed = TypedAmount {
            text: text.to_owned(),
            amount,
        };
        let needs = needs
            .iter()
            .map(|need| (String::new(), String::new(), metres(*need)));
        typed
            .makes(&dk(), Ratio::whole_percent(10), needs.collect())
            .unwrap()
    }

    #[test]
    fn grams_balls_and_metres_are_the_same_length_of_one_yarn() {
        for text in ["50 g", "1 ball", "120 m", "131.2336 yd"] {
            let length = makes(text, &[]).length.as_metres();
            assert!((length - 120.0).abs() < 1e-3, "{text}: {length}");
        }
    }

    #[test]
    fn a_size_is_made_with_its_spare_or_just_or_not() {
        let made = makes("1100 m", &[1000.0, 1000.1, 1100.0, 1100.1]);
        let enough: Vec<EnoughInHand> = made.sizes.iter().map(|size| size.enough).collect();
        assert_eq!(
            enough,
            [
                EnoughInHand::WithSpare,
                EnoughInHand::Just,
                EnoughInHand::Just,
                EnoughInHand::TooLittle
            ]
        );
        assert!((made.sizes[3].left_m + 0.1).abs() < 1e-9);
    }
}
