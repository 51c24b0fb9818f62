//! What else would do for each role: picked, or the best of what is kept.

use crate::app::{
    AppError, InputReader, Records, Source,
    candidate_search::CandidateSource,
    question::{
        Asked, Role,
        amounts::{Worked, skeins_lines},
        candidate::Candidate,
        judged::{best_way, judged},
    },
};
use crate::{
    matching::{Departure, Judgement, Verdict, rank},
    record::{Pattern, Yarn},
    report::{
        AlternativeLine, caution_text, departure_in_short, remedy_text,
        sizes_as_patterns_write_them, skein_words,
    },
    words::{and_list, fold},
};

/// Which alternatives are wished for: those named, else so many of the best.
pub(super) struct Wish<'a> {
    pub(super) with: &'a [String],
    pub(super) from: Source,
    pub(super) top: usize,
}

/// One alternative as a line, with its cautions.
pub(super) struct Found {
    pub(super) line: AlternativeLine,
    cautions: Vec<String>,
}

/// The alternatives of every role, in the order of roles.
pub(super) fn alternatives(
    records: &Records,
    reader: &mut InputReader,
    asked: &mut Asked,
    pattern: &Pattern,
    wish: &Wish<'_>,
) -> Result<Vec<Found>, AppError> {
    let picked = if wish.with.is_empty() {
        best(records, asked, pattern, wish)?
    } else {
        named(records, reader, asked, wish.with)?
    };
    let line = |(place, candidate, judgement): &Picked| {
        let role = asked.roles.get(*place)?;
        Some(found(asked, role, candidate, judgement))
    };
    picked.iter().filter_map(line).collect()
}

/// Place of the role, the yarn for it, and how it was judged.
type Picked = (usize, Candidate, Judgement);

fn named(
    records: &Records,
    reader: &mut InputReader,
    asked: &Asked,
    with: &[String],
) -> Result<Vec<Picked>, AppError> {
    let mut given: Vec<(Option<usize>, Candidate)> = Vec::new();
    for text in with {
        let (only, yarn) = for_role(text, asked);
        let candidate = records.candidate(yarn, false, reader)?;
        given.push((only, candidate));
    }
    let mut picked = Vec::new();
    for (place, role) in asked.roles.iter().enumerate() {
        let of_role = given
            .iter()
            .filter(|(only, _)| only.is_none_or(|only| only == place));
        picked.extend(
            of_role.map(|(_, candidate)| {
                (place, candidate.clone(), judged(asked, role, candidate, 1))
            }),
        );
    }
    Ok(picked)
}

/// `MC=Name of a yarn`: the role that is meant, where the text begins with its key.
fn for_role<'t>(text: &'t str, asked: &Asked) -> (Option<usize>, &'t str) {
    let role = text.split_once('=').and_then(|(key, yarn)| {
        let is_meant = |role: &Role| fold(&role.key) == fold(key);
        Some((asked.roles.iter().position(is_meant)?, yarn))
    });
    match role {
        Some((place, yarn)) => (Some(place), yarn.trim()),
        None => (None, text),
    }
}

fn best(
    records: &Records,
    asked: &mut Asked,
    pattern: &Pattern,
    wish: &Wish<'_>,
) -> Result<Vec<Picked>, AppError> {
    let reader = records.store()?.reader()?;
    let mut picked = Vec::new();
    let mut told = Vec::new();
    for (place, role) in asked.roles.iter().enumerate() {
        let own = pattern
            .yarns
            .iter()
            .find(|yarn| yarn.key.as_str() == role.key);
        let own = own.and_then(|yarn| yarn.called.as_deref()).map(fold);
        let meant = |yarn: &Yarn| {
            let is_own = own.as_ref().is_some_and(|own| *own == fold(&yarn.title()));
            let counts = yarn.facts.skein_length().is_some();
            !is_own && counts && (wish.from == Source::Stash || !yarn.discontinued)
        };
        let among = CandidateSource {
            reader: &reader,
            from: wish.from,
            with_reserved: false,
            top: wish.top,
            meant: &meant,
        };
        let best = ranked(&among, asked, role)?;
        told.extend(best.is_empty().then(|| {
            format!(
                "Nothing that is kept should or could work for yarn {}.",
                role.key
            )
        }));
        picked.extend(
            best.into_iter()
                .map(|(candidate, judgement)| (place, candidate, judgement)),
        );
    }
    asked.warnings.extend(told);
    let left_out = reader.count_discontinued()?;
    if wish.from == Source::Catalogue && left_out > 0 {
        asked.working.push(format!(
            "Yarns that are no longer made were left out ({left_out})."
        ));
    }
    Ok(picked)
}

