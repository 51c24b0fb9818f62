//! The best candidates of the catalogue or of the stash.

mod request;

pub use request::{BestRequest, FindRequest, Source};

use super::{
    AppError, InputReader, Records,
    candidate_search::CandidateSource,
    covering::cover_lines,
    question::{
        Asked, Role,
        amounts::{Worked, in_metres, skeins_lines},
        candidate::Candidate,
        chance::sure_lines,
        judged::best_way,
        resolve,
    },
};
use crate::{
    matching::{Criterion, Judgement, Verdict},
    record::{Id, Yarn},
    report::{
        CandidateLine, FindReport, Style, caution_text, facts_words, reason_sentences, remedy_text,
    },
};

/// The best candidates for every role that the question asks about.
pub fn find(records: &Records, request: &FindRequest) -> Result<Vec<FindReport>, AppError> {
    let mut input = InputReader::default();
    let (from, top) = request.best.read(&mut input);
    let pattern = records.pattern_asked(&mut input, &request.question)?;
    let asked = resolve(&mut input, &request.question, pattern.as_ref())?;
    let mut asked = input.checked(asked)?;
    asked.warnings = Style::default().notes(&input.notes);
    let reader = records.store()?.reader()?;
    let among = CandidateSource {
        reader: &reader,
        from,
        with_reserved: request.question.with_reserved,
        top,
        meant: &|_| true,
    };
    let look = Looking {
        among,
        asked: &asked,
    };
    asked.roles.iter().map(|role| look.answer(role)).collect()
}

struct Looking<'a> {
    among: CandidateSource<'a>,
    asked: &'a Asked,
}

impl Looking<'_> {
    fn answer(&self, role: &Role) -> Result<FindReport, AppError> {
        let asked = self.asked;
        let found = self.among.best(asked, role)?;
        let (from, all) = match self.among.from {
            Source::Catalogue => ("catalogue", self.among.reader.count_yarns()?),
            Source::Stash => ("stash", found.judged),
        };
        Ok(FindReport {
            pattern: asked.title.clone(),
            yarn: role.key.clone(),
            wanted: facts_words(&role.wanted.facts, role.wanted.gauge.as_ref()),
            from,
            tolerance: asked.tolerance_words(),
            size: asked.size.and_then(|place| asked.sizes.get(place).cloned()),
            margin_percent: asked.margin.as_percent(),
            judged: found.judged,
            passed_over: all.saturating_sub(found.judged),
            candidates: self.lines(role, &found.with_grist)?,
            without_grist: self.lines(role, &found.without_grist)?,
            working: self.working(role),
            warnings: asked.warnings.clone(),
            ..FindReport::default()
        })
    }

    /// How the answer was come by; with the chance, what was counted as uncertain.
    fn working(&self, role: &Role) -> Vec<String> {
        let asked = self.asked;
        let places = asked.places();
        let needs = places.iter().filter_map(|place| role.needs.get(*place));
        let metres = needs.filter_map(|need| in_metres(need, role)?.ok());
        let ranges = metres.into_iter().any(|need| need.at_least < need.buy_for);
        let bases = asked.sure.map(|sure| sure.bases_of_all(ranges));
        let working = asked.working.iter().cloned();
        working.chain(bases.into_iter().flatten()).collect()
    }

    fn lines(
        &self,
        role: &Role,
        found: &[(Id<Yarn>, Judgement)],
    ) -> Result<Vec<CandidateLine>, AppError> {
        let line = |(id, judgement): &(Id<Yarn>, Judgement)| {
            line(self.asked, role, &self.among.candidate(*id)?, judgement)
        };
        found.iter().map(line).collect()
    }
}

fn line(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    judgement: &Judgement,
) -> Result<CandidateLine, AppError> {
    let how = best_way(judgement, Worked::AS_WRITTEN);
    let skeins = skeins_lines(asked, role, candidate, how)?;
    let (sure, _) = sure_lines(asked, role, candidate, how)?;
    let cover = match candidate.lots.is_empty() {
        true => Vec::new(),
        false => cover_lines(asked, role, candidate, how, &[])?,
    };
    Ok(CandidateLine {
        candidate: candidate.title.clone(),
        verdict: judgement.verdict,
        overall: judgement.overall,
        strands: how.strands,
        m_per_100g: candidate
            .facts
            .grist()
            .map(|grist| grist.as_metres_per_100_g()),
        grist_departure: judgement
            .departure(Criterion::Grist)
            .map(|departure| departure.departure),
        skeins: skeins.iter().map(|line| line.skeins).collect(),
        sure,
        costs: skeins.iter().filter_map(|line| line.cost.clone()).collect(),
        enough_in_stock: (!cover.is_empty()).then(|| cover.iter().all(|line| line.covers)),
        cover: covered(asked, &cover),
        reasons: reasons(judgement),
        cautions: judgement.cautions.iter().map(caution_text).collect(),
        discontinued: candidate.discontinued,
    })
}

/// The weightiest reason, and what to do where something can be done.
fn reasons(judgement: &Judgement) -> Vec<String> {
    let remedy = judgement
        .remedies
        .first()
        .filter(|_| judgement.verdict == Verdict::CouldWork);
    reason_sentences(judgement)
        .into_iter()
        .take(1)
        .chain(remedy.map(remedy_text))
        .collect()
}

/// The stash in one sentence: of one size its own, of several which are covered.
fn covered(asked: &Asked, lines: &[crate::report::CoverLine]) -> Option<String> {
    let names: Vec<&str> = lines
        .iter()
        .filter(|line| line.covers)
        .map(|line| line.size.as_str())
        .collect();
    match (lines, names.len()) {
        ([], _) => None,
        ([one], _) => Some(one.text.clone()),
        (all, covered) if covered == all.len() => {
            Some("The stash covers every size, margin included.".to_owned())
        }
        (all, 0) => all
            .first()
            .map(|line| format!("The stash covers no size. {}", line.text)),
        _ => Some(format!(
            "Of {} sizes the stash covers {}, margin included.",
            asked.sizes.len(),
            crate::words::and_list(&names)
        )),
    }
}
