//! The yarn of a plan, reserved for its projects in one change. Amounts are judged again
//! by the ledgers as they are then, so that nothing is promised twice.

use super::{KeptProject, PlanAnswer, PlanRequest, PlannedProject, plan, plan_in};
use crate::{
    app::{
        AppError, PlanReserved, ProjectChange, RecordChange, Records,
        projects::{
            Reservation,
            reservations::{Reservations, enter, release},
        },
        question::candidate::StockLot,
        records::today,
    },
    measure::{Grist, Length},
    record::{Balance, EntryKind, Id, Lot, Project, StockAmount, YarnFacts},
    store::{Reader, StoreError, Writer},
};
use std::hash::{DefaultHasher, Hash, Hasher};

/// By so much a lot may be too short: sums of metres pass what is there by rounding.
const SLACK_M: f64 = 0.01;

impl PlanAnswer {
    /// What tells this plan from another: which project takes how much of which lot.
    pub fn fingerprint(&self) -> String {
        let mut hash = DefaultHasher::new();
        for take in takes(self) {
            let millimetres = (take.length.as_metres() * 1000.0).round();
            (take.project, take.role, take.lot).hash(&mut hash);
            millimetres.to_bits().hash(&mut hash);
        }
        hash.finish().to_string()
    }

    /// Every kept project of the plan.
    fn kept(&self) -> impl Iterator<Item = &KeptProject> {
        let made = self.made.iter().filter_map(|made| made.kept.as_ref());
        made.chain(self.planned_in_vain())
    }

    /// Kept projects that are left out, but could be planned.
    fn planned_in_vain(&self) -> impl Iterator<Item = &KeptProject> {
        let left_out = self.left_out.iter();
        left_out
            .filter(|left| !left.why.is_beyond_planning())
            .filter_map(|left| left.kept.as_ref())
    }
}

/// Plans the kept projects and reserves what they take, once: what was reserved for them
/// before and is not needed any more is free again. Refused where the plan is not the one
/// that was `seen`; where none was, and somebody was quicker, it is made anew while nobody
/// else writes.
pub fn reserve_plan(
    records: &mut Records,
    request: &PlanRequest,
    seen: Option<&str>,
) -> Result<RecordChange, AppError> {
    let mut plan = plan(records, request)?;
    if seen.is_some_and(|seen| seen != plan.fingerprint()) {
        return Err(AppError::PlanChanged);
    }
    records.change_once(["plan", "reserve"], |writer, made| {
        let mut done = PlanReserved::default();
        if made.is_none() {
            done = match reserve(writer, &plan) {
                Err(late) if seen.is_none() && late.is_clash() => {
                    plan = plan_in(writer, request)?;
                    reserve(writer, &plan)?
                }
                done => done?,
            };
        }
        let left_out = plan.left_out.iter().filter_map(|left| left.kept.as_ref());
        done.left_out = left_out.map(|kept| kept.name.clone()).collect();
        Ok((
            String::new(),
            RecordChange::Project(ProjectChange::PlanReserved(done)),
        ))
    })
}

/// What one role of a project takes of a lot.
struct Take<'a> {
    project: i64,
    name: &'a str,
    role: &'a str,
    lot: i64,
    title: String,
    length: Length,
}

fn takes(plan: &PlanAnswer) -> Vec<Take<'_>> {
    let made = plan.made.iter();
    let kept = made.filter_map(|made| Some((made, made.kept.as_ref()?)));
    kept.flat_map(|(made, kept)| takes_of(made, kept)).collect()
}

fn takes_of<'a>(made: &'a PlannedProject, kept: &'a KeptProject) -> impl Iterator<Item = Take<'a>> {
    made.yarns.iter().flat_map(move |yarn| {
        yarn.lots.iter().map(move |(held, length)| Take {
            project: kept.number,
            name: &kept.name,
            role: &yarn.role,
            lot: held.id.number(),
            title: held.lot.title(&yarn.offered.candidate.title),
            length: *length,
        })
    })
}

