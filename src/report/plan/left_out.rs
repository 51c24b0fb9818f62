//! Why a project is left out, and what to buy for it.

use crate::{
    app::{
        LeastOf, LeftOutProject, LeftOutReason, MOST_NEW, NotBought, PlanAnswer, PlannedPurchase,
        ShoppingList, WhyLeftOut, YarnOption,
    },
    report::{
        Style,
        purchase::{counted, counter},
        working::which,
    },
    words::{and_list, capitalized, joined},
};

pub(super) fn project_words(left: &LeftOutProject, style: &Style) -> String {
    let why = why(left, style);
    format!("{}: {why}.{}", left.title(), buy_words(left, style))
}

/// The same without its name: why, and what to buy.
pub(super) fn left_out_sentences(left: &LeftOutProject, style: &Style) -> (String, String) {
    let why = capitalized(&why(left, style));
    (
        format!("{why}."),
        buy_words(left, style).trim_start().to_owned(),
    )
}

/// What to buy, where buying helps.
fn buy_words(left: &LeftOutProject, style: &Style) -> String {
    match (&left.buy, &left.not_bought) {
        (Some(list), _) => format!(" {}", shopping_words(list, style)),
        (None, Some(NotBought::StashOnly)) => String::new(),
        (
            None,
            Some(NotBought::CostsMore {
                least,
                most,
                is_least: true,
            }),
        ) => {
            format!(" The least to buy costs {least}, more than your {most}.")
        }
        (None, Some(NotBought::CostsMore { least, most, .. })) => format!(
            " What was found to buy costs {least}, more than your {most}; something may cost less, since {STOPPED}."
        ),
        (None, Some(NotBought::OutOfTime)) => {
            format!(" What to buy for it was not found, since {STOPPED}: plan it alone.")
        }
        (None, Some(NotBought::NoPrice(currency))) => format!(
            " Nothing in your records with a price in {} could be bought for it.",
            currency.code()
        ),
        (None, None) if left.why.is_beyond_planning() => String::new(),
        (None, None) => " Nothing in your records could be bought for it.".to_owned(),
    }
}

pub(super) fn why(left: &LeftOutProject, style: &Style) -> String {
    let of = |role: &str| match left.is_of_one_yarn {
        true => String::new(),
        false => format!(" for yarn {role}"),
    };
    match &left.why {
        WhyLeftOut::PatternGone => {
            "its pattern was removed: add the pattern again, or remove the project".to_owned()
        }
        WhyLeftOut::SizeGone(sizes) => format!(
            "the pattern no longer has this size, but {}: remove the project and add it again",
            and_list(sizes)
        ),
        WhyLeftOut::RoleGone(role) => {
            format!("the pattern no longer has yarn {role}, for which you chose a yarn: unpin it")
        }
        WhyLeftOut::PinGone(pin) => {
            format!(
                "{}, which you chose for it, was removed: unpin it",
                pin.yarn
            )
        }
        WhyLeftOut::PinWillNotWork(role, pin) => format!(
            "{}, which you chose{}, will not work: unpin it or choose another",
            pin.yarn,
            of(role)
        ),
        WhyLeftOut::PinNotInStash(role, pin) => format!(
            "none of {}, which you chose{}, is free in your stash",
            chosen(pin),
            of(role)
        ),
        WhyLeftOut::StashNotCounted => "your stash does not count here".to_owned(),
        WhyLeftOut::NeedNotKnown(role) => {
            format!("the pattern does not say how much it needs{}", of(role))
        }
        WhyLeftOut::NothingFor(role) => {
            format!("nothing in your stash should or could work{}", of(role))
        }
        WhyLeftOut::NothingAsWished(role, left_out) => format!(
            "what in your stash could work{} is not as you wish: {}",
            of(role),
            left_out_words(left_out)
        ),
        WhyLeftOut::NotEnough { role, .. } => not_enough(&left.why, &of(role), style),
        WhyLeftOut::OthersFirst(left_out) => {
            format!("its yarn goes to the others{}", not_wished(left_out))
        }
    }
}

