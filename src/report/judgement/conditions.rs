//! What has to be met for a yarn to work, a sentence each, with numbers.

use super::{
    hand::{build_in_hand, fibre_in_hand},
    missing::{measure, why},
    remedies::remedy_text,
    values::{classes_words, grist_words, stitches},
};
use crate::{
    app::CandidateAnswer,
    matching::{Cap, Condition, Criterion, Departure, Doubt, HeldGrist, Measured, Remedy},
    record::Care,
    report::{Style, contradiction::contradiction_words, sizes_as_patterns_write_them},
    words::{capitalized, number, uncapitalized},
};

/// The conditions of an answer, in their order; `remedies` are what would bring gauge
/// right, a sentence each, the skeins included where they are known.
pub(in crate::report) fn condition_sentences(
    answer: &CandidateAnswer,
    remedies: &[String],
    style: &Style,
) -> Vec<String> {
    let conditions = answer.judgement.conditions.iter();
    conditions
        .map(|condition| sentence(condition, answer, (remedies, style)))
        .collect()
}

/// The same where only the remedies themselves are known.
pub(in crate::report) fn conditions_of(answer: &CandidateAnswer, style: &Style) -> Vec<String> {
    let remedies = answer.judgement.remedies.iter();
    let remedies: Vec<String> = remedies.map(|remedy| remedy_text(remedy, style)).collect();
    condition_sentences(answer, &remedies, style)
}

fn sentence(
    condition: &Condition,
    answer: &CandidateAnswer,
    (remedies, style): (&[String], &Style),
) -> String {
    let departure = |criterion| answer.judgement.departure(criterion);
    match condition {
        Condition::Strands(strands) => strands_held(*strands, answer, style),
        Condition::Cloth(off) => cloth(*off, answer, style),
        Condition::Gauge => gauge(answer, remedies),
        Condition::SwatchGauge => swatch_gauge(departure(Criterion::Gauge)),
        Condition::Departs(criterion) => departure(*criterion).map_or(String::new(), accepted),
        Condition::Missing(missing) => format!(
            "If you find it out first: {}; {}.",
            why(missing, style),
            measure(missing)
        ),
        Condition::Cap(cap) => cap_sentence(cap),
        Condition::Doubt(doubt) => doubt_sentence(doubt, style),
    }
}

fn strands_held(strands: u8, answer: &CandidateAnswer, style: &Style) -> String {
    let facts = &answer.candidate.facts;
    let together = facts.grist().and_then(|one| one.times(strands));
    let in_all = together.map_or(String::new(), |grist| {
        format!(", {} in all", style.grist_alone(grist))
    });
    format!(
        "If you hold {strands} strands together{in_all}{}.",
        balls(answer, ": buy ")
    )
}

/// `If you like a firmer, heavier cloth (11 % shorter for its weight): buy by length,
/// 14 balls.`
fn cloth(off: f64, answer: &CandidateAnswer, style: &Style) -> String {
    let percent = number(off.abs() * 100.0, 1);
    let (cloth, length) = if off < 0.0 {
        ("a firmer, heavier cloth", "less")
    } else {
        ("a lighter, airier cloth", "more")
    };
    let grist = answer.judgement.departure(Criterion::Grist);
    let of = grist.map_or(String::new(), |found| compared(found, style));
    format!(
        "If you like {cloth} ({percent} % {length} length for its weight{of}): buy by length, not by the number of balls{}.",
        balls(answer, "; ")
    )
}

fn compared(found: &Departure, style: &Style) -> String {
    let (Measured::Grist(wanted), Measured::Grist(offered)) = (&found.wanted, &found.offered)
    else {
        return String::new();
    };
    let thick = if offered.nearer_to(wanted) == offered.together {
        String::new()
    } else {
        ", at equal thickness".to_owned()
    };
    let words = |held: &HeldGrist| grist_words(held, style);
    format!("{thick}; {} for {}", words(offered), words(wanted))
}

