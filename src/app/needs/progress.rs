//! What of a size is knitted already, and what the rest of it will take.

use super::{NeedsAnswer, NeedsProgressRequest, PieceYarn};
use crate::{
    app::{AppError, FaultKind, InputReader, input::filled},
    files::needs_file::{NeedsFile, NeedsYarn},
    label::{
        cells::{self, Cell},
        reading::Reading,
    },
    measure::{Grist, Mass},
    quantity::pace,
    words::{fold, or_list},
};
use schemars::JsonSchema;
use serde::Serialize;

/// How far a size is knitted.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct NeedsProgress {
    /// The size.
    pub size: String,
    /// Pieces that are done, each with its share of edges and tails.
    pub done: Vec<DonePiece>,
    /// What the pieces that were weighed took over what they take by the file; `None`
    /// where none was weighed.
    pub pace: Option<f64>,
    /// What each yarn still has to make.
    pub to_go: Vec<YarnToGo>,
}

/// A piece that is done.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct DonePiece {
    /// The piece.
    pub piece: String,
    /// How many of them.
    pub count: u32,
    /// What they take by the file, g.
    pub planned_g: f64,
    /// What they took, g, where it was stated.
    pub used_g: Option<f64>,
}

/// What one yarn still has to make.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct YarnToGo {
    /// Its key.
    pub yarn: String,
    /// The pieces.
    pub pieces: Vec<PieceToGo>,
    /// What they will take, g, without spare.
    pub expected_g: f64,
    /// The same, m.
    pub expected_m: f64,
    /// The same with the spare, g.
    pub with_spare_g: f64,
    /// What is left of the yarn, g, where it was stated.
    pub left_g: Option<f64>,
}

/// A piece that is not done.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PieceToGo {
    /// The piece.
    pub piece: String,
    /// How many of them.
    pub count: u32,
    /// What they take by the file, g.
    pub planned_g: f64,
    /// What they will take at the pace so far, g.
    pub expected_g: f64,
}

/// Whether what is left makes the rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RestReach {
    /// With the spare.
    Enough,
    /// Without the spare, or with less.
    Close,
    /// It does not.
    Short,
}

impl YarnToGo {
    /// Whether what is left makes the rest.
    pub fn reach(&self) -> Option<RestReach> {
        let left = self.left_g?;
        Some(match left {
            _ if left >= self.with_spare_g => RestReach::Enough,
            _ if left >= self.expected_g => RestReach::Close,
            _ => RestReach::Short,
        })
    }
}

/// One kind of piece in the size that is knitted.
struct Piece<'f> {
    name: &'f str,
    yarn: usize,
    grist: Grist,
    /// How many of them the size has.
    times: u32,
    /// What all of them take, g, with their share of edges and tails.
    planned_g: f64,
}

/// What was typed of one piece.
struct DoneText {
    place: usize,
    count: u32,
    used: Option<Mass>,
}

/// How far a size is knitted, where anything was typed of it.
pub(super) fn progress(
    request: &NeedsProgressRequest,
    file: &NeedsFile,
    answer: &NeedsAnswer,
) -> Result<Option<NeedsProgress>, AppError> {
    if request.is_empty() {
        return Ok(None);
    }
    let mut reader = InputReader::default();
    let size = size(&mut reader, request, file);
    reader.check()?;
    let size = size.unwrap_or(0);
    let pieces = pieces(file, &answer.pieces, size);
    let done = done(&mut reader, request, &pieces);
    let left = left(&mut reader, request, file);
    reader.check()?;
    let weighed = done.iter().filter_map(|done| {
        let piece = pieces.get(done.place)?;
        Some((done.used?.as_grams(), piece.of(done.count)))
    });
    let pace = pace(weighed);
    let to_go = file.yarns.iter().enumerate().filter_map(|(place, yarn)| {
        let left = left
            .iter()
            .find(|(of, _)| *of == place)
            .map(|(_, left)| *left);
        let spare = 1.0 + answer.stated.margin.as_fraction();
        to_go(
            (place, yarn),
            &pieces,
            &done,
            (pace.unwrap_or(1.0), spare, left),
        )
    });
    Ok(Some(NeedsProgress {
        size: file
            .sizes
            .get(size)
            .map_or_else(String::new, ToString::to_string),
        to_go: to_go.collect(),
        done: done.iter().filter_map(|done| done.said(&pieces)).collect(),
        pace,
    }))
}