/// The best that should or could work, with and without a length per mass in
/// one order.
fn ranked(
    among: &CandidateSource<'_>,
    asked: &Asked,
    role: &Role,
) -> Result<Vec<(Candidate, Judgement)>, AppError> {
    let found = among.best(asked, role)?;
    let works = |judgement: &Judgement| {
        matches!(judgement.verdict, Verdict::ShouldWork | Verdict::CouldWork)
    };
    let mut both = Vec::new();
    for (id, judgement) in found.with_grist.into_iter().chain(found.without_grist) {
        if works(&judgement) {
            let order = among.reader.name_keys(id)?;
            both.push(((order, among.candidate(id)?), judgement));
        }
    }
    let order = |(order, _): &(Option<(String, String)>, Candidate)| order.clone();
    let ranked = rank(both, order, among.top).into_iter();
    Ok(ranked
        .map(|((_, candidate), judgement)| (candidate, judgement))
        .collect())
}

fn found(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    judgement: &Judgement,
) -> Result<Found, AppError> {
    let how = best_way(judgement, Worked::AS_WRITTEN);
    let skeins = skeins_lines(asked, role, candidate, how)?;
    let facts = &candidate.facts;
    let grist = facts.grist();
    let mass = role.wanted.facts.skein_mass();
    let at_mass = mass
        .zip(grist)
        .map(|(mass, grist)| mass.length_at(grist))
        .transpose()?;
    let counts: Vec<String> = skeins.iter().map(|line| line.skeins.to_string()).collect();
    Ok(Found {
        line: AlternativeLine {
            yarn: role.key.clone(),
            candidate: candidate.title.clone(),
            put_up: skein_words(facts.skein_length(), facts.skein_mass()),
            strands: how.strands,
            pattern_put_up_g: mass.map(crate::measure::Mass::as_grams),
            m_per_pattern_put_up: at_mass.map(crate::measure::Length::as_metres),
            m_per_100g: grist.map(|grist| grist.as_metres_per_100_g()),
            counts: sizes_as_patterns_write_them(&counts),
            skeins,
            verdict: judgement.verdict,
            overall: judgement.overall,
            departs: departs(judgement),
            to_do: judgement
                .remedies
                .first()
                .filter(|_| judgement.verdict == Verdict::CouldWork)
                .map(remedy_text),
            discontinued: candidate.discontinued,
        },
        cautions: judgement.cautions.iter().map(caution_text).collect(),
    })
}

/// Each criterion on which it departs, the farthest first, and what could not be
/// judged.
fn departs(judgement: &Judgement) -> Vec<String> {
    let mut far: Vec<&Departure> = judgement
        .departures
        .iter()
        .filter(|departure| departure.departure > 1e-9)
        .collect();
    far.sort_by(|a, b| b.departure.total_cmp(&a.departure));
    let told = far.into_iter().map(departure_in_short);
    let missing: Vec<&str> = judgement
        .not_judged
        .iter()
        .map(|missing| missing.criterion().name())
        .collect();
    let missing = (!missing.is_empty()).then(|| format!("not judged: {}", and_list(&missing)));
    told.chain(missing).collect()
}

/// Every caution once; with the yarns that it is about, where not with all.
pub(super) fn shared_cautions(found: &[Found]) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    for caution in found.iter().flat_map(|found| &found.cautions) {
        let about = found
            .iter()
            .filter(|other| other.cautions.contains(caution));
        let mut names: Vec<&str> = about.map(|other| other.line.candidate.as_str()).collect();
        let all = names.len() == found.len();
        names.sort_unstable();
        names.dedup();
        let text = match all {
            true => caution.clone(),
            false => format!("{}: {caution}", and_list(&names)),
        };
        if !told.contains(&text) {
            told.push(text);
        }
    }
    told
}
