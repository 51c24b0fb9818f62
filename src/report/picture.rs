//! Numbers that people would rather look at: bars, one below the other, and a map of
//! yarns. Each has a table that says the same.

use super::{Block, Columns, Page, Style, Table, judgement::verdict_in_short};
use crate::{
    app::{MapPlace, MapYarn, YarnMap},
    matching::Verdict,
    words::{count_of, number},
};

/// A picture.
#[derive(Debug, Clone, PartialEq)]
pub enum Picture {
    /// Bars, one below the other.
    Bars(Bars),
    /// Marks around a cross.
    Map(Map),
}

impl Picture {
    /// What it shows.
    pub fn title(&self) -> &str {
        match self {
            Self::Bars(bars) => &bars.title,
            Self::Map(map) => &map.title,
        }
    }

    /// The same as a table.
    pub fn table(&self) -> Table {
        match self {
            Self::Bars(bars) => bars.table().without_empty_columns(),
            Self::Map(map) => map.table(),
        }
    }
}

impl Page {
    /// Adds a picture, where there is one.
    pub fn picture(&mut self, picture: Option<Picture>) {
        self.blocks.extend(picture.map(Block::Picture));
    }
}

/// Bars of one measure, each of one part or of several that add up.
#[derive(Debug, Clone, PartialEq)]
pub struct Bars {
    /// What they show.
    pub title: String,
    /// What groups of bars are called, and what each bar is: `size`, `balls`.
    pub heads: [String; 2],
    /// What each part of a bar is; of bars of one part, what that is.
    pub parts: Vec<String>,
    /// What a bar of full length comes to.
    pub most: f64,
    /// The bars, group by group.
    pub bars: Vec<Bar>,
}

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// The group that it belongs to; empty where there is one only.
    pub group: String,
    /// What it is of: `5 balls`.
    pub label: String,
    /// Its parts, in order.
    pub parts: Vec<f64>,
    /// All of it, in words: `40 %`.
    pub shown: String,
}

/// Parts that are told apart; the others of a bar are drawn as one.
const FILLS: usize = 5;

impl Bars {
    /// Amounts in this unit, whose longest is drawn in full; nothing where there is one
    /// amount only, or none. What goes beyond the parts that can be told apart is put
    /// together as the last of them.
    pub(super) fn of_amounts(
        title: &str,
        group: &str,
        (parts, unit): (Vec<String>, &str),
        amounts: Vec<(String, String, Vec<f64>)>,
    ) -> Option<Self> {
        let most = amounts.iter().map(|(.., amounts)| amounts.iter().sum());
        let most = most.fold(0.0, f64::max);
        let several = amounts.len() * parts.len() > 1 && most > 0.0;
        let bar = |(group, label, amounts): (String, String, Vec<f64>)| {
            let total: f64 = amounts.iter().sum();
            Bar {
                group,
                label,
                shown: format!("{} {unit}", number(total, 0)),
                parts: together(amounts, |rest| vec![rest.iter().sum()]),
            }
        };
        let others = |_: &[String]| vec!["the rest".to_owned()];
        several.then(|| Self {
            title: title.to_owned(),
            heads: [group.to_owned(), "size".to_owned()],
            parts: together(parts, others),
            most,
            bars: amounts.into_iter().map(bar).collect(),
        })
    }

    /// What a bar of several parts says of each of them.
    pub(super) fn of_parts(&self, bar: &Bar) -> String {
        let parts = self.parts.iter().zip(&bar.parts);
        let parts = parts.map(|(part, amount)| format!("{part} {}", number(*amount, 0)));
        parts.collect::<Vec<_>>().join(", ")
    }

    fn table(&self) -> Table {
        let [group, label] = &self.heads;
        let columns = Table::of(&self.bars)
            .left(group, |bar| bar.group.as_str())
            .left(label, |bar| bar.label.as_str());
        let all = match self.parts.as_slice() {
            [one] => return columns.right(one, |bar| bar.shown.as_str()).into(),
            several => several.iter().enumerate(),
        };
        let part = |columns: Columns<_>, (at, part): (usize, &String)| {
            columns.right(part, |bar: &Bar| {
                bar.parts.get(at).map(|amount| number(*amount, 0))
            })
        };
        let columns = all.fold(columns, part);
        columns.right("together", |bar| bar.shown.as_str()).into()
    }
}

