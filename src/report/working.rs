//! How an answer was reached and notes beside it, a sentence each.

use super::{
    Page, Role, SWATCH_IN_SHORT, SWATCH_LINE, Style,
    gauge_change::gauge_change_sentence,
    judgement::{each_once, fit_words, group_words},
    per_size::role_name,
};
use crate::{
    app::{ChanceBasis, FieldNote, LabelBasis, LeftOutReason, Remark, UnmetWish, Wishes, Working},
    matching::{Exclusion, FibreLimits},
    trade::FibreGroup,
    words::{and_list, joined, number, or_list, uncapitalized},
};

/// The head of the part with the working.
pub(super) const WORKED_OUT: &str = "How this was worked out";

/// What was assumed, in one line, and that it has to be swatched: `Assumed: relaxed fit,
/// 10 % spare (you did not say). Swatch and wash it before you buy the rest.`
pub(super) fn assumptions<'w>(
    working: impl IntoIterator<Item = &'w Working>,
    style: &Style,
) -> String {
    let assumed = working.into_iter().filter_map(|working| match working {
        Working::UsualFit(fit, _) => Some(fit_words(*fit)),
        Working::UsualTolerance(share) => {
            let [unit, _] = style.ordered("metres", "yards");
            let percent = number(share.as_percent(), 1);
            Some(format!("{percent} % either way on {unit} per 100 g"))
        }
        Working::MarginNotStated(spare) => {
            Some(format!("{} % spare", number(spare.as_percent(), 1)))
        }
        Working::AtAnotherGauge(change) if change.reading.is_assumed => {
            Some("stitch counts as written, lengths by tape".to_owned())
        }
        _ => None,
    });
    match joined(each_once(assumed), ", ") {
        none if none.is_empty() => SWATCH_IN_SHORT.to_owned(),
        all => format!("Assumed: {all} (you did not say). {SWATCH_IN_SHORT}"),
    }
}

/// How an answer was reached, folded, and that only a swatch proves it.
pub(super) fn add_working(page: &mut Page, working: &[String]) {
    let mut folded = Page::default();
    folded.items(Role::Aside, working);
    folded.text(Role::Plain, SWATCH_LINE);
    page.details(WORKED_OUT, folded);
}

/// How an answer was reached.
pub fn working_sentences<'w>(
    working: impl IntoIterator<Item = &'w Working>,
    style: &Style,
) -> Vec<String> {
    let sentences = |working| match working {
        &Working::Chance(basis) => chance(&basis),
        other => vec![sentence(other, style)],
    };
    working.into_iter().flat_map(sentences).collect()
}

fn sentence(working: &Working, style: &Style) -> String {
    match working {
        Working::ToleranceOfPattern(text) => {
            format!("Limit on metres per 100 g: {text} either way, as the pattern says.")
        }
        Working::UsualTolerance(share) => format!(
            "Assumed: {} % either way on metres per 100 g (you did not say; common practice, published limits run up to 20 %). Set your own with {}.",
            number(share.as_percent(), 2),
            style.field("tolerance")
        ),
        Working::UsualFit(fit, None) => format!(
            "Assumed: {} (you did not say). Set your own with {}.",
            fit_words(*fit),
            style.field("fit")
        ),
        Working::UsualFit(fit, Some(purpose)) => format!(
            "Assumed: {} (you did not say), as is usual for: {}. Set your own with {}.",
            fit_words(*fit),
            purpose.name(),
            style.field("fit")
        ),
        Working::MarginIncluded => {
            "Nothing spare is added: the pattern says that its amounts include some.".to_owned()
        }
        Working::MarginNotIncluded(margin) => format!(
            "{} % spare is added: the pattern says that its amounts include none.",
            number(margin.as_percent(), 2)
        ),
        Working::MarginNotStated(margin) => format!(
            "Assumed: {} % spare (the pattern does not say whether its amounts include some). Set your own with {}.",
            number(margin.as_percent(), 2),
            style.field("margin")
        ),
        Working::NeedInSkeins(role, skein) => format!(
            "The yarn needed for {role} is counted in skeins of {}.",
            style.length(*skein)
        ),
        Working::HeldTogether(keys) => held_together(keys),
        Working::Beside(titles) => beside(titles),
        Working::SkeinsOfSheet => "Skeins = need x strands x spare / length of one skein, rounded up to whole skeins for each size and colour by itself.".to_owned(),
        Working::DiscontinuedLeftOut(count) => {
            format!("{count} left out: discontinued.")
        }
        Working::FibreLimits(limits) => limits_sentence(limits),
        Working::Wishes(wishes) => wishes_sentence(wishes),
        Working::ProjectWishes(wishes) => project_wishes_sentence(wishes),
        Working::LeftOut(counts) => left_out_sentence(counts),
        Working::AtAnotherGauge(change) => gauge_change_sentence(change, style),
        Working::Chance(basis) => chance(basis).join(" "),
    }
}

