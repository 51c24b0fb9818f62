//! How far what is left goes, piece by piece.

use super::{
    Answer, Block, Page, Render, Role, Style, Table,
    json::{fields_of, list},
    needs_progress::pace_words,
    working::what_to_know,
};
use crate::{
    app::{LastPiecesAnswer, PieceAhead, RestReach, YarnPieces},
    words::{and_list, number},
};

fields_of! {
    /// How far what is left goes, piece by piece.
    LastPiecesFields(answer: &LastPiecesAnswer) where progress = answer.needs.progress.as_ref(); {
        /// The pattern.
        pattern: String = answer.needs.pattern.to_string(),
        /// The size.
        size: Option<String> = progress.map(|progress| progress.size.clone()),
        /// What the weighed pieces took / what the file says of them.
        pace: Option<f64> = progress.and_then(|progress| progress.pace),
        /// Each yarn.
        yarns: Vec<YarnPiecesFields> = list(&answer.yarns, YarnPiecesFields::of),
        /// How it was worked out.
        working: Vec<String> = working(answer),
        /// What was noticed in what was typed.
        warnings: Vec<String> = what_to_know(&answer.needs.notes, &[], &Style::default()),
    }
}

fields_of! {
    /// How far one yarn goes.
    YarnPiecesFields(yarn: &YarnPieces) {
        /// Key of the pattern's yarn.
        yarn: String = yarn.to_go.yarn.clone(),
        /// Grams left.
        left_g: f64 = yarn.left_g,
        /// Grams that the rest needs.
        takes_g: f64 = yarn.to_go.expected_g,
        /// The same in metres.
        takes_m: f64 = yarn.to_go.expected_m,
        /// Grams to spare; below zero where it does not last.
        spare_g: f64 = yarn.left_g - yarn.to_go.expected_g,
        /// `yes`, `no` or `too close to say`.
        lasts: &'static str = match yarn.reach {
            RestReach::Enough => "yes",
            RestReach::Close => "too close to say",
            RestReach::Short => "no",
        },
        /// The pieces, one by one.
        pieces: Vec<PieceFields> = list(&yarn.pieces, PieceFields::of),
    }
}

fields_of! {
    /// A piece that is still to knit.
    PieceFields(piece: &PieceAhead) {
        /// The piece.
        piece: String = piece.piece.clone(),
        /// Grams that it needs.
        takes_g: f64 = piece.expected_g,
        /// Grams left after it; below zero where it is not reached.
        left_after_g: f64 = piece.left_after_g,
    }
}

impl Render for LastPiecesAnswer {
    type Fields = LastPiecesFields;

    fn fields(&self) -> Self::Fields {
        LastPiecesFields::of(self)
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("How far will it go? {}", self.needs.pattern));
        for yarn in &self.yarns {
            let said = sentence(yarn, self.yarns.len());
            page.blocks.push(Block::Answer(Answer::alone(said)));
        }
        if let Some(progress) = &self.needs.progress {
            page.text(Role::Plain, pace_words(progress));
        }
        let pieces = self.yarns.iter().flat_map(|yarn| &yarn.pieces);
        let table = Table::of(pieces)
            .left("piece", |piece| piece.piece.as_str())
            .right("will take g", |piece| number(piece.expected_g, 1))
            .right("left after it g", |piece| {
                (piece.left_after_g >= 0.0).then(|| number(piece.left_after_g, 1))
            })
            .left("", |piece| match piece.left_after_g >= 0.0 {
                true => "",
                false => "not enough",
            });
        page.table(table);
        let notes = what_to_know(&self.needs.notes, &[], style);
        page.working(&working(self), &notes);
        page
    }
}

/// `Yes: 215 g make yoke, sleeve and bands, with 23 g to spare.`; `No: 120 g make the yoke.
/// Stop before the sleeve, or buy more: 40 g are missing for the rest.`
fn sentence(yarn: &YarnPieces, yarns: usize) -> String {
    let key = match yarns {
        1 => String::new(),
        _ => format!("{}: ", yarn.to_go.yarn),
    };
    let left = number(yarn.left_g, 1);
    let made: Vec<&str> = yarn.made().map(|piece| piece.piece.as_str()).collect();
    let makes = and_list(counted(&made));
    let over = number(yarn.left_g - yarn.to_go.expected_g, 0);
    match yarn.reach {
        RestReach::Enough => format!("{key}Yes: {left} g make {makes}, with {over} g to spare."),
        RestReach::Close => format!(
            "{key}Too close to say: {left} g make {makes} with only {over} g to spare, less than your spare yarn."
        ),
        RestReach::Short => {
            let missing = number(yarn.to_go.expected_g - yarn.left_g, 0);
            let stop = yarn.pieces.get(made.len());
            let stop = stop.map_or("", |piece| piece.piece.as_str());
            let makes = match made.is_empty() {
                true => format!("{left} g do not make one piece"),
                false => format!("{left} g make {makes}"),
            };
            format!(
                "{key}No: {makes}. Stop before the {stop}, or get more: {missing} g are missing for the rest."
            )
        }
    }
}

/// `yoke`, `2 x sleeve`.
fn counted(names: &[&str]) -> Vec<String> {
    let same = names.chunk_by(|one, other| one == other);
    let words = same.filter_map(|same| match same {
        [only] => Some((*only).to_owned()),
        [first, ..] => Some(format!("{} x {first}", same.len())),
        [] => None,
    });
    words.collect()
}

fn working(answer: &LastPiecesAnswer) -> Vec<String> {
    let spare = number(answer.needs.stated.margin.as_percent(), 2);
    vec![
        "Will take = what the file says x what the weighed pieces took / what the file says of them.".to_owned(),
        format!("Yes means: with {spare} % to spare. Edges and tails are shared among the pieces. The pieces are knitted in the order of the file."),
    ]
}