/// Nothing is written before all of it was judged.
fn reserve(writer: &Writer<'_>, plan: &PlanAnswer) -> Result<PlanReserved, AppError> {
    still_there(writer, plan)?;
    let reservations = Reservations::of(writer)?;
    let names: Vec<String> = plan.kept().map(|kept| kept.name.clone()).collect();
    let wanted = amounts(writer, plan, (&reservations, &names))?;
    let before: Vec<Reservation> = names
        .iter()
        .flat_map(|name| reservations.of_project(name))
        .collect();
    let (kept, released): (Vec<_>, Vec<_>) = before.into_iter().partition(|it| wanted.contains(it));
    let today = today();
    for reservation in &released {
        release(writer, reservation, &today)?;
    }
    for new in wanted.iter().filter(|it| !kept.contains(it)) {
        let what = (Id::<Lot>::new(new.lot), new.amount);
        enter(writer, EntryKind::Reserved, what, (&new.what_for, &today))?;
    }
    let is_still = |it: &Reservation| {
        let mut wanted = wanted.iter();
        wanted.any(|new| (new.lot, &new.what_for) == (it.lot, &it.what_for))
    };
    Ok(PlanReserved {
        released: released.into_iter().filter(|it| !is_still(it)).collect(),
        reserved: wanted,
        left_out: Vec::new(),
    })
}

/// Whether all that the plan takes is reserved already, and nothing else for its projects.
pub(super) fn is_reserved(
    reader: &Reader<'_>,
    plan: &PlanAnswer,
    reservations: &Reservations,
) -> Result<bool, AppError> {
    let names: Vec<String> = plan.kept().map(|kept| kept.name.clone()).collect();
    let there = names.iter().flat_map(|name| reservations.of_project(name));
    let there: Vec<Reservation> = there.collect();
    let wanted = match amounts(reader, plan, (reservations, &names)) {
        Err(AppError::LotTaken(_)) => return Ok(false),
        wanted => wanted?,
    };
    let is_there = wanted.iter().all(|it| there.contains(it));
    Ok(is_there && !wanted.is_empty() && wanted.len() == there.len())
}

/// That no project of the plan was changed or removed since.
fn still_there(reader: &Reader<'_>, plan: &PlanAnswer) -> Result<(), AppError> {
    let mut all = plan.kept();
    all.try_for_each(
        |kept| match reader.project(Id::<Project>::new(kept.number)) {
            Ok(found) if found.version == kept.version => Ok(()),
            Ok(_) | Err(StoreError::Gone { .. }) => Err(AppError::PlanChanged),
            Err(other) => Err(other.into()),
        },
    )
}

/// What each project reserves of each lot: whole skeins where it alone takes of the lot.
fn amounts(
    reader: &Reader<'_>,
    plan: &PlanAnswer,
    (reservations, names): (&Reservations, &[String]),
) -> Result<Vec<Reservation>, AppError> {
    let takes = takes(plan);
    let mut wanted: Vec<Reservation> = Vec::new();
    for take in &takes {
        let stock = reader.lot(Id::new(take.lot))?;
        let facts = reader.yarn(stock.yarn)?.record.facts;
        let mut usable = reservations.usable(&stock, names)?;
        for taken in wanted.iter().filter(|other| other.lot == take.lot) {
            let rest = Balance {
                held: usable,
                reserved: taken.amount,
            };
            usable = rest.free(stock.skein_mass)?;
        }
        let rest = StockLot {
            id: stock.lot.id,
            lot: stock.lot.record,
            usable,
        };
        let others = takes
            .iter()
            .filter(|other| other.lot == take.lot)
            .count()
            .saturating_sub(1);
        let slack = SLACK_M + rounded_up_m(&rest, &facts, others);
        let is_enough = |length: Length| length.as_metres() >= take.length.as_metres() - slack;
        let amount = rest.part(take.length, &facts, others == 0);
        let amount = amount.filter(|_| rest.length(&facts).is_some_and(is_enough));
        let amount = amount.ok_or_else(|| AppError::LotTaken(take.title.clone()))?;
        add(&mut wanted, take, amount)?;
    }
    Ok(wanted)
}

