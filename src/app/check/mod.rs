//! One yarn for one pattern.

mod request;

pub use request::CheckRequest;

use super::{
    AppError, FaultKind, InputReader, Keep, Records,
    corrected::offered,
    covering::cover_lines,
    estimated::estimate_lines,
    input::filled,
    question::{
        Asked, Role,
        amounts::{Worked, skeins_lines},
        candidate::Candidate,
        chance::sure_lines,
        judged::{best_way, judged, remedy_line},
        own_gauge, resolve,
    },
};
use crate::{
    label::cells,
    matching::{Judgement, Verdict},
    report::{
        CheckReport, DepartureLine, EstimateLine, NotJudgedLine, RoleHead, Style, caution_text,
        facts_words, reason_sentences,
    },
    words::count_of,
};
use std::collections::HashSet;

/// Judges a yarn (a name in the records, or the text of its band) for what the
/// question wants. Records are needed only for names.
pub fn check(records: &Records, request: &CheckRequest) -> Result<CheckReport, AppError> {
    let mut reader = InputReader::default();
    let strands = reader.whole("strands", request.strands.as_deref(), 1..=9);
    let strands = strands.unwrap_or(1);
    let pattern = records.pattern_asked(&mut reader, &request.question)?;
    let asked = resolve(&mut reader, &request.question, pattern.as_ref())?;
    let measured = reader.optional("own-gauge", request.own_gauge.as_deref(), cells::gauge);
    let keep = kept(request, &mut reader);
    let candidate = candidate(records, request, &mut reader)?;
    let (asked, candidate) = reader.checked(asked.zip(candidate))?;
    let asked = Asked {
        own_gauge: measured.map(|measured| own_gauge(measured, &asked.roles)),
        keep,
        warnings: Style::default().notes(&reader.notes),
        ..asked
    };
    let mut report = CheckReport {
        candidate: candidate.title.clone(),
        pattern: asked.title.clone(),
        margin_percent: asked.margin.as_percent(),
        ..CheckReport::default()
    };
    let mut taken = Vec::new();
    for role in &asked.roles {
        add_role(&mut report, &asked, role, &candidate, strands, &mut taken)?;
    }
    finish(&mut report, &asked, &candidate);
    Ok(report)
}

/// What is kept at the own gauge.
fn kept(request: &CheckRequest, reader: &mut InputReader) -> Option<Keep> {
    let keep = match request.keep.as_deref()? {
        "counts" => Keep::Counts,
        _ => Keep::Size,
    };
    if filled(request.own_gauge.as_deref()).is_none() {
        reader.fault("keep", FaultKind::OnlyWith("own-gauge"));
    }
    Some(keep)
}

/// The yarn that is asked about; nothing where a fault was found in it.
fn candidate(
    records: &Records,
    request: &CheckRequest,
    reader: &mut InputReader,
) -> Result<Option<Candidate>, AppError> {
    let Some(yarn) = filled(request.yarn.as_deref()) else {
        reader.fault("yarn", FaultKind::Missing);
        return Ok(None);
    };
    let found = match &request.band_fields {
        Some(typed) => offered(yarn, typed, reader),
        None => records.candidate(yarn, request.question.with_reserved, reader),
    };
    reader.keep(found)
}

fn add_role(
    report: &mut CheckReport,
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    strands: u8,
    taken: &mut Vec<String>,
) -> Result<(), AppError> {
    let judgement = judged(asked, role, candidate, strands);
    let factor = asked.kept_factor(judgement.gauge_ratio);
    let how = best_way(&judgement, Worked { strands, factor });
    let head = head(asked, role, candidate, &judgement);
    report.roles.push(RoleHead {
        strands: how.strands,
        ..head
    });
    report.departures.extend(
        judgement
            .departures
            .iter()
            .map(|departure| DepartureLine::new(&role.key, departure)),
    );
    report.not_judged.extend(
        judgement
            .not_judged
            .iter()
            .map(|missing| NotJudgedLine::new(&role.key, missing)),
    );
    for remedy in &judgement.remedies {
        report
            .remedies
            .push(remedy_line(asked, role, candidate, strands, remedy)?);
    }
    report
        .cautions
        .extend(judgement.cautions.iter().map(caution_text));
    report
        .skeins
        .extend(skeins_lines(asked, role, candidate, how)?);
    report
        .estimates
        .extend(role_estimates(asked, role, candidate));
    add_sure(report, asked, role, candidate, how)?;
    let cover = cover_lines(asked, role, candidate, how, taken)?;
    taken.extend(cover.first().map(|line| line.shade.clone()));
    report.cover.extend(cover);
    Ok(())
}