/// The first of these, and what the rest come to where there are more than can be told
/// apart.
fn together<T: Clone>(things: Vec<T>, rest: impl Fn(&[T]) -> Vec<T>) -> Vec<T> {
    match things.split_at_checked(FILLS - 1) {
        Some((first, others)) if others.len() > 1 => [first, &rest(others)].concat(),
        _ => things,
    }
}

/// Yarns around what is wanted, metres (or yards) per 100 g across and stitches in
/// 10 cm up.
#[derive(Debug, Clone, PartialEq)]
pub struct Map {
    /// What it shows.
    pub title: String,
    /// What is measured across and up.
    pub measures: [&'static str; 2],
    /// What is wanted.
    pub wanted: [f64; 2],
    /// How far a yarn may lie from it, either way.
    pub tolerance: [f64; 2],
    /// The yarns, best first.
    pub marks: Vec<Mark>,
    /// Yarns that have no place on it.
    pub without_place: usize,
}

/// A yarn on a map.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// The yarn.
    pub name: String,
    /// Where it lies, across and up.
    pub at: [f64; 2],
    /// Whether it lies within the limits.
    pub is_within: bool,
    /// Whether it is in the stash.
    pub in_stash: bool,
    /// Whether its stitches are estimated.
    pub is_estimated: bool,
    /// Whether it would work.
    pub verdict: Verdict,
}

/// What a key explains: the cross, the box, or the shape of a mark, within the limits or
/// not and in the stash or not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sample {
    Cross,
    Limits,
    Mark(bool, bool),
}

impl Mark {
    /// The shape that it has.
    pub(super) fn kind(&self) -> Sample {
        Sample::Mark(self.is_within, self.in_stash)
    }
}

impl Map {
    /// The map of the yarns around what a pattern wants of the yarns with these keys.
    pub fn new(map: &YarnMap, keys: &[String], style: &Style) -> Self {
        let unit = style.per_metre();
        let place = |place: MapPlace| [place.metres_per_100_g * unit, place.stitches];
        let mark = |yarn: &MapYarn| Mark {
            name: yarn.title.clone(),
            at: place(yarn.place),
            is_within: yarn.is_within,
            in_stash: yarn.in_stash,
            is_estimated: yarn.is_estimated,
            verdict: yarn.verdict,
        };
        let [across, _] = style.ordered("metres per 100 g", "yards per 100 g");
        let of = match keys {
            [] => String::new(),
            keys => format!(" (yarn {})", keys.join(", ")),
        };
        Self {
            title: format!("Your yarns around what the pattern wants{of}"),
            measures: [across, "stitches in 10 cm"],
            wanted: place(map.wanted),
            tolerance: place(map.tolerance),
            marks: map.yarns.iter().map(mark).collect(),
            without_place: map.without_place,
        }
    }

    /// The ends of the box across and up: `221 to 259`.
    fn limits(&self) -> [String; 2] {
        let [wanted, tolerance] = [self.wanted, self.tolerance];
        let ends = |at: f64, off: f64| format!("{} to {}", shown(at - off), shown(at + off));
        let ([across, up], [off_across, off_up]) = (wanted, tolerance);
        [ends(across, off_across), ends(up, off_up)]
    }

    /// What can be read off it, in sentences; of those marks that `is_drawn`.
    pub(super) fn described(&self, is_drawn: impl Fn(&Mark) -> bool) -> String {
        let ([across, up], [wanted, stitches]) = (self.measures, self.wanted.map(shown));
        let [across_limits, up_limits] = self.limits();
        let drawn: Vec<&Mark> = self.marks.iter().filter(|mark| is_drawn(mark)).collect();
        let within = drawn.iter().filter(|mark| mark.is_within).count();
        format!(
            "The cross is what the pattern wants, {wanted} {across} and {stitches} {up}; the box is its limits, {across_limits} and {up_limits}. {}, {within} within the limits.",
            counted(drawn.len(), "yarn")
        )
    }

