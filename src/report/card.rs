//! The card that opens an answer about yarns: whether, how many, for how much, and what
//! the stash has; and the table that says the same of several sizes or colours.

use super::{
    Answer, Style, Table,
    candidate::skeins,
    cover::in_shade,
    judgement::{each_once, news, verdict_in_short, verdict_sentence},
    measured_yarn::{is_measured, measured_need},
    per_size::{counts_from_to, sizes_as_patterns_write_them},
    purchase::{counted, counter},
};
use crate::{
    app::{CandidateAnswer, SizeCover, SizePurchase},
    matching::Verdict,
    measure::units::YARD_M,
    quantity::total,
    words::{and_list, number, uncapitalized},
};

/// What a yarn comes to for one colour of a pattern.
#[derive(Clone, Copy)]
pub(super) struct Part<'a> {
    /// Key of the colour: `MC`.
    pub(super) key: &'a str,
    /// What the yarn comes to.
    pub(super) offered: &'a CandidateAnswer,
    /// The yarn, where it is one of several that are held together.
    pub(super) yarn: Option<&'a str>,
}

impl<'a> Part<'a> {
    /// A part for each yarn that is bought for one colour.
    pub(super) fn each(key: &'a str, offered: &'a CandidateAnswer) -> Vec<Self> {
        let is_held = !offered.ends.is_empty();
        let yarns = offered.each_yarn().iter();
        let parts = yarns.map(|offered| Self {
            key,
            offered,
            yarn: is_held.then_some(offered.candidate.title.as_str()),
        });
        parts.collect()
    }