/// That the pattern holds these yarns together.
pub(super) fn held_together(keys: &[String]) -> String {
    format!(
        "The pattern holds {} together as one strand, and its gauge is that of {}.",
        and_list(keys),
        all_of(keys)
    )
}

fn all_of(keys: &[String]) -> &'static str {
    match keys.len() {
        2 => "both",
        _ => "all of them",
    }
}

/// That each yarn is judged together with the pattern's others.
pub(super) fn beside(titles: &[String]) -> String {
    format!(
        "Each yarn is judged together with {}, as the pattern holds it.",
        and_list(titles)
    )
}

/// That a yarn for this role would take the place of all that the pattern holds together,
/// where the role is all of them.
pub(super) fn one_for_all(role: &str, keys: &[String]) -> Option<String> {
    let is_all = !keys.is_empty() && keys.join(" + ") == role;
    is_all.then(|| {
        format!(
            "The pattern holds {} together: one yarn here takes the place of {}. You can also ask for yarns held together, or for one in place of {}.",
            and_list(keys),
            all_of(keys),
            or_list(keys)
        )
    })
}

/// What was counted as uncertain, each with its basis, and what was not.
fn chance(basis: &ChanceBasis) -> Vec<String> {
    let own = match basis.own_use {
        Some(share) => format!(
            "Chance, own use: within {} % of the need 95 times in 100, as you say; counted as a normal spread.",
            number(share.as_percent(), 2)
        ),
        None => "Chance, own use: not counted, since you did not say how far yours lies from stated needs.".to_owned(),
    };
    let need = if basis.is_range {
        "Chance, need: a need in whole skeins or from and to may be anything in its range, all equally likely."
    } else {
        "Chance, need: counted as exact, as stated."
    };
    vec![
        label(basis.label),
        own,
        need.to_owned(),
        "Chance: the spare is not counted, nor is anything else that can go wrong.".to_owned(),
    ]
}

fn label(label: LabelBasis) -> String {
    match label {
        LabelBasis::Skein { mass, short } => {
            let short = number(short.as_grams(), 2);
            format!(
                "Chance, label: a skein of {} g may fall {short} g short (Directive 76/211/EEC, Annex I) and at most 1 in 40 by more (UK packers' rules), so its mass is counted as a normal spread about the label with {short} / 1.96 g, and its length with it.",
                number(mass.as_grams(), 2),
            )
        }
        LabelBasis::NotCounted => "Chance, label: not counted, since the mass of a skein is not known or no tolerance is published for it.".to_owned(),
        LabelBasis::EachYarn => "Chance, label: the mass of a skein is counted as a normal spread about its label, with what that may fall short (Directive 76/211/EEC, Annex I; at most 1 in 40 by more, UK packers' rules) / 1.96, and its length with it; not counted where the mass is not known or no tolerance is published for it.".to_owned(),
    }
}