    /// What each mark means; of shapes, those that are drawn.
    pub(super) fn key(&self, is_drawn: impl Fn(Sample) -> bool) -> Vec<(Sample, String)> {
        let ([across, up], [wanted, stitches]) = (self.measures, self.wanted.map(shown));
        let [across_limits, up_limits] = self.limits();
        let cross = format!("what the pattern wants: {wanted} {across}, {stitches} {up}");
        let [metres, of] = [across, up].map(|measure| measure.split(' ').next().unwrap_or(measure));
        let limits = format!("its limits: {across_limits} {metres}, {up_limits} {of}");
        let shapes = [
            (true, true, "within the limits, in your stash"),
            (true, false, "within the limits, not in your stash"),
            (false, true, "outside the limits, in your stash"),
            (false, false, "outside the limits, not in your stash"),
        ];
        let shapes = shapes.into_iter();
        let shapes = shapes.map(|(within, stash, words)| (Sample::Mark(within, stash), words));
        let shapes = shapes.filter(|(sample, _)| is_drawn(*sample));
        let shapes = shapes.map(|(sample, words)| (sample, words.to_owned()));
        let first = [(Sample::Cross, cross), (Sample::Limits, limits)];
        first.into_iter().chain(shapes).collect()
    }

    /// What is not exact, and what is not drawn.
    pub(super) fn notes(&self, drawn: usize) -> Vec<String> {
        let far = self.marks.len().saturating_sub(drawn);
        let far = (far > 0).then(|| format!("Too far off to draw: {}.", counted(far, "yarn")));
        let unknown = (self.without_place > 0).then(|| {
            let yarns = counted(self.without_place, "yarn");
            format!("Not drawn, since metres or stitches are not known: {yarns}.")
        });
        let estimated = self.marks.iter().any(|mark| mark.is_estimated).then(|| {
            "Where a label gives no stitches, they are estimated from the thickness and may be 10 % off, so a circle may lie outside the box.".to_owned()
        });
        let names = "Names that are not here are in the table; point at a mark for its own.";
        let notes = [Some(names.to_owned()), estimated, far, unknown];
        notes.into_iter().flatten().collect()
    }

    fn table(&self) -> Table {
        let [across, up] = self.measures;
        let columns = Table::of(&self.marks)
            .left("yarn", |mark| mark.name.as_str())
            .right(across, |mark| {
                let [across, _] = mark.at;
                shown(across)
            })
            .right(up, |mark| {
                let [_, up] = mark.at;
                let about = if mark.is_estimated { "about " } else { "" };
                format!("{about}{}", shown(up))
            })
            .left("limits", |mark| match mark.is_within {
                true => "within",
                false => "outside",
            })
            .left("stash", |mark| match mark.in_stash {
                true => "yes",
                false => "no",
            })
            .left("verdict", |mark| verdict_in_short(mark.verdict));
        columns.into()
    }
}

/// A measure as people read it.
pub(super) fn shown(measure: f64) -> String {
    number(measure, usize::from(measure < 100.0))
}

fn counted(count: usize, word: &str) -> String {
    count_of(f64::from(u32::try_from(count).unwrap_or(u32::MAX)), word)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(parts: usize) -> Bars {
        let names = (1..=parts).map(|part| format!("piece {part}")).collect();
        let amounts = (1..=parts).map(|_| 10.0).collect();
        let bars = vec![(String::new(), "S".to_owned(), amounts)];
        Bars::of_amounts("Yarn", "yarn", (names, "m"), bars).unwrap()
    }

    #[test]
    fn more_parts_than_can_be_told_apart_are_put_together() {
        assert_eq!(of(5).parts.last().unwrap(), "piece 5");
        let many = of(7);
        assert_eq!(many.parts.last().unwrap(), "the rest");
        let [bar] = many.bars.as_slice() else {
            panic!()
        };
        assert_eq!(bar.parts, [10.0, 10.0, 10.0, 10.0, 30.0]);
        assert_eq!((bar.shown.as_str(), many.most), ("70 m", 70.0));
    }

    #[test]
    fn the_table_says_what_the_bars_show() {
        let table = Picture::Bars(of(2)).table();
        let heads: Vec<&str> = table
            .columns
            .iter()
            .map(|(head, _)| head.as_str())
            .collect();
        assert_eq!(heads, ["size", "piece 1", "piece 2", "together"]);
        assert_eq!(table.rows, [["S", "10", "10", "20 m"].map(str::to_owned)]);
    }

    #[test]
    fn one_amount_alone_is_no_picture() {
        let one = vec![(String::new(), "S".to_owned(), vec![10.0])];
        let parts = || (vec!["A".to_owned()], "m");
        assert_eq!(Bars::of_amounts("Yarn", "yarn", parts(), one), None);
        assert_eq!(Bars::of_amounts("Yarn", "yarn", parts(), Vec::new()), None);
    }
}