/// The chance of running out, where it is asked for.
fn add_sure(
    report: &mut CheckReport,
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    how: Worked,
) -> Result<(), AppError> {
    let Some(sure) = asked.sure else {
        return Ok(());
    };
    let (lines, ranges) = sure_lines(asked, role, candidate, how)?;
    report.sure.extend(lines);
    report.working = sure.bases(&candidate.facts, ranges);
    Ok(())
}

fn role_estimates(asked: &Asked, role: &Role, candidate: &Candidate) -> Vec<EstimateLine> {
    let reference = &role.wanted.facts;
    let class = reference.class.as_ref().map(|class| &class.value);
    let places = asked.places();
    let needs = places
        .iter()
        .filter_map(|place| Some((asked.sizes.get(*place)?, role.needs.get(*place)?)));
    needs
        .flat_map(|(size, need)| {
            estimate_lines(
                size,
                &role.key,
                need,
                reference,
                class,
                candidate.facts.skein_length(),
                asked.margin,
            )
        })
        .collect()
}

fn head(asked: &Asked, role: &Role, candidate: &Candidate, judgement: &Judgement) -> RoleHead {
    let held = |strands: u8| match strands {
        1 => String::new(),
        n => format!(
            "{} held together, each of ",
            count_of(f64::from(n), "strand")
        ),
    };
    RoleHead {
        yarn: role.key.clone(),
        strands: 1,
        wanted: format!(
            "{}{}",
            held(role.wanted.strands),
            facts_words(&role.wanted.facts, role.wanted.gauge.as_ref())
        ),
        offered: facts_words(&candidate.facts, asked.own_gauge.as_ref()),
        verdict: judgement.verdict,
        overall: judgement.overall,
        reasons: reason_sentences(judgement),
    }
}

/// The parts that hold for all roles together.
fn finish(report: &mut CheckReport, asked: &Asked, candidate: &Candidate) {
    report.verdict = report
        .roles
        .iter()
        .map(|head| head.verdict)
        .max()
        .unwrap_or(Verdict::CannotSay);
    report.overall = report
        .roles
        .iter()
        .filter_map(|head| head.overall)
        .max_by(f64::total_cmp);
    let mut seen = HashSet::new();
    report
        .cautions
        .retain(|caution| seen.insert(caution.clone()));
    let chances = std::mem::replace(&mut report.working, asked.working.clone());
    report.working.extend(chances);
    report.warnings = asked.warnings.clone();
    if candidate.discontinued {
        report
            .warnings
            .push("This yarn is no longer made: what is in stock is all there is.".to_owned());
    }
    if candidate.kept && candidate.lots.is_empty() && !report.skeins.is_empty() {
        report
            .warnings
            .push("None of this yarn is in stock.".to_owned());
    }
    if report.skeins.is_empty() && report.estimates.is_empty() {
        report.warnings.push(missing_amount(asked, candidate));
    }
}

fn missing_amount(asked: &Asked, candidate: &Candidate) -> String {
    if asked.roles.iter().all(|role| role.needs.is_empty()) {
        return "No skeins are counted: how much the pattern takes is not stated. Add --need, as in `--need \"9 x 125 m\"`.".to_owned();
    }
    if candidate.facts.skein_length().is_none() {
        return "No skeins are counted: the length of one skein of this yarn is not known."
            .to_owned();
    }
    "No skeins are counted: the need is a mass, and neither the length per mass nor the class of the pattern's yarn is known.".to_owned()
}
