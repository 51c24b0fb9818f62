//! One need spread over several leftovers, as in stripes: what they hold together, which
//! sizes that makes, and whether each of them works.

mod request;

pub use request::StripesRequest;

use super::{
    AppError, FieldNote, InputReader, QuestionFault, Records,
    question::{
        ResolvedQuestion, Role,
        amounts::KnittingPlan,
        answer::{CandidateAnswer, Working, best_plan, judged},
        candidate::Candidate,
        cover::Allotted,
        in_hand::{InHand, needs_of},
        lookup::{candidate_of, no_such_shade, yarn_and_shade},
        resolve,
    },
};
use crate::{
    measure::Length,
    record::{Printed, Stored, Yarn},
    store::Reader,
    trade::Colour,
};
use ordered_float::OrderedFloat;

/// Answer to [`stripes`].
#[derive(Debug, Clone)]
pub struct StripesAnswer {
    /// The pattern.
    pub pattern: String,
    /// Key of its yarn.
    pub role: String,
    /// Shades of yarns: as named, else the best first.
    pub leftovers: Vec<Leftover>,
    /// Which sizes those that should or could work make together.
    pub together: InHand,
    /// Yarns of the stash that will not work, or cannot be judged, and were not named.
    pub not_usable: usize,
    /// Yarns of the stash that are not as wished.
    pub not_wished: usize,
    /// How the answer was reached.
    pub working: Vec<Working>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// What is left of one shade of a yarn.
#[derive(Debug, Clone)]
pub struct Leftover {
    /// The yarn, its lots those of this shade.
    pub offered: CandidateAnswer,
    /// Its shade; `None` where there is none in the stash.
    pub shade: Option<String>,
    /// The colour of the shade.
    pub colour: Option<Printed<Colour>>,
    /// How long it is, where that is known.
    pub length: Option<Length>,
    /// How much of the need it meets, m: of a yarn held double half of its length.
    pub meets_m: f64,
    /// Sizes for which it is enough alone, with what is to be spare.
    pub alone: Vec<String>,
}

/// Spreads what the pattern needs over these yarns, or over all of the stash.
pub fn stripes(records: &Records, request: &StripesRequest) -> Result<StripesAnswer, AppError> {
    let mut input = InputReader::default();
    let question = request.question();
    input.several("yarns", &request.yarns);
    let pattern = records.pattern_asked(&mut input, &question)?;
    let asked = resolve(&mut input, &question, pattern.as_ref())?;
    let asked = input.checked(asked)?.alone();
    let [role] = asked.roles.as_slice() else {
        let keys = asked.roles.iter().map(|role| role.key.clone()).collect();
        let pattern = asked.title.clone();
        input.fault("for", QuestionFault::RoleNeeded { pattern, keys });
        return input.checked(None);
    };
    let reader = records.store()?.reader()?;
    let spread = Spread {
        reader: &reader,
        asked: &asked,
        role,
        with_reserved: request.terms.with_reserved,
        needs: needs_of(&asked, role, of_pattern(role))?,
    };
    let names = request.names();
    let found = match names.as_slice() {
        [] => spread.all()?,
        names => spread.named(names)?,
    };
    let works = found.leftovers.iter().filter(|it| it.offered.is_usable());
    let metres = works.map(|it| it.meets_m).sum();
    let together = InHand::of_length(Length::metres(metres)?, asked.margin, spread.needs.clone());
    Ok(StripesAnswer {
        pattern: asked.title.clone(),
        role: role.key.clone(),
        leftovers: found.leftovers,
        together,
        not_usable: found.not_usable,
        not_wished: found.not_wished,
        working: asked.working.clone(),
        notes: input.notes,
    })
}

/// As the pattern holds it: its need counts all strands.
fn of_pattern(role: &Role) -> KnittingPlan {
    KnittingPlan {
        strands: role.wanted.strands,
        factor: 1.0,
    }
}

#[derive(Default)]
struct Found {
    leftovers: Vec<Leftover>,
    not_usable: usize,
    not_wished: usize,
}

struct Spread<'a> {
    reader: &'a Reader<'a>,
    asked: &'a ResolvedQuestion,
    role: &'a Role,
    with_reserved: bool,
    /// Size, key of the yarn, strand metres as the pattern holds it.
    needs: Vec<(String, String, Length)>,
}