/// What was noticed about what was read, and notes beside it.
pub(super) fn what_to_know(notes: &[FieldNote], remarks: &[Remark], style: &Style) -> Vec<String> {
    let remarks = remarks.iter().map(|remark| remark_sentence(remark, style));
    style.notes(notes).into_iter().chain(remarks).collect()
}

/// Notes beside an answer.
pub fn remark_sentence(remark: &Remark, style: &Style) -> String {
    match remark {
        Remark::Discontinued => {
            "This yarn is discontinued: what is in your stash is all there is.".to_owned()
        }
        Remark::AsMeasured(range) => format!(
            "This yarn has no label: it was measured, and has {}.",
            style.grist_range(*range)
        ),
        Remark::NotInStock => "None of this yarn is in your stash.".to_owned(),
        Remark::NeedNotStated => format!(
            "Not known: how much the pattern needs. Add {}, as in `{}`.",
            style.field("need"),
            style.example("need", "9 x 125 m")
        ),
        Remark::SkeinNotKnown => {
            "Not known how many to buy: the length of one skein of this yarn is not known.".to_owned()
        }
        Remark::NeedInMass => "Not known how many to buy: the pattern gives a weight, and neither metres per ball nor the weight class of its yarn.".to_owned(),
        Remark::Unmet(wish) => format!("Not as you wish: {}.", unmet_words(wish)),
        Remark::NoYarnFor(keys) => format!(
            "No yarn is named for {}: not counted.",
            and_list(keys.iter().map(|key| role_name(key)))
        ),
        Remark::Of(name, remark) => {
            let said = remark_sentence(remark, style);
            match said.strip_prefix("This yarn") {
                Some(rest) => format!("{name}{rest}"),
                None => format!("{name}: {}", uncapitalized(&said)),
            }
        }
        Remark::NothingFor(role) => {
            format!("None of your yarns should or could work for yarn {role}.")
        }
    }
}

fn limits_sentence(limits: &FibreLimits) -> String {
    let words = |groups: &[FibreGroup]| and_list(groups.iter().copied().map(group_words));
    let without = (!limits.without.is_empty()).then(|| format!("No {}.", words(&limits.without)));
    let only = (!limits.only.is_empty()).then(|| format!("Only {}.", words(&limits.only)));
    let told = "A yarn of unknown fibre does not pass. For an allergy, go by the label of each ball and ask a doctor: records may be wrong, and traces are not printed.";
    let said = without.into_iter().chain(only).chain([told.to_owned()]);
    said.collect::<Vec<_>>().join(" ")
}

fn wishes_sentence(wishes: &Wishes) -> String {
    let cost = wishes.max_cost.map(|most| {
        format!(
            "It may cost {most} at most: all balls of one yarn, in every size asked about; of a pattern with several yarns each counts by itself."
        )
    });
    let stash = match (wishes.is_one_lot, wishes.is_enough) {
        (true, _) => Some("One dye lot in your stash must be enough."),
        (false, true) => Some("Your stash must have enough of one shade."),
        (false, false) => None,
    };
    let said = cost.into_iter().chain(stash.map(str::to_owned));
    said.chain(stash_wishes(wishes))
        .collect::<Vec<_>>()
        .join(" ")
}

/// Which of the stash is meant.
fn stash_wishes(wishes: &Wishes) -> impl Iterator<Item = String> {
    let shade = wishes.shade.as_ref();
    let shade = shade.map(|words| format!("Only shades with the words `{words}`."));
    let place = wishes.place.as_ref();
    let place = place.map(|words| format!("Only what is in `{words}`."));
    shade.into_iter().chain(place)
}

/// The same of each project of a plan.
fn project_wishes_sentence(wishes: &Wishes) -> String {
    let cost = wishes
        .max_cost
        .map(|most| format!("At most {most} is spent on a project; what you have costs nothing."));
    let stash = "Nothing is bought: only what your stash has enough of counts.";
    let lot = "Each yarn of a project is of one dye lot.";
    let flags = [(wishes.is_enough, stash), (wishes.is_one_lot, lot)];
    let flags = flags.into_iter().filter(|(is_wished, _)| *is_wished);
    let said = cost
        .into_iter()
        .chain(flags.map(|(_, said)| said.to_owned()));
    said.chain(stash_wishes(wishes))
        .collect::<Vec<_>>()
        .join(" ")
}