/// What comes nearest, and what it lacks.
fn not_enough(why: &WhyLeftOut, of: &str, style: &Style) -> String {
    let WhyLeftOut::NotEnough {
        yarn,
        shade,
        holds,
        takes,
        is_one_lot,
        place,
        left_out,
        ..
    } = why
    else {
        return String::new();
    };
    let one = if *is_one_lot { "dye lot" } else { "shade" };
    let place = place.as_ref();
    let place = place.map_or(String::new(), |place| format!(" in `{place}`"));
    let shade = match shade.as_str() {
        "" => String::new(),
        shade => format!(" in {shade}"),
    };
    format!(
        "not enough in one {one}{place}{of}: {yarn}{shade} is nearest with {}, and it needs {}{}",
        style.length_alone(*holds),
        style.length_alone(*takes),
        not_wished(left_out)
    )
}

/// What would help and is not as wished, where there is any.
fn not_wished(counts: &[(LeftOutReason, u64)]) -> String {
    match left_out_words(counts) {
        none if none.is_empty() => none,
        said => format!(" (not as you wish: {said})"),
    }
}

/// `9 yarns with wool, 1 not in `loft``
fn left_out_words(counts: &[(LeftOutReason, u64)]) -> String {
    let told = counts.iter().map(|(why, count)| {
        let yarns = if *count == 1 { "yarn" } else { "yarns" };
        format!("{count} {yarns} {}", which(why, *count))
    });
    and_list(told)
}

/// `Buy 3 skeins of Vorrelith, Orrin DK (27.00 EUR).`
fn shopping_words(list: &ShoppingList, style: &Style) -> String {
    let bought = list.yarns.iter().filter(|yarn| yarn.skeins > 0);
    let bought: Vec<String> = bought
        .map(|yarn| purchase_words(yarn, list, style))
        .collect();
    if bought.is_empty() {
        return "Nothing is to be bought.".to_owned();
    }
    let cost = list.cost.filter(|_| bought.len() > 1);
    let cost = cost.map_or(String::new(), |cost| format!(", {cost} in all"));
    format!("Buy {}{cost}: {}.", and_list(bought), how_little(list))
}

/// Why it may not be the least that it could be.
const STOPPED: &str = "the search was stopped for time";

/// `the cheapest choice`, `perhaps not the shortest length: the search was stopped for time`
fn how_little(list: &ShoppingList) -> String {
    let least = match list.counts {
        LeastOf::Money => "the cheapest choice",
        LeastOf::Length => "the shortest length",
    };
    match list.is_least {
        true => least.to_owned(),
        false => format!("perhaps not {least}, since {STOPPED}"),
    }
}

/// Among which yarns that was looked for.
pub(super) fn how_bought(answer: &PlanAnswer) -> Option<String> {
    let bought = answer.left_out.iter().any(|left| left.buy.is_some());
    bought.then(|| {
        format!(
            "What to buy is looked for in your stash and among the {MOST_NEW} of your yarns that fit best for each yarn of the pattern, project after project; by cost where all have a price in one currency, else by metres."
        )
    })
}

fn purchase_words(yarn: &PlannedPurchase, list: &ShoppingList, style: &Style) -> String {
    let word = counter(&yarn.offered.candidate.facts);
    let more = if yarn.shade.is_some() { "more " } else { "" };
    let shade = yarn.shade.as_deref().filter(|shade| !shade.is_empty());
    let shade = shade.map_or(String::new(), |shade| format!(" in {shade}"));
    let role = match list.yarns.as_slice() {
        [_] => String::new(),
        _ => format!(" for {}", yarn.role),
    };
    let there = yarn
        .shade
        .as_ref()
        .map(|_| format!("you have {}", style.length_alone(yarn.from_stash)));
    let cost = yarn.cost.map(|cost| cost.to_string());
    let aside = joined(cost.iter().chain(&there), "; ");
    let aside = match aside.as_str() {
        "" => String::new(),
        aside => format!(" ({aside})"),
    };
    let skeins = counted(yarn.skeins, &format!("{more}{word}"));
    format!(
        "{skeins} of {}{shade}{role}{aside}",
        yarn.offered.candidate.title
    )
}

/// `Umberlin DK in moss`.
pub(super) fn chosen(pin: &YarnOption) -> String {
    match pin.shade.as_deref() {
        None | Some("") => pin.yarn.clone(),
        Some(shade) => format!("{} in {shade}", pin.yarn),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_that_may_not_be_the_least_says_so() {
        let list = |counts, is_least| ShoppingList {
            yarns: Vec::new(),
            cost: None,
            counts,
            is_least,
        };
        assert_eq!(
            how_little(&list(LeastOf::Money, true)),
            "the cheapest choice"
        );
        let said = how_little(&list(LeastOf::Length, false));
        assert_eq!(
            said,
            "perhaps not the shortest length, since the search was stopped for time"
        );
    }
}
