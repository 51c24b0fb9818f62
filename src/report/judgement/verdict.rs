//! Whether a yarn would work: the words for it, and the sentence that opens an answer.

use super::{
    conditions_in_short,
    reasons::{bar_sentence, doubt_reason},
    rows::against,
    values::criterion_in_full,
};
use crate::{
    app::CandidateAnswer,
    matching::{Caution, Criterion, Departure, Judgement, Missing, Reason, Verdict},
    report::{Role, Style},
    trade::hazards::{BURNS, FELTING_IS_WANTED, FELTS, GROWS, HALO, SUPERWASH_GROWS, WOOL},
    words::{and_list, capitalized, or_list, uncapitalized},
};

/// Every verdict, as programs get it.
pub(in crate::report) const VERDICTS: [&str; 4] = [
    "should work",
    "could work, if ...",
    "cannot say",
    "will not work",
];

/// The words of a verdict for programs.
pub fn verdict_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::CouldWork => "could work, if ...",
        other => verdict_in_short(other),
    }
}

/// The same for people, in a table.
pub(in crate::report) fn verdict_in_short(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::ShouldWork => "should work",
        Verdict::CouldWork => "could work",
        Verdict::CannotSay => "cannot say",
        Verdict::WillNotWork => "will not work",
    }
}

/// What kind of news a verdict is.
pub(in crate::report) fn news(verdict: Verdict) -> Role {
    match verdict {
        Verdict::ShouldWork => Role::Good,
        Verdict::CouldWork | Verdict::CannotSay => Role::Doubtful,
        Verdict::WillNotWork => Role::Bad,
    }
}

/// Whether a yarn would work and why: `Could work if you use 3.75 mm needles.`
pub(in crate::report) fn verdict_sentence(answer: &CandidateAnswer, style: &Style) -> String {
    let judgement = &answer.judgement;
    match judgement.verdict {
        Verdict::ShouldWork => should_work(judgement, style),
        Verdict::CouldWork => format!("Could work if {}.", conditions_in_short(answer, style)),
        Verdict::CannotSay => decided("Cannot say yet", judgement, style),
        Verdict::WillNotWork => decided("Will not work", judgement, style),
    }
}

fn should_work(judgement: &Judgement, style: &Style) -> String {
    let judged = judgement.departures.iter();
    let judged = and_list(judged.map(|found| criterion_in_full(found.criterion, style)));
    format!("Should work: {judged} are as wanted or near enough.")
}

/// A verdict with the weightiest reason for it.
fn decided(verdict: &str, judgement: &Judgement, style: &Style) -> String {
    match judgement.reasons().first() {
        Some(Reason::Caution(caution)) => format!("{verdict}. {}", caution.hazard.text),
        Some(Reason::Bar(bar)) => format!("{verdict}: {}.", bar_sentence(bar)),
        Some(Reason::Doubt(doubt)) => format!("{verdict}: {}.", doubt_reason(doubt, style)),
        Some(Reason::Missing(_)) => format!("{verdict}: {}.", not_known(judgement, style)),
        Some(Reason::Departure(found)) => format!("{verdict}: {}.", against(found, style)),
        None => format!("{verdict}."),
    }
}

/// `neither metres per 100 g nor stitches in 10 cm can be compared; knit and wash a
/// swatch, then ask again with its gauge`.
fn not_known(judgement: &Judgement, style: &Style) -> String {
    let missing = judgement.not_judged.iter().map(Missing::criterion);
    let decides = missing.filter(|it| matches!(it, Criterion::Grist | Criterion::Gauge));
    let names: Vec<&str> = decides.map(|it| criterion_in_full(it, style)).collect();
    let said = match names.as_slice() {
        [first, second] => format!("neither {first} nor {second} can be compared"),
        all => format!("{} cannot be compared", or_list(all)),
    };
    let mut missing = judgement.not_judged.iter();
    match missing.any(|it| matches!(it, Missing::Gauge(_))) {
        true => format!("{said}; knit and wash a swatch, then ask again with its gauge"),
        false => said,
    }
}