/// The place of the size that is knitted.
fn size(
    reader: &mut InputReader,
    request: &NeedsProgressRequest,
    file: &NeedsFile,
) -> Option<usize> {
    let names = || {
        file.sizes
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
    };
    let Some(given) = filled(&request.size) else {
        if file.sizes.len() > 1 {
            reader.fault("size", FaultKind::MissingAs(or_list(names())));
        }
        return Some(0);
    };
    let found = file
        .sizes
        .iter()
        .position(|size| fold(size.as_str()) == fold(given));
    if found.is_none() {
        let (given, allowed) = (given.to_owned(), names());
        reader.fault("size", FaultKind::NotOneOf { given, allowed });
    }
    found
}

/// The kinds of piece of a size. Edges and tails are no pieces of their own here: each
/// piece takes its share of those of its yarn, as large as its share of the fabric.
fn pieces<'f>(file: &'f NeedsFile, takes: &[PieceYarn], size: usize) -> Vec<Piece<'f>> {
    let size_name = file.sizes.get(size).map(ToString::to_string);
    let is_here = |take: &&PieceYarn| Some(&take.size) == size_name.as_ref();
    let takes: Vec<&PieceYarn> = takes.iter().filter(is_here).collect();
    let found = file.pieces.iter().filter_map(|piece| {
        let yarn = file.yarns.get(piece.yarn)?;
        let of_yarn = |take: &&&PieceYarn| take.yarn == yarn.key.as_str();
        let fabric = takes
            .iter()
            .filter(of_yarn)
            .filter(|take| take.piece.is_some());
        let fabric: f64 = fabric.map(|take| take.metres).sum();
        let all: f64 = takes.iter().filter(of_yarn).map(|take| take.metres).sum();
        let name = piece.name.as_str();
        let mut own = takes.iter().filter(of_yarn);
        let own = own.find(|take| take.piece.as_deref() == Some(name))?;
        let share = if fabric > 0.0 { all / fabric } else { 1.0 };
        Some(Piece {
            name,
            yarn: piece.yarn,
            grist: yarn.grist,
            times: *piece.times.get(size)?,
            planned_g: own.metres * share / yarn.grist.as_metres_per_gram(),
        })
    });
    found.collect()
}

impl Piece<'_> {
    /// What so many of them take, g.
    fn of(&self, count: u32) -> f64 {
        self.planned_g * f64::from(count) / f64::from(self.times.max(1))
    }
}

