//! A plan as fields for programs.

use super::{left_out::why, named, plan_working};
use crate::{
    app::{
        KeptProject, LeftOutProject, LotUse, PlanAnswer, PlannedProject, PlannedPurchase,
        PlannedYarn, Reservation, StockLot,
    },
    measure::Length,
    report::{
        SWATCH_LINE, Style,
        candidate::cautions,
        json::{fields_of, list},
        judgement::{VERDICTS, conditions_of, verdict_words},
    },
};

fields_of! {
    /// What can be made from one stash, in the order that was asked.
    PlanFields(answer: &PlanAnswer, style: &Style) {
        /// Projects that can be made.
        made: Vec<MadeFields> = list(&answer.made, |made| MadeFields::of(made, style)),
        /// Projects that cannot, and what to buy for them.
        left_out: Vec<LeftOutFields> =
            list(&answer.left_out, |left| LeftOutFields::of(left, style)),
        /// How much of each lot is used.
        lots: Vec<UseFields> = list(&answer.uses, UseFields::of),
        /// Whether no plan is better; else no more than `at_most` can be made.
        optimal: bool = answer.is_optimal,
        /// The most projects that could be made.
        at_most: usize = answer.at_most,
        /// How it was worked out.
        working: Vec<String> = plan_working(answer, style),
        /// What was noticed in what was typed.
        warnings: Vec<String> = style.notes(&answer.notes),
        /// That only a washed swatch proves it.
        swatch: &'static str = SWATCH_LINE,
    }
}

fields_of! {
    /// How much of a lot is used.
    UseFields(used: &LotUse) where lot = &used.lot.lot; {
        /// The yarn.
        yarn: String = used.yarn.clone(),
        /// The shade.
        shade: String = lot.shade.clone(),
        /// The dye lot, where it is recorded.
        lot: Option<String> = lot.lot.clone(),
        /// Where it is.
        place: String = lot.place.clone(),
        /// Metres that are used, spare included.
        used_m: f64 = used.used_m,
        /// Metres that are left.
        left_m: f64 = used.left_m,
    }
}

fields_of! {
    /// What your records say of a project.
    KeptFields(kept: &KeptProject) {
        /// Its number.
        number: i64 = kept.number,
        /// Its place: 1 matters most.
        rank: usize = kept.rank,
        /// What is reserved for it.
        reserved: Vec<ReservedFields> = list(&kept.reserved, ReservedFields::of),
    }
}

fields_of! {
    /// What is reserved of a lot.
    ReservedFields(reserved: &Reservation) {
        /// Number of the lot.
        number: i64 = reserved.lot,
        /// The lot.
        lot: String = reserved.title.clone(),
        /// How much.
        amount: String = reserved.amount.to_string(),
    }
}

fields_of! {
    /// A project that can be made.
    MadeFields(made: &PlannedProject, style: &Style) {
        /// Its name, else that of its pattern.
        project: String = named(made.kept.as_ref(), &made.pattern).to_owned(),
        /// Its pattern.
        pattern: String = made.pattern.clone(),
        /// Its size.
        size: String = made.size.clone(),
        /// Of your own projects what your records say.
        kept: Option<KeptFields> = made.kept.as_ref().map(KeptFields::of),
        /// The yarn for each yarn of the pattern.
        yarns: Vec<PlannedFields> = list(&made.yarns, |yarn| PlannedFields::of(yarn, style)),
    }
}

fields_of! {
    /// The yarn for one yarn of a pattern.
    PlannedFields(yarn: &PlannedYarn, style: &Style) {
        /// Key of the pattern's yarn.
        role: String = yarn.role.clone(),
        /// The yarn.
        yarn: String = yarn.offered.candidate.title.clone(),
        /// Its shade.
        shade: String = yarn.shade.clone(),
        /// `should work`, `could work, if ...`, `cannot say` or `will not work`.
        #[schemars(extend("enum" = VERDICTS))]
        verdict: &'static str = verdict_words(yarn.offered.judgement.verdict),
        /// What can go wrong.
        cautions: Vec<String> = cautions(&yarn.offered),
        /// What has to be met, in sentences.
        conditions: Vec<String> = conditions_of(&yarn.offered, style),
        /// Strands held together.
        strands: u8 = yarn.offered.plan.strands,
        /// Metres needed, spare included.
        need_m: f64 = yarn.takes.as_metres(),
        /// From which lots.
        lots: Vec<TakenLot> = list(&yarn.lots, TakenLot::of),
    }
}

fields_of! {
    /// What the plan takes of a lot.
    TakenLot(taken: &(StockLot, Length)) where (held, takes) = taken; {
        /// Its number.
        number: i64 = held.id.number(),
        /// The dye lot, where it is recorded.
        lot: Option<String> = held.lot.lot.clone(),
        /// Where it is.
        place: String = held.lot.place.clone(),
        /// Metres, spare included.
        take_m: f64 = takes.as_metres(),
    }
}

fields_of! {
    /// A project that cannot be made.
    LeftOutFields(left: &LeftOutProject, style: &Style) where buy = left.buy.as_ref(); {
        /// Its name, else that of its pattern.
        project: String = named(left.kept.as_ref(), &left.pattern).to_owned(),
        /// Its pattern.
        pattern: String = left.pattern.clone(),
        /// Its size.
        size: String = left.size.clone(),
        /// Of your own projects what your records say.
        kept: Option<KeptFields> = left.kept.as_ref().map(KeptFields::of),
        /// Why it cannot be made.
        why: String = why(left, style),
        /// What to buy for it.
        buy: Vec<BuyFields> = buy.map(|it| list(&it.yarns, |yarn| BuyFields::of(yarn, style))).unwrap_or_default(),
        /// Cost of all of it with its currency, where the prices are known.
        cost: Option<String> = buy.and_then(|it| it.cost).map(|cost| cost.to_string()),
        /// Whether it is proved that nothing costs less, or that nothing is shorter where
        /// prices are not known, among the yarns that fit best.
        buy_is_least: Option<bool> = buy.map(|it| it.is_least),
    }
}

fields_of! {
    /// What to buy of one yarn.
    BuyFields(yarn: &PlannedPurchase, style: &Style) {
        /// Key of the pattern's yarn.
        role: String = yarn.role.clone(),
        /// The yarn.
        yarn: String = yarn.offered.candidate.title.clone(),
        /// The shade of which your stash has some.
        shade: Option<String> = yarn.shade.clone(),
        /// `should work` or `could work, if ...`.
        #[schemars(extend("enum" = VERDICTS))]
        verdict: &'static str = verdict_words(yarn.offered.judgement.verdict),
        /// What can go wrong.
        cautions: Vec<String> = cautions(&yarn.offered),
        /// What has to be met, in sentences.
        conditions: Vec<String> = conditions_of(&yarn.offered, style),
        /// Whole skeins to buy.
        skeins: u32 = yarn.skeins,
        /// Cost with its currency, where the price is known.
        cost: Option<String> = yarn.cost.map(|cost| cost.to_string()),
        /// Metres needed, spare included.
        need_m: f64 = yarn.takes.as_metres(),
        /// Metres of it that your stash has.
        from_stash_m: f64 = yarn.from_stash.as_metres(),
    }
}