/// What to buy of it, `14 balls` or `14 (15, 16) balls`; nothing where the need is not
/// known.
fn balls(answer: &CandidateAnswer, before: &str) -> String {
    let counts = answer.skeins.iter();
    let counts: Vec<String> = counts
        .map(|bought| bought.purchase.skeins.to_string())
        .collect();
    match counts.as_slice() {
        [] => String::new(),
        [one] if one == "1" => format!("{before}1 ball"),
        all => format!("{before}{} balls", sizes_as_patterns_write_them(all)),
    }
}

/// `If you go down 1 size of needle: ... Or if you keep ...`: one remedy is enough.
fn gauge(answer: &CandidateAnswer, remedies: &[String]) -> String {
    let both = answer.judgement.remedies.iter().zip(remedies);
    let each: Vec<String> = both
        .filter(|(remedy, _)| !matches!(remedy, Remedy::HoldStrands { .. }))
        .map(|(_, text)| format!("if you {}", uncapitalized(text)))
        .collect();
    capitalized(&each.join(" Or "))
}

fn swatch_gauge(found: Option<&Departure>) -> String {
    let gauge = |measured: &Measured| match measured {
        Measured::Gauge { per_10_cm, .. } => stitches(*per_10_cm),
        _ => String::new(),
    };
    found.map_or(String::new(), |found| {
        format!(
            "If a swatch meets the gauge: {} wanted, {} predicted from thickness alone.",
            gauge(&found.wanted),
            gauge(&found.offered)
        )
    })
}

/// What departs beyond its limit, what will be different, and what to do about it.
fn accepted(found: &Departure) -> String {
    match (&found.wanted, &found.offered) {
        (Measured::Fibre(_), Measured::Fibre(_)) => fibre_in_hand(found),
        (Measured::Construction(wanted), Measured::Construction(offered)) => {
            build_in_hand(*offered, *wanted)
        }
        (Measured::WeightClass { classes, .. }, Measured::WeightClass { classes: own, .. }) => {
            format!(
                "If length and gauge are right: its label calls it {}, where {} is wanted; such names differ by market, so go by metres per ball and by a swatch.",
                classes_words(own),
                classes_words(classes)
            )
        }
        (_, Measured::Care(care)) => washing(*care),
        _ => String::new(),
    }
}

fn washing(care: Option<Care>) -> String {
    match care {
        None => "If you find out that it takes the machine: its label does not say, and fibre that was not treated felts and shrinks in it; wash a swatch first.".to_owned(),
        Some(care) => format!(
            "If you wash it as its label says ({}), not in the machine that the pattern asks for.",
            care.name()
        ),
    }
}

fn cap_sentence(cap: &Cap) -> String {
    match cap {
        Cap::HeelsWear { hard, loose } => {
            let hard = format!("{} % hard fibre such as nylon", number(hard * 100.0, 0));
            let loose = loose.map_or(String::new(), |built| {
                format!(", and {} yarn has little twist", built.name())
            });
            format!(
                "If you reinforce heels and toes, with a thread of nylon for instance: they wear through sooner ({hard}, where 10 % or more is usual{loose})."
            )
        }
        Cap::Sheds => "If loose fibre does no harm: it sheds, and loose fibre near a baby's mouth is to be avoided; keep it to the outside of a blanket or choose a smooth yarn.".to_owned(),
        Cap::Loops => "If no fingers can catch in it: its loops stand open; knit it firmly, or choose a smooth yarn for a baby.".to_owned(),
        Cap::NearHeat => "If you work it thick or double: cotton or wool are usual near heat.".to_owned(),
        Cap::MayNotFelt => "If a swatch felts in the wash: not all of its fibres are known.".to_owned(),
    }
}

fn doubt_sentence(doubt: &Doubt, style: &Style) -> String {
    match doubt {
        Doubt::Material(word) => format!(
            "If you find out what `{word}` is: it names a fibre or a build that was not understood, so it is not judged."
        ),
        Doubt::Contradiction(found) => format!(
            "If its label, which contradicts itself, was read right: {}.",
            contradiction_words(found, style)
        ),
    }
}
