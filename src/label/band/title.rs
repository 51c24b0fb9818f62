//! Who makes a yarn and what it is called, where a label or a materials line begins
//! with it: `Thrumwick Yard, Umberlin DK, 100% wool`. No list of makers is known here;
//! what stands before the first fact is the name, and two names in a row are maker and
//! name.

use super::scan::{Item, Part};
use crate::label::token::{Words, words};
use std::ops::Range;

/// Words with which a sentence about materials begins, before any name.
const LEADS: Words = words! {
    you, will, materials, material, shown, sample, knitted, worked, made, model, sizes, size,
    gauge, tension, needles, colour, color, shade, lot, to, fit,
};

/// A yarn's name, and its maker's where that is said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Title {
    /// Who makes it.
    pub maker: Option<String>,
    /// What it is called.
    pub name: String,
    /// Bytes of the text.
    pub span: Range<usize>,
}

impl Title {
    /// Whether these bytes of the text are part of it.
    pub fn holds(&self, span: &Range<usize>) -> bool {
        self.span.start <= span.start && span.end <= self.span.end
    }
}

/// Words with which a line says that the yarn follows, where a colon stands behind them.
const YARN_LEADS: Words = words! {
    yarn, yarns, material, materials, garn, wolle, laine, fil, hilo, lana, garen, wol,
};

/// What a text of these parts calls the yarn: on a line that says so, `Yarn: Umberlin DK`,
/// else before its facts.
pub fn title(parts: &[Part], text: &str) -> Option<Title> {
    let of_part = |start: usize| {
        let at = parts.iter().position(|part| part.span().start >= start)?;
        title_before_facts(parts.get(at..)?, text)
    };
    let mut starts = yarn_lines(text);
    starts
        .find_map(of_part)
        .or_else(|| title_before_facts(parts, text))
}

/// Where the lines go on that begin with `Yarn:`, in bytes.
fn yarn_lines(text: &str) -> impl Iterator<Item = usize> {
    let mut end = 0;
    text.split_inclusive('\n').filter_map(move |line| {
        let start = end;
        end += line.len();
        let (lead, _) = line.split_once(':')?;
        let is_lead = YARN_LEADS.contains(&lead.trim().to_lowercase());
        (is_lead && start > 0).then(|| start + lead.len() + 1)
    })
}

fn title_before_facts(parts: &[Part], text: &str) -> Option<Title> {
    let mut run: Option<Range<usize>> = None;
    let mut breaks = 0;
    for part in parts {
        let span = part.span();
        let end = run.as_ref().map_or(0, |run| run.end);
        let between = text.get(end..span.start).unwrap_or("");
        if between.contains([':', '=']) {
            (run, breaks) = (None, 0);
        }
        let parted = run.is_some() && is_parted(between);
        breaks += usize::from(parted);
        let stops = run.is_some() && between.contains(['(', ')', '[', ';']) || breaks > 1;
        if stops || !is_of_name(part, text, run.is_some() && !parted) {
            if run.is_some() {
                break;
            }
            if may_stand_first(part, text) {
                continue;
            }
            return None;
        }
        run = Some(run.map_or(span.start, |run| run.start)..span.end);
    }
    of_run(text, run?)
}

fn is_parted(between: &str) -> bool {
    between.contains([',', '\n', '–', '—', '|']) || between.contains(" - ")
}

/// Whether a part belongs to a name: a word that says nothing else, and behind it, in
/// the same breath, a class, a build or a fibre.
fn is_of_name(part: &Part, text: &str, goes_on: bool) -> bool {
    let said = text.get(part.span().clone()).unwrap_or("");
    match part {
        Part::Unknown(..) if said.chars().any(char::is_alphabetic) => {
            !LEADS.contains(&said.to_lowercase())
        }
        Part::Unknown(..) => goes_on && said.chars().any(char::is_numeric),
        _ => match part.item() {
            Some(Item::Class(_) | Item::Construction(..)) => goes_on,
            Some(Item::Blend(_)) => goes_on && !said.contains(|c: char| c.is_numeric() || c == '%'),
            _ => false,
        },
    }
}

/// What may stand before a name: how many balls of it, a number under a barcode.
fn may_stand_first(part: &Part, text: &str) -> bool {
    let lead = |span: &Range<usize>| {
        let said = text.get(span.clone()).unwrap_or("").to_lowercase();
        LEADS.contains(&said)
    };
    match part {
        Part::Unknown(span, _) => lead(span),
        _ => matches!(part.item(), Some(Item::Amount(_) | Item::Gtin(_))),
    }
}

fn of_run(text: &str, run: Range<usize>) -> Option<Title> {
    let said = text.get(run.clone())?;
    let behind = text.get(run.end..).unwrap_or("").trim_start();
    let small = said.chars().find(|c| c.is_alphabetic())?.is_lowercase();
    if small && !behind.starts_with('(') {
        return None;
    }
    let names = said.replace(" - ", ",");
    let mut names = names
        .split([',', '\n', '–', '—', '|'])
        .map(|name| name.split_whitespace().collect::<Vec<_>>().join(" "))
        .filter(|name| !name.is_empty());
    let first = names.next()?;
    let (maker, name) = match (names.next(), first.split_once(" by ")) {
        (Some(name), _) => (Some(first), name),
        (None, Some((name, maker))) => (Some(maker.to_owned()), name.to_owned()),
        (None, None) => (None, first),
    };
    Some(Title {
        maker,
        name,
        span: run,
    })
}

#[cfg(test)]
mod tests {
    use crate::label::band::read_titled;

    /// Invented labels, as balls and patterns carry them: common practice, no source.
    #[test]
    fn a_label_that_begins_with_its_name_keeps_it() {
        for (text, maker, name) in [
            ("Umberlin DK (100% wool; 120 m / 50 g)", "", "Umberlin DK"),
            ("umberlin dk (100% wool; 120 m / 50 g)", "", "umberlin dk"),
            (
                "Thrumwick Yard, Umberlin DK, 100% wool, 120 m / 50 g, shade 14 Ferry, lot 8832",
                "Thrumwick Yard",
                "Umberlin DK",
            ),
            (
                "Thrumwick Yard\nUmberlin DK\n100% wool\n50 g - 120 m\nColour: 23\nDye lot 4471B",
                "Thrumwick Yard",
                "Umberlin DK",
            ),
            (
                "Umberlin 4 ply by Thrumwick Yard, 100% wool",
                "Thrumwick Yard",
                "Umberlin 4 ply",
            ),
            (
                "Murrow Merino 100% merino wool 175 m 50 g",
                "",
                "Murrow Merino",
            ),
            (
                "10 (11, 12) balls of Umberlin DK, 100% wool",
                "",
                "Umberlin DK",
            ),
            ("Materials: Umberlin DK, 100% wool", "", "Umberlin DK"),
        ] {
            let found = read_titled(text).0.unwrap_or_else(|| panic!("{text}"));
            assert_eq!(
                (found.maker.as_deref().unwrap_or(""), found.name.as_str()),
                (maker, name),
                "{text}"
            );
        }
    }

    #[test]
    fn what_begins_with_facts_or_small_words_names_nothing() {
        for text in [
            "50 g = 125 m, 100% wool, zorp",
            "100% wool, Umberlin",
            "soft, 100% wool",
            "22 sts and 30 rows to 10 cm on 4 mm",
            "",
        ] {
            assert_eq!(read_titled(text).0, None, "{text}");
        }
    }
}
