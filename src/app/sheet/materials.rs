//! What the pattern's own yarns are, and what every size takes of them.

use crate::{
    app::{
        AppError,
        question::{
            ResolvedQuestion, Role,
            amounts::{KnittingPlan, SizePurchase, purchases},
            candidate::Candidate,
        },
    },
    record::{Need, NeedRange, Pattern, YarnFacts},
};

/// One of the pattern's own yarns.
#[derive(Debug, Clone)]
pub struct Material {
    /// Key of the role.
    pub key: String,
    /// The yarn of the sample, where the pattern names it.
    pub called: Option<String>,
    /// What it is.
    pub facts: YarnFacts,
    /// Strands held together.
    pub strands: u8,
    /// The needs as the pattern states them.
    pub stated: Vec<Need>,
    /// What to buy for each size.
    pub skeins: Vec<SizePurchase>,
    /// What each size takes, where that is known in metres.
    pub needs: Vec<(String, NeedRange)>,
}

/// One for each yarn role.
pub(super) fn materials(
    asked: &ResolvedQuestion,
    pattern: &Pattern,
) -> Result<Vec<Material>, AppError> {
    let roles = asked.roles.iter();
    roles.map(|role| material(asked, role, pattern)).collect()
}

fn material(
    asked: &ResolvedQuestion,
    role: &Role,
    pattern: &Pattern,
) -> Result<Material, AppError> {
    let facts = role.wanted.facts.clone();
    let plan = KnittingPlan {
        strands: role.wanted.strands,
        factor: 1.0,
    };
    let own = Candidate {
        facts: facts.clone(),
        ..Candidate::default()
    };
    let mut yarns = pattern.yarns.iter();
    let yarn = yarns.find(|yarn| yarn.key.as_str() == role.key);
    Ok(Material {
        key: role.key.clone(),
        called: yarn.and_then(|yarn| yarn.called.clone()),
        strands: plan.strands,
        stated: role.needs.clone(),
        skeins: purchases(asked, role, &own, plan)?,
        needs: needs(asked, role)?,
        facts,
    })
}

fn needs(asked: &ResolvedQuestion, role: &Role) -> Result<Vec<(String, NeedRange)>, AppError> {
    let mut found = Vec::new();
    for (place, size) in asked.chosen_sizes() {
        let need = role.needs.get(place);
        let metres = need.and_then(|need| need.in_metres(role.wanted.facts.grist()));
        if let Some(metres) = metres.transpose()? {
            found.push((size.to_owned(), metres));
        }
    }
    Ok(found)
}