    /// What tells it from the others: its colour, its yarn, or both.
    fn label(&self, parts: &[Part<'_>]) -> String {
        let is_one = parts.iter().all(|part| part.key == self.key);
        match self.yarn {
            None => self.key.to_owned(),
            Some(yarn) if is_one => yarn.to_owned(),
            Some(yarn) => format!("{yarn} for {}", self.key),
        }
    }
}

/// The card of an answer about one yarn.
pub(super) fn card(parts: &[Part<'_>], style: &Style) -> Answer {
    let verdicts = parts.iter().map(|part| part.offered.judgement.verdict);
    let verdict = verdicts.max().unwrap_or(Verdict::CannotSay);
    let sizes = parts.iter().map(|part| part.offered.skeins.as_slice());
    let bought: Vec<&SizePurchase> = sizes.flatten().collect();
    let only = match bought.as_slice() {
        [one] => Some(*one),
        _ => None,
    };
    Answer {
        role: news(verdict),
        verdict: verdicts_of_parts(parts, style),
        count: count(parts, style),
        length: only
            .filter(|_| !parts.iter().any(|part| is_measured(part.offered)))
            .map(|one| style.length_alone(one.purchase.bought)),
        cost: cost(parts, only),
        stash: stash(parts, style),
    }
}

/// What all costs, where one size is asked about: of one colour, or of yarns that are
/// bought together.
fn cost(parts: &[Part<'_>], only: Option<&SizePurchase>) -> Option<String> {
    if let Some(one) = only {
        return one.cost.as_ref().map(ToString::to_string);
    }
    let costs = parts
        .iter()
        .map(|part| match part.offered.skeins.as_slice() {
            [one] => one.cost.as_ref(),
            _ => None,
        });
    total(costs).map(|sum| sum.to_string())
}

/// One sentence where it is the same for all colours, else one for each.
fn verdicts_of_parts(parts: &[Part<'_>], style: &Style) -> String {
    let sentence = |part: &Part<'_>| verdict_sentence(part.offered, style);
    let all = each_once(parts.iter().map(sentence));
    if let [one] = all.as_slice() {
        return one.clone();
    }
    let each = all.iter().map(|said| {
        let same = parts.iter().filter(|part| sentence(part) == *said);
        let keys = and_list(same.map(|part| part.label(parts)));
        format!("{keys}: {}", uncapitalized(said))
    });
    each.collect::<Vec<_>>().join(" ")
}

/// `14 skeins`, `13 (14, 16) skeins`, `6 skeins of MC and 2 skeins of CC1`,
/// `1 skein for each size`.
fn count(parts: &[Part<'_>], style: &Style) -> Option<String> {
    let known = parts.iter().filter(|part| !part.offered.skeins.is_empty());
    let known: Vec<&Part<'_>> = known.collect();
    let same = |part: &&Part<'_>| {
        let counts = skeins(part.offered);
        counts.len() > 1 && counts.windows(2).all(|pair| pair.first() == pair.last())
    };
    let for_each = match known.iter().all(same) {
        true => " for each size",
        false => "",
    };
    let each = known.iter().map(|part| {
        let word = counter(&part.offered.candidate.facts);
        let counts = match skeins(part.offered).as_slice() {
            _ if is_measured(part.offered) => measured_need(part.offered, style),
            [one] => counted(*one, word),
            [first, ..] if same(part) => counted(*first, word),
            all => format!("{} {word}s", sizes_as_patterns_write_them(all)),
        };
        match parts {
            [_] => counts,
            _ => format!("{counts} of {}", part.label(parts)),
        }
    });
    let said = and_list(each);
    (!said.is_empty()).then(|| said + for_each)
}

/// What the stash has: nothing where the yarn is in no records or nothing is counted.
fn stash(parts: &[Part<'_>], style: &Style) -> Option<String> {
    let first = parts.first()?;
    let is_counted = parts.iter().any(|part| !part.offered.skeins.is_empty());
    let is_kept = parts.iter().any(|part| part.offered.candidate.kept);
    if !is_kept || !is_counted {
        return None;
    }
    let is_same = |part: &Part<'_>| part.offered.candidate.title == first.offered.candidate.title;
    let is_held = first.yarn.is_some() && parts.len() > 1;
    if is_held || !parts.iter().all(is_same) {
        return Some(of_each_yarn(parts));
    }
    let covers = parts.iter().flat_map(|part| {
        let covers = part.offered.cover.iter();
        covers.map(|cover| (*part, cover))
    });
    let covers: Vec<(Part<'_>, &SizeCover)> = covers.collect();
    match covers.as_slice() {
        [] => Some("None of it is in your stash.".to_owned()),
        [(part, one)] => Some(of_one(part.offered, one, style)),
        all => Some(of_several(parts, all)),
    }
}

/// `You have enough in moss.`, `You have 10 in moss: 4 short.`
fn of_one(found: &CandidateAnswer, one: &SizeCover, style: &Style) -> String {
    let cover = &one.cover;
    let shade = in_shade(cover, style);
    if cover.covers() {
        return format!("You have enough{shade}.");
    }
    let held: f64 = cover
        .lots
        .iter()
        .map(|(_, length)| length.as_metres())
        .sum();
    if let Some(missing) = cover.missing_m.filter(|_| is_measured(found)) {
        let [unit, _] = style.ordered("m", "yd");
        let [held, missing] = [held, missing].map(|it| number(it * style.per_metre(), 0));
        return format!("You have {held} {unit}{shade}: {missing} {unit} short.");
    }
    let skein = found.candidate.facts.skein_length();
    let held = skein.map(|skein| number((held / skein.as_metres() * 10.0).floor() / 10.0, 1));
    let short = short(found, one).unwrap_or_default();
    match held {
        Some(held) if !cover.lots.is_empty() => format!("You have {held}{shade}: {short}."),
        _ => format!("Your stash has none free{shade}: {short}."),
    }
}

/// `In your stash: enough of Orrin DK; 2 short of Kessel Lace.`
fn of_each_yarn(parts: &[Part<'_>]) -> String {
    let is_enough = |part: &Part<'_>| {
        let cover = &part.offered.cover;
        !cover.is_empty() && cover.iter().all(|size| size.cover.covers())
    };
    if parts.iter().all(is_enough) {
        return "You have enough of each.".to_owned();
    }
    let each = parts.iter().map(|part| {
        let stash = stash_of_sizes(part.offered);
        let label = part.label(parts);
        match (stash.as_deref(), part.offered.skeins.as_slice()) {
            (None, _) => format!("{label} is not in your records"),
            (Some(one), [_]) => format!("{one} of {label}"),
            (Some(sizes), _) => format!("enough of {label} for {sizes}"),
        }
    });
    format!("In your stash: {}.", each.collect::<Vec<_>>().join("; "))
}

/// `4 short`; `200 m short` where nobody sells skeins of that length.
fn short(found: &CandidateAnswer, one: &SizeCover) -> Option<String> {
    let cover = &one.cover;
    let metres = cover.missing_m?;
    Some(match cover.missing_skeins.filter(|_| !is_measured(found)) {
        Some(skeins) => format!("{skeins} short"),
        None => format!("{} m short", number(metres, 0)),
    })
}

/// `Your stash has enough for S and M, not for L.`
fn of_several(parts: &[Part<'_>], covers: &[(Part<'_>, &SizeCover)]) -> String {
    let label = |(part, cover): &(Part<'_>, &SizeCover)| match (parts, part.offered.skeins.len()) {
        ([_], _) => cover.size.clone(),
        (_, 1) => part.key.to_owned(),
        _ => format!("{} in {}", part.key, cover.size),
    };
    let (enough, not): (Vec<_>, Vec<_>) = covers.iter().partition(|(_, it)| it.cover.covers());
    let names = |of: &[&(Part<'_>, &SizeCover)]| and_list(of.iter().map(|it| label(it)));
    let is_of_sizes = parts.iter().any(|part| part.offered.skeins.len() > 1);
    match (enough.as_slice(), not.as_slice()) {
        (_, []) if is_of_sizes => "You have enough for every size.".to_owned(),
        (_, []) => "You have enough for each colour.".to_owned(),
        ([], _) if is_of_sizes => "You do not have enough for any size.".to_owned(),
        ([], _) => "You do not have enough.".to_owned(),
        (enough, not) => format!(
            "You have enough for {}, not for {}.",
            names(enough),
            names(not)
        ),
    }
}

/// `enough`, `4 short`, in a table.
pub(super) fn stash_in_short(found: &CandidateAnswer, size: &str) -> Option<String> {
    stash_with(found, size, short)
}

fn stash_with(
    found: &CandidateAnswer,
    size: &str,
    short: fn(&CandidateAnswer, &SizeCover) -> Option<String>,
) -> Option<String> {
    let mut covers = found.cover.iter();
    let cover = covers.find(|cover| cover.size == size);
    match cover {
        Some(cover) => Some(short(found, cover).unwrap_or_else(|| "enough".to_owned())),
        None => found.candidate.kept.then(|| "none".to_owned()),
    }
}

/// The same in a list, which has no room for how many metres of measured yarn are missing.
fn short_in_list(found: &CandidateAnswer, one: &SizeCover) -> Option<String> {
    match one.cover.missing_m {
        Some(_) if is_measured(found) => Some("short".to_owned()),
        _ => short(found, one),
    }
}

/// What the stash does for the sizes of a row: `enough`, `2 short`; of several sizes
/// `all sizes`, `2 of 6 sizes`.
pub(super) fn stash_of_sizes(found: &CandidateAnswer) -> Option<String> {
    let all = match found.skeins.as_slice() {
        [] => return None,
        [one] => return stash_with(found, &one.size, short_in_list),
        all => all.len(),
    };
    let covered = found.cover.iter().filter(|it| it.cover.covers()).count();
    Some(match covered {
        _ if !found.candidate.kept => return None,
        0 => "no size".to_owned(),
        covered if covered == all => "all sizes".to_owned(),
        covered => format!("{covered} of {all} sizes"),
    })
}

/// The head of that column.
pub(super) fn stash_head<'a>(found: impl IntoIterator<Item = &'a CandidateAnswer>) -> &'static str {
    match found.into_iter().any(|found| found.skeins.len() > 1) {
        true => "enough for",
        false => "stash",
    }
}

/// A row for each size of each colour; nothing for one of one.
pub(super) fn amounts(parts: &[Part<'_>], style: &Style) -> Option<Table> {
    let rows = parts.iter().flat_map(|part| {
        let bought = part.offered.skeins.iter();
        bought.map(move |bought| (part, bought))
    });
    let rows: Vec<(&Part<'_>, &SizePurchase)> = rows.collect();
    if rows.len() < 2 {
        return None;
    }
    let [unit, _] = style.ordered("m", "yd");
    let first = parts.first()?;
    let several = parts.iter().any(|part| part.key != first.key);
    let words = parts
        .iter()
        .map(|part| counter(&part.offered.candidate.facts));
    let word = match each_once(words.map(str::to_owned)).as_slice() {
        [one] => one.clone(),
        _ => "skein".to_owned(),
    };
    let titles = parts
        .iter()
        .map(|part| part.offered.candidate.title.clone());
    let is_one = each_once(titles).len() == 1;
    let sizes = each_once(rows.iter().map(|(_, bought)| bought.size.clone()));
    let table = Table::of(rows)
        .left("colour", |(part, _)| several.then_some(part.key))
        .left("yarn", |(part, _)| {
            (!is_one).then_some(part.offered.candidate.title.as_str())
        })
        .left("size", |(_, bought)| {
            (sizes.len() > 1).then(|| bought.size.clone())
        })
        .left("verdict", |(part, _)| {
            several.then(|| verdict_in_short(part.offered.judgement.verdict))
        })
        .right(&format!("needs {unit}"), |(_, bought)| {
            let need = bought.purchase.need.buy_for.as_metres();
            let [first, _] = style.ordered(need, need / YARD_M);
            number(first, 0)
        })
        .right(&format!("{word}s"), |(part, bought)| {
            (!is_measured(part.offered)).then_some(bought.purchase.skeins)
        })
        .right("cost", |(_, bought)| {
            bought.cost.as_ref().map(ToString::to_string)
        })
        .left("stash", |(part, bought)| {
            stash_in_short(part.offered, &bought.size)
        });
    Some(table.into())
}

/// Yarns that would work, a row each.
pub(super) fn candidates(found: &[&CandidateAnswer], style: &Style) -> Table {
    let [unit, _] = style.ordered("m/100 g", "yd/100 g");
    Table::of(found.iter().copied())
        .left("yarn", |found| found.candidate.title.as_str())
        .left("verdict", |found| verdict_in_short(found.judgement.verdict))
        .right(unit, |found| metres(found, style))
        .left("needs", |found| {
            needed(found, style).unwrap_or_else(|| "not known".to_owned())
        })
        .left(stash_head(found.iter().copied()), stash_of_sizes)
        .into()
}

/// `6 skeins`, `9 to 16 skeins`, `1290 m (800 g)`.
fn needed(found: &CandidateAnswer, style: &Style) -> Option<String> {
    if is_measured(found) && !found.skeins.is_empty() {
        return Some(measured_need(found, style));
    }
    let word = counter(&found.candidate.facts);
    Some(match counts_from_to(&skeins(found))?.as_str() {
        "1" => counted(1, word),
        counts => format!("{counts} {word}s"),
    })
}

/// Length per mass in the unit that comes first.
pub(super) fn metres(found: &CandidateAnswer, style: &Style) -> Option<String> {
    let grist = found.candidate.facts.grist()?;
    Some(number(grist.as_metres_per_100_g() * style.per_metre(), 0))
}
