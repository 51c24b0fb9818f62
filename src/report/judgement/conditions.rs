//! What has to be met for a yarn to work, a sentence each, with numbers.

use super::{
    hand::{build_around_smooth, build_in_hand, fibre_in_hand},
    missing::{measure, why},
    remedies::remedy_text,
    values::{classes_words, criterion_in_full, grist_words, stitches},
};
use crate::{
    app::CandidateAnswer,
    matching::{
        Cap, Condition, Criterion, Departure, Doubt, HeldGrist, Measured, Missing, Remedy, Turn,
    },
    record::{Care, Smooth, YarnFacts},
    report::{
        Style, contradiction::contradiction_words, purchase::counter, sizes_as_patterns_write_them,
    },
    words::{and_list, capitalized, count_of, number, uncapitalized},
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

/// What has to be met, in a clause: `you use 3.75 mm needles and you can do without
/// stretch`.
pub(in crate::report) fn conditions_in_short(answer: &CandidateAnswer, style: &Style) -> String {
    let conditions = answer.judgement.conditions.iter();
    let clauses = conditions.map(|condition| match condition {
        Condition::Gauge => gauge_in_short(answer),
        other => clause(other, answer, style).0,
    });
    and_list(clauses.filter(|clause| !clause.is_empty()))
}

fn sentence(
    condition: &Condition,
    answer: &CandidateAnswer,
    (remedies, style): (&[String], &Style),
) -> String {
    match condition {
        Condition::Gauge => gauge(answer, remedies),
        other => match clause(other, answer, style) {
            (none, _) if none.is_empty() => none,
            (clause, rest) => format!("If {clause}{rest}"),
        },
    }
}

/// What has to be met, and the rest of its sentence.
fn clause(condition: &Condition, answer: &CandidateAnswer, style: &Style) -> (String, String) {
    let departure = |criterion| answer.judgement.departure(criterion);
    match condition {
        Condition::Strands(strands) => strands_held(*strands, answer, style),
        Condition::Cloth(off) => cloth(*off, answer, style),
        Condition::Gauge => (gauge_in_short(answer), String::new()),
        Condition::SwatchGauge => swatch_gauge(departure(Criterion::Gauge)),
        Condition::Departs(Criterion::Construction) if is_carried(&answer.candidate.facts) => {
            let built = answer.candidate.facts.construction.as_ref();
            built.map_or_else(Default::default, |built| build_around_smooth(built.value))
        }
        Condition::Departs(criterion) => {
            departure(*criterion).map_or_else(Default::default, accepted)
        }
        Condition::Missing(missing @ Missing::ComparableGrist { .. }) => (
            "a swatch gives the gauge, as its metres per 100 g cannot be compared".to_owned(),
            format!(": {}; {}.", why(missing, style), measure(missing)),
        ),
        Condition::Missing(missing) => (
            format!(
                "you first find out {}",
                wanted_to_know(missing.criterion(), style)
            ),
            format!(": {}; {}.", why(missing, style), measure(missing)),
        ),
        Condition::Cap(cap) => cap_clause(cap),
        Condition::Doubt(doubt) => doubt_clause(doubt, style),
    }
}

/// Whether smooth yarn carries the cloth, with another yarn beside it.
fn is_carried(facts: &YarnFacts) -> bool {
    facts
        .together
        .is_some_and(|held| held.smooth == Smooth::Half)
}

fn wanted_to_know(criterion: Criterion, style: &Style) -> String {
    match criterion {
        Criterion::Grist => format!("its {}", criterion_in_full(criterion, style)),
        Criterion::Gauge => "how many stitches it gives".to_owned(),
        Criterion::WeightClass => "its weight".to_owned(),
        Criterion::Fibre => "what it is made of".to_owned(),
        Criterion::Construction => "how it is built".to_owned(),
        Criterion::Care => "how it is washed".to_owned(),
    }
}

fn strands_held(strands: u8, answer: &CandidateAnswer, style: &Style) -> (String, String) {
    let facts = &answer.candidate.facts;
    let together = facts.grist().and_then(|one| one.times(strands));
    let in_all = together.map_or(String::new(), |grist| {
        format!(", {} in all", style.grist_alone(grist))
    });
    (
        format!("you hold {strands} strands together"),
        format!("{in_all}{}.", balls(answer, ": buy ")),
    )
}

/// `you like a firmer, heavier cloth`, ` (11 % shorter for its weight): buy by length,
/// 14 balls.`
fn cloth(off: f64, answer: &CandidateAnswer, style: &Style) -> (String, String) {
    let percent = number(off.abs() * 100.0, 1);
    let (cloth, length) = if off < 0.0 {
        ("a firmer, heavier cloth", "less")
    } else {
        ("a lighter, airier cloth", "more")
    };
    let grist = answer.judgement.departure(Criterion::Grist);
    let of = grist.map_or(String::new(), |found| compared(found, style));
    (
        format!("you like {cloth}"),
        format!(
            " ({percent} % {length} length for its weight{of}): buy by length, not by the number of {}s{}.",
            counter(&answer.candidate.facts),
            balls(answer, "; ")
        ),
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
    let word = counter(&answer.candidate.facts);
    let counts = answer.skeins.iter();
    let counts: Vec<String> = counts
        .map(|bought| bought.purchase.skeins.to_string())
        .collect();
    match counts.as_slice() {
        [] => String::new(),
        [one] if one == "1" => format!("{before}1 {word}"),
        all => format!("{before}{} {word}s", sizes_as_patterns_write_them(all)),
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

/// The first remedy for gauge, in a few words.
fn gauge_in_short(answer: &CandidateAnswer) -> String {
    let mut remedies = answer.judgement.remedies.iter();
    let first = remedies.find_map(|remedy| match remedy {
        Remedy::HoldStrands { .. } => None,
        Remedy::ChangeNeedle { to: Some(to), .. } => Some(format!(
            "you use {} mm needles",
            number(to.as_millimetres(), 2)
        )),
        Remedy::ChangeNeedle { turn, steps, .. } => {
            let way = match turn {
                Turn::Down => "smaller",
                Turn::Up => "larger",
            };
            let sizes = count_of(f64::from(*steps), "size");
            Some(format!("you use needles {sizes} {way}"))
        }
        Remedy::ReworkStitches { .. } => Some("you rework the stitch counts".to_owned()),
        Remedy::AnotherSize { knit, .. } => Some(format!("you cast on for size {knit}")),
    });
    first.unwrap_or_default()
}

fn swatch_gauge(found: Option<&Departure>) -> (String, String) {
    let gauge = |measured: &Measured| match measured {
        Measured::Gauge { per_10_cm, .. } => stitches(*per_10_cm),
        _ => String::new(),
    };
    let rest = found.map_or(String::new(), |found| {
        format!(
            ": {} wanted, {} predicted from thickness alone.",
            gauge(&found.wanted),
            gauge(&found.offered)
        )
    });
    ("a swatch meets the gauge".to_owned(), rest)
}

/// What departs beyond its limit, what will be different, and what to do about it.
fn accepted(found: &Departure) -> (String, String) {
    match (&found.wanted, &found.offered) {
        (Measured::Fibre(_), Measured::Fibre(_)) => fibre_in_hand(found),
        (Measured::Construction(wanted), Measured::Construction(offered)) => {
            build_in_hand(*offered, *wanted)
        }
        (Measured::WeightClass { classes, .. }, Measured::WeightClass { classes: own, .. }) => (
            "length and gauge are right".to_owned(),
            format!(
                ": its label calls it {}, where {} is wanted; such names differ by market, so go by metres per ball and by a swatch.",
                classes_words(own),
                classes_words(classes)
            ),
        ),
        (_, Measured::Care(care)) => washing(*care),
        _ => Default::default(),
    }
}

fn washing(care: Option<Care>) -> (String, String) {
    match care {
        None => ("you find out that it takes the machine", ": its label does not say, and fibre that was not treated felts and shrinks in it; wash a swatch first.").owned(),
        Some(care) => (
            "you wash it as its label says".to_owned(),
            format!(" ({}), not in the machine that the pattern asks for.", care.name()),
        ),
    }
}

fn cap_clause(cap: &Cap) -> (String, String) {
    match cap {
        Cap::HeelsWear { hard, loose } => {
            let hard = format!("{} % hard fibre such as nylon", number(hard * 100.0, 0));
            let loose = loose.map_or(String::new(), |built| {
                format!(", and {} yarn has little twist", built.name())
            });
            let rest = format!(
                ", with a thread of nylon for instance: they wear through sooner ({hard}, where 10 % or more is usual{loose})."
            );
            ("you reinforce heels and toes".to_owned(), rest)
        }
        Cap::Sheds => ("loose fibre does no harm", ": it sheds, and loose fibre near a baby's mouth is to be avoided; keep it to the outside of a blanket or choose a smooth yarn.").owned(),
        Cap::Loops => ("no fingers can catch in it", ": its loops stand open; knit it firmly, or choose a smooth yarn for a baby.").owned(),
        Cap::NearHeat => ("you work it thick or double", ": cotton or wool are usual near heat.").owned(),
        Cap::MayNotFelt => ("a swatch felts in the wash", ": not all of its fibres are known.").owned(),
    }
}

fn doubt_clause(doubt: &Doubt, style: &Style) -> (String, String) {
    match doubt {
        Doubt::Material(word) => (
            format!("you find out what `{word}` is"),
            ": it names a fibre or a build that was not understood, so it is not judged."
                .to_owned(),
        ),
        Doubt::Contradiction(found) => (
            "its label, which contradicts itself, was read right".to_owned(),
            format!(": {}.", contradiction_words(found, style)),
        ),
        Doubt::Measured(range) => (
            "a swatch, or measuring it again, shows that it is within the limit".to_owned(),
            format!(
                ": measured, it has {}, which reaches beyond.",
                style.grist_range(*range)
            ),
        ),
    }
}

/// Fixed texts as texts of their own.
trait Owned {
    fn owned(self) -> (String, String);
}

impl Owned for (&str, &str) {
    fn owned(self) -> (String, String) {
        (self.0.to_owned(), self.1.to_owned())
    }
}