impl DoneText {
    fn said(&self, pieces: &[Piece<'_>]) -> Option<DonePiece> {
        let piece = pieces.get(self.place)?;
        Some(DonePiece {
            piece: piece.name.to_owned(),
            count: self.count,
            planned_g: piece.of(self.count),
            used_g: self.used.map(Mass::as_grams),
        })
    }
}

/// Pieces that are done: `body 61 g, 1 sleeve 24 g, collar`.
fn done(
    reader: &mut InputReader,
    request: &NeedsProgressRequest,
    pieces: &[Piece<'_>],
) -> Vec<DoneText> {
    let mut found: Vec<DoneText> = Vec::new();
    for text in entries(&request.done) {
        let (count, rest) = counted(text);
        let Some((place, amount)) = named(rest, pieces.iter().map(|piece| piece.name)) else {
            let allowed = pieces.iter().map(|piece| piece.name.to_owned()).collect();
            let given = text.to_owned();
            reader.fault("done", FaultKind::NotOneOf { given, allowed });
            continue;
        };
        let Some(piece) = pieces.get(place) else {
            continue;
        };
        let before: u32 = found
            .iter()
            .filter(|done| done.place == place)
            .map(|done| done.count)
            .sum();
        let open = piece.times.saturating_sub(before);
        let count = count.unwrap_or(open);
        if count == 0 || count > open {
            let given = text.to_owned();
            let most = piece.times;
            reader.fault("done", FaultKind::TooManyPieces { given, most });
            continue;
        }
        let used = match amount {
            "" => None,
            amount => reader.read("done", yarn_amount(amount, piece.grist)),
        };
        found.push(DoneText { place, count, used });
    }
    found
}

/// What is left of each yarn: `180 g`, `A 180 g, B 50 g`.
fn left(
    reader: &mut InputReader,
    request: &NeedsProgressRequest,
    file: &NeedsFile,
) -> Vec<(usize, f64)> {
    let mut found = Vec::new();
    for text in entries(&request.left) {
        let keys = || file.yarns.iter().map(|yarn| yarn.key.as_str());
        let only = (file.yarns.len() == 1).then_some((0, text));
        let Some((place, amount)) = named(text, keys()).or(only) else {
            let (given, allowed) = (text.to_owned(), keys().map(str::to_owned).collect());
            reader.fault("left", FaultKind::NotOneOf { given, allowed });
            continue;
        };
        let Some(yarn) = file.yarns.get(place) else {
            continue;
        };
        let left = reader.read("left", yarn_amount(amount, yarn.grist));
        found.extend(left.map(|left| (place, left.as_grams())));
    }
    found
}

/// What stands between commas, semicolons or on lines of its own. A comma within a
/// number has no space behind it.
fn entries(text: &Option<String>) -> impl Iterator<Item = &str> {
    let text = filled(text).unwrap_or("");
    let lines = text.split(['\n', ';']).flat_map(|line| line.split(", "));
    lines.map(str::trim).filter(|entry| !entry.is_empty())
}

/// A whole number in front, and the rest.
fn counted(text: &str) -> (Option<u32>, &str) {
    let rest = text.trim_start_matches(|c: char| c.is_ascii_digit());
    let count = text
        .get(..text.len() - rest.len())
        .and_then(|count| count.parse().ok());
    match rest.strip_prefix([' ', 'x', '×']) {
        Some(rest) if count.is_some() => (count, rest.trim_start_matches(['x', '×', ' '])),
        _ => (None, text),
    }
}

/// The place of the longest name that a text begins with, and what stands behind it.
fn named<'t, 'n>(text: &'t str, names: impl Iterator<Item = &'n str>) -> Option<(usize, &'t str)> {
    let behind = |name: &str| {
        let rest = text.get(name.len()..)?;
        let is_named = fold(text.get(..name.len())?) == fold(name);
        let ends = rest.chars().next().is_none_or(|c| !c.is_alphanumeric());
        (is_named && ends).then(|| rest.trim_matches([' ', ':', '=']))
    };
    let found = names
        .enumerate()
        .filter_map(|(place, name)| Some((name.len(), place, behind(name)?)));
    let longest = found.max_by_key(|(length, ..)| *length);
    longest.map(|(_, place, rest)| (place, rest))
}

/// A mass of yarn, or a length that its length per mass makes one.
fn yarn_amount(text: &str, grist: Grist) -> Cell<Mass> {
    let by_mass = cells::mass(text);
    match (by_mass, cells::length(text)) {
        (Err(_), Ok(length)) => {
            let grams = length.value.as_metres() / grist.as_metres_per_gram();
            let mass = Mass::grams(grams).ok();
            mass.map_or_else(|| cells::mass(text), |mass| Ok(Reading::plain(mass)))
        }
        (by_mass, _) => by_mass,
    }
}

/// What a yarn still has to make; nothing where it has no piece.
fn to_go(
    (place, yarn): (usize, &NeedsYarn),
    pieces: &[Piece<'_>],
    done: &[DoneText],
    (pace, spare, left_g): (f64, f64, Option<f64>),
) -> Option<YarnToGo> {
    let of_yarn = pieces
        .iter()
        .enumerate()
        .filter(|(_, piece)| piece.yarn == place);
    let open = of_yarn.filter_map(|(at, piece)| {
        let of_piece = done.iter().filter(|done| done.place == at);
        let made: u32 = of_piece.map(|done| done.count).sum();
        let count = piece.times.saturating_sub(made);
        let planned_g = piece.of(count);
        (count > 0).then(|| PieceToGo {
            piece: piece.name.to_owned(),
            count,
            planned_g,
            expected_g: planned_g * pace,
        })
    });
    let open: Vec<PieceToGo> = open.collect();
    let expected_g: f64 = open.iter().map(|piece| piece.expected_g).sum();
    let has_piece = pieces.iter().any(|piece| piece.yarn == place);
    has_piece.then(|| YarnToGo {
        yarn: yarn.key.to_string(),
        pieces: open,
        expected_g,
        expected_m: expected_g * yarn.grist.as_metres_per_gram(),
        with_spare_g: expected_g * spare,
        left_g,
    })
}