impl Spread<'_> {
    /// Those that should or could work, the best first, of equals the longest.
    fn all(&self) -> Result<Found, AppError> {
        let mut found = Found::default();
        for id in self.reader.yarns_in_stock()? {
            let candidate = self.candidate(self.reader.yarn(id)?)?;
            if candidate.lots.is_empty() {
                continue;
            }
            let blend = candidate.facts.blend.as_ref().map(|blend| &blend.value);
            let is_excluded = self.asked.settings.limits.exclusion(blend).is_some();
            let shades = self.shades(candidate)?;
            if is_excluded || shades.is_empty() {
                found.not_wished += 1;
            } else if shades.iter().all(|it| it.offered.is_usable()) {
                found.leftovers.extend(shades);
            } else {
                found.not_usable += 1;
            }
        }
        found
            .leftovers
            .sort_by_key(|it| (it.offered.judgement.verdict, OrderedFloat(-it.meets_m)));
        Ok(found)
    }

    fn named(&self, names: &[&str]) -> Result<Found, AppError> {
        let mut found = Found::default();
        for name in names {
            let (yarn, shade) = yarn_and_shade(self.reader, name)?;
            let known = yarn.record.shades.clone();
            let mut candidate = self.candidate(yarn)?;
            if let Some(shade) = shade {
                let kept = candidate.keep_shade(shade, &known);
                kept.map_err(|all| no_such_shade("yarns", shade, all))?;
            }
            match candidate.lots.is_empty() {
                true => found.leftovers.push(self.leftover(candidate, None)?),
                false => {
                    let shades = self.shades(candidate)?;
                    found.not_wished += usize::from(shades.is_empty());
                    found.leftovers.extend(shades);
                }
            }
        }
        Ok(found)
    }

    fn candidate(&self, yarn: Stored<Yarn>) -> Result<Candidate, AppError> {
        candidate_of(self.reader, yarn, self.with_reserved)
    }

    /// One for each shade that is as wished, in the order of its lots.
    fn shades(&self, mut candidate: Candidate) -> Result<Vec<Leftover>, AppError> {
        if self.asked.wishes.keep_lots(&mut candidate).is_some() {
            return Ok(Vec::new());
        }
        let mut names: Vec<String> = Vec::new();
        for held in &candidate.lots {
            if !names.contains(&held.lot.shade) {
                names.push(held.lot.shade.clone());
            }
        }
        let of_shade = |name: String| {
            let lots = candidate.lots.iter();
            let lots = lots
                .filter(|held| held.lot.shade == name)
                .cloned()
                .collect();
            let of_shade = Candidate {
                lots,
                ..candidate.clone()
            };
            self.leftover(of_shade, Some(name))
        };
        names.into_iter().map(of_shade).collect()
    }

    fn leftover(&self, candidate: Candidate, shade: Option<String>) -> Result<Leftover, AppError> {
        let lots = candidate.lots.iter();
        let lengths: Option<Vec<f64>> = lots
            .map(|held| Some(held.length(&candidate.facts)?.as_metres()))
            .collect();
        let metres: Option<f64> = lengths.map(|lengths| lengths.iter().sum());
        let judgement = judged(self.asked, self.role, &candidate, 1);
        let plan = best_plan(&judgement, 1);
        let meets_m = metres.unwrap_or(0.0) * self.share_of_need(plan);
        let spare = 1.0 + self.asked.margin.as_fraction();
        let is_enough = |need: &Length| meets_m >= need.as_metres() * spare - 1e-9;
        let alone = self.needs.iter().filter(|(_, _, need)| is_enough(need));
        let colour = candidate
            .lots
            .iter()
            .find_map(|held| held.lot.colour.clone());
        let none = Allotted::default();
        Ok(Leftover {
            alone: alone.map(|(size, ..)| size.clone()).collect(),
            length: metres.map(Length::metres).transpose()?,
            meets_m,
            colour,
            shade,
            offered: CandidateAnswer::new(
                self.asked,
                self.role,
                candidate,
                (judgement, plan),
                &none,
            )?,
        })
    }

    /// What a metre of a yarn that is knitted so meets of the pattern's need: the strands
    /// of the pattern / (strands of the yarn x k), as [`crate::quantity::strand_need`]
    /// counts them the other way round.
    fn share_of_need(&self, plan: KnittingPlan) -> f64 {
        f64::from(self.role.wanted.strands) / (f64::from(plan.strands) * plan.factor)
    }
}