/// By so much a lot may be too short for the last who takes of it: what the others take
/// is rounded up to a thousandth of a skein, or to a gram.
fn rounded_up_m(rest: &StockLot, facts: &YarnFacts, others: usize) -> f64 {
    let skein = facts.skein_length().map_or(0.0, Length::as_metres) / 1000.0;
    let gram = match rest.usable.grams() > 0.0 {
        true => facts.grist().map_or(0.0, Grist::as_metres_per_gram),
        false => 0.0,
    };
    skein.max(gram) * u32::try_from(others).map_or(0.0, f64::from)
}

/// Two roles of one project that take of one lot reserve together.
fn add(
    wanted: &mut Vec<Reservation>,
    take: &Take<'_>,
    amount: StockAmount,
) -> Result<(), AppError> {
    let of_project = |it: &&mut Reservation| it.lot == take.lot && it.what_for == take.name;
    match wanted.iter_mut().find(of_project) {
        Some(reservation) => reservation.amount = reservation.amount.plus(amount)?,
        None => wanted.push(Reservation {
            lot: take.lot,
            title: take.title.clone(),
            what_for: take.name.to_owned(),
            amount,
        }),
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{
        AddProjectRequest, EntryRequest, Which, add_project, enter, move_project, remove_project,
        take_sample,
    };

    fn records() -> Records {
        let mut records = Records::in_memory().unwrap();
        take_sample(&mut records).unwrap();
        for pattern in ["Skerrablet:M", "Hobplate"] {
            let project = Some(pattern.to_owned());
            let request = AddProjectRequest {
                project,
                ..AddProjectRequest::default()
            };
            add_project(&mut records, &request).unwrap();
        }
        records
    }

    fn reserve_stale(records: &mut Records, plan: &PlanAnswer) -> AppError {
        let store = records.store_mut().unwrap();
        let refused = store.write(|writer| reserve(writer, plan));
        let refused = refused.unwrap_err();
        assert!(refused.is_clash());
        let store = records.store().unwrap();
        let reservations = Reservations::of(&store.reader().unwrap()).unwrap();
        assert_eq!(reservations.of_project("Skerrablet M"), []);
        refused
    }

    #[test]
    fn what_was_used_between_plan_and_reservation_is_not_promised() {
        let mut records = records();
        let plan = plan(&records, &PlanRequest::default()).unwrap();
        let (held, takes) = &plan.made[0].yarns[0].lots[0];
        assert!(takes.as_metres() > 500.0);
        let used = EntryRequest {
            amount: Some("3 skeins".to_owned()),
            ..EntryRequest::default()
        };
        enter(&mut records, EntryKind::Used, held.id.number(), &used).unwrap();
        let refused = reserve_stale(&mut records, &plan);
        assert!(matches!(refused, AppError::LotTaken(_)), "{refused:?}");
    }

    #[test]
    fn a_project_that_was_moved_meanwhile_is_planned_anew() {
        let mut records = records();
        let plan = plan(&records, &PlanRequest::default()).unwrap();
        move_project(&mut records, Which::Named("Hobplate"), "1").unwrap();
        let refused = reserve_stale(&mut records, &plan);
        assert!(matches!(refused, AppError::PlanChanged), "{refused:?}");
    }

    #[test]
    fn another_plan_than_the_one_that_was_seen_is_not_reserved() {
        let mut records = records();
        let request = PlanRequest::default();
        let first = plan(&records, &request).unwrap();
        assert!(!first.is_reserved);
        let seen = first.fingerprint();
        let refused = reserve_plan(&mut records, &request, Some("7"));
        assert!(matches!(refused, Err(AppError::PlanChanged)));
        reserve_plan(&mut records, &request, Some(&seen)).unwrap();
        // What is reserved for them is planned for them again.
        let again = plan(&records, &request).unwrap();
        assert_eq!((again.fingerprint(), again.is_reserved), (seen, true));
        move_project(&mut records, Which::Named("Hobplate"), "1").unwrap();
        assert!(plan(&records, &request).unwrap().is_reserved);
        remove_project(&mut records, Which::Named("Skerrablet M")).unwrap();
        assert!(plan(&records, &request).unwrap().is_reserved);
        let others = Reservations::of(&records.store().unwrap().reader().unwrap()).unwrap();
        assert_eq!(others.of_project("Skerrablet M"), []);
    }
}