/// `12 left out: 9 with wool, 3 that cost more than 40.00 EUR.`
pub(super) fn left_out_sentence(counts: &[(LeftOutReason, u64)]) -> String {
    if let [(why, count)] = counts {
        return format!("{count} left out: {}.", which(why, *count));
    }
    let all: u64 = counts.iter().map(|(_, count)| count).sum();
    let told = counts.iter();
    let told = told.map(|(why, count)| format!("{count} {}", which(why, *count)));
    format!("{all} left out: {}.", joined(told, ", "))
}

/// Which yarns were left out: `with wool`.
pub(super) fn which(why: &LeftOutReason, count: u64) -> String {
    let verb = |one: &str, several: &str| if count == 1 { one } else { several }.to_owned();
    match why {
        LeftOutReason::Fibre(Exclusion::FibreNotKnown) => "of unknown fibre".to_owned(),
        LeftOutReason::Fibre(exclusion) => format!("with {}", held_words(*exclusion)),
        LeftOutReason::LengthNotKnown => "without known metres per ball".to_owned(),
        LeftOutReason::Wish(UnmetWish::NotInStash) => "not in your stash".to_owned(),
        LeftOutReason::Wish(UnmetWish::OtherShade(words)) => format!("in no shade `{words}`"),
        LeftOutReason::Wish(UnmetWish::OtherPlace(words)) => format!("not in `{words}`"),
        LeftOutReason::Wish(UnmetWish::NotEnough) => "without enough in your stash".to_owned(),
        LeftOutReason::Wish(UnmetWish::NotEnoughInOneLot) => "without enough of one lot".to_owned(),
        LeftOutReason::Wish(UnmetWish::AmountNotKnown) => {
            "for which the amount is not known".to_owned()
        }
        LeftOutReason::Wish(UnmetWish::CostsMore(most)) => {
            format!("that {} more than {most}", verb("costs", "cost"))
        }
        LeftOutReason::Wish(UnmetWish::CostNotKnown) => "of unknown cost".to_owned(),
        LeftOutReason::Wish(UnmetWish::OtherCurrency(currency)) => {
            format!("without a price in {}", currency.code())
        }
    }
}

/// Why a yarn was left out, in a few words.
pub fn why_left_out(why: &LeftOutReason) -> String {
    match why {
        LeftOutReason::Fibre(exclusion) => held_words(*exclusion),
        LeftOutReason::Wish(wish) => unmet_words(wish),
        LeftOutReason::LengthNotKnown => "metres per ball not known".to_owned(),
    }
}

fn unmet_words(wish: &UnmetWish) -> String {
    match wish {
        UnmetWish::NotInStash => "not in your stash".to_owned(),
        UnmetWish::OtherShade(words) => format!("no shade `{words}`"),
        UnmetWish::OtherPlace(words) => format!("not in `{words}`"),
        UnmetWish::NotEnough => "not enough in your stash".to_owned(),
        UnmetWish::NotEnoughInOneLot => "no lot alone is enough".to_owned(),
        UnmetWish::AmountNotKnown => "not known whether there is enough".to_owned(),
        UnmetWish::CostsMore(most) => format!("costs more than {most}"),
        UnmetWish::CostNotKnown => "cost not known".to_owned(),
        UnmetWish::OtherCurrency(currency) => format!("no price in {}", currency.code()),
    }
}

fn held_words(exclusion: Exclusion) -> String {
    match exclusion {
        Exclusion::Holds(group) => group_words(group),
        Exclusion::HoldsOther(fibre) => fibre.name.to_owned(),
        Exclusion::FibreNotKnown => "fibre not known".to_owned(),
    }
}
