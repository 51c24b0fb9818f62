//! A plan as fields for programs.

use super::{left_out::why, named};
use crate::{
    app::{KeptProject, LeftOutProject, LotUse, PlannedProject, PlannedYarn},
    report::{
        Style,
        judgement::{conditions_of, verdict_words},
    },
};
use serde_json::{Value, json};

/// How much of a lot is used, and what is left of it.
pub(super) fn use_fields(used: &LotUse) -> Value {
    let lot = &used.lot.lot;
    json!({
        "yarn": used.yarn,
        "shade": lot.shade,
        "lot": lot.lot,
        "place": lot.place,
        "used_m": used.used_m,
        "left_m": used.left_m,
    })
}

/// What is said of a project in the records, beside its name.
fn kept_fields(kept: &KeptProject) -> Value {
    let reserved = kept
        .reserved
        .iter()
        .map(|it| json!({ "number": it.lot, "lot": it.title, "amount": it.amount.to_string() }));
    json!({
        "number": kept.number,
        "rank": kept.rank,
        "reserved": reserved.collect::<Vec<_>>(),
    })
}

pub(super) fn made_fields(made: &PlannedProject, style: &Style) -> Value {
    let yarn = |yarn: &PlannedYarn| {
        let lots = yarn.lots.iter().map(|(held, takes)| {
            json!({
                "number": held.id.number(),
                "lot": held.lot.lot,
                "place": held.lot.place,
                "take_m": takes.as_metres(),
            })
        });
        json!({
            "role": yarn.role,
            "yarn": yarn.offered.candidate.title,
            "shade": yarn.shade,
            "verdict": verdict_words(yarn.offered.judgement.verdict),
            "conditions": conditions_of(&yarn.offered, style),
            "strands": yarn.offered.plan.strands,
            "need_m": yarn.takes.as_metres(),
            "lots": lots.collect::<Vec<_>>(),
        })
    };
    json!({
        "project": named(made.kept.as_ref(), &made.pattern),
        "pattern": made.pattern,
        "size": made.size,
        "kept": made.kept.as_ref().map(kept_fields),
        "yarns": made.yarns.iter().map(yarn).collect::<Vec<_>>(),
    })
}

pub(super) fn left_out_fields(left: &LeftOutProject, style: &Style) -> Value {
    let lists = left.buy.iter();
    let bought = lists.flat_map(|list| &list.yarns);
    let buy = bought.map(|yarn| {
        json!({
            "role": yarn.role,
            "yarn": yarn.candidate.title,
            "shade": yarn.shade,
            "skeins": yarn.skeins,
            "cost": yarn.cost.map(|cost| cost.to_string()),
            "need_m": yarn.takes.as_metres(),
            "from_stash_m": yarn.from_stash.as_metres(),
        })
    });
    json!({
        "project": named(left.kept.as_ref(), &left.pattern),
        "pattern": left.pattern,
        "size": left.size,
        "kept": left.kept.as_ref().map(kept_fields),
        "why": why(&left.why, style),
        "buy": buy.collect::<Vec<_>>(),
        "cost": left.buy.as_ref().and_then(|list| list.cost).map(|cost| cost.to_string()),
    })
}