/// What of a list speaks against a yarn, in clauses, the weightiest first.
pub(in crate::report) fn all_against(judgement: &Judgement, style: &Style) -> Vec<String> {
    let outside = |found: &&Departure| found.departure > 1.0 + 1e-9;
    let reasons = judgement.reasons().into_iter();
    let clauses = reasons.filter_map(|reason| match reason {
        Reason::Caution(caution) => Some(caution_in_short(caution)),
        Reason::Bar(bar) => Some(bar_sentence(bar)),
        Reason::Doubt(doubt) => Some(doubt_reason(doubt, style)),
        Reason::Missing(missing) => {
            let criterion = criterion_in_full(missing.criterion(), style);
            Some(match missing {
                Missing::ComparableGrist { .. } => format!("{criterion} cannot be compared"),
                _ => format!("{criterion} not known"),
            })
        }
        Reason::Departure(found) => outside(&found).then(|| against(found, style)),
    });
    clauses.collect()
}

/// What can go wrong, each thing once with all names that it holds for: `Hobplate and
/// Mirrowhist: fibres that do not melt still burn`.
pub(in crate::report) fn cautions_for<'j>(
    judged: impl IntoIterator<Item = (String, &'j Judgement)>,
) -> Vec<String> {
    said_of(judged.into_iter().flat_map(|(name, judgement)| {
        let cautions = judgement.cautions.iter().map(caution_in_short);
        cautions.map(move |text| (name.clone(), uncapitalized(&text)))
    }))
}

/// What can go wrong with yarns of a list: each caution with the name of its yarn, or
/// with that for `all` where it holds for all of them.
pub(in crate::report) fn cautions_of_list(
    found: &[&CandidateAnswer],
    all: &str,
    text: impl Fn(&Caution) -> String,
) -> Vec<(String, String)> {
    let cautions = found.iter().flat_map(|one| {
        let cautions = one.judgement.cautions.iter();
        cautions.map(move |caution| (one, caution))
    });
    let named = cautions.map(|(one, caution)| {
        let is_of_all = found
            .iter()
            .all(|it| it.judgement.cautions.contains(caution));
        let name = if is_of_all { all } else { &one.candidate.title };
        (name.to_owned(), uncapitalized(&text(caution)))
    });
    named.collect()
}

/// What is said of names, each thing once with all names of which it is said; as a
/// sentence of its own where they are empty.
pub(in crate::report) fn said_of(named: impl IntoIterator<Item = (String, String)>) -> Vec<String> {
    let mut all: Vec<(Vec<String>, String)> = Vec::new();
    for (name, said) in named {
        match all.iter_mut().find(|(_, known)| *known == said) {
            Some((names, _)) => names.push(name),
            None => all.push((vec![name], said)),
        }
    }
    let said = all.into_iter();
    said.map(|(names, said)| match and_list(each_once(names)).as_str() {
        "" => capitalized(&said),
        names => format!("{names}: {said}"),
    })
    .collect()
}

/// A caution; up to its first stop where it is about cloth, or where a condition says
/// the rest.
pub(in crate::report) fn caution_in_short(caution: &Caution) -> String {
    let text = caution.hazard.text;
    if caution.hazard == HALO {
        return "This yarn sheds: keep it away from babies".to_owned();
    }
    if ![
        BURNS,
        FELTING_IS_WANTED,
        FELTS,
        GROWS,
        SUPERWASH_GROWS,
        WOOL,
    ]
    .contains(&caution.hazard)
    {
        return text.to_owned();
    }
    let end = text.find([':', ';', '.']).unwrap_or(text.len());
    text.get(..end).unwrap_or(text).to_owned()
}

/// Texts, each once.
pub(in crate::report) fn each_once(texts: impl IntoIterator<Item = String>) -> Vec<String> {
    let mut once = Vec::new();
    for text in texts {
        if !once.contains(&text) {
            once.push(text);
        }
    }
    once
}

#[cfg(test)]
mod tests {
    use super::*;
    use Verdict::{CannotSay, CouldWork, ShouldWork, WillNotWork};

    #[test]
    fn the_answer_for_programs_is_one_of_four_sentences() {
        let words = [ShouldWork, CouldWork, CannotSay, WillNotWork].map(verdict_words);
        assert_eq!(
            words,
            [
                "should work",
                "could work, if ...",
                "cannot say",
                "will not work"
            ]
        );
    }
}
