//! How far what is left goes, piece by piece.

use super::{
    Answer, Block, Page, Render, Role, Style, Table, json::list, needs_progress::pace_words,
    working::what_to_know,
};
use crate::{
    app::{LastPiecesAnswer, PieceAhead, RestReach, YarnPieces},
    words::{and_list, number},
};
use serde::Serialize;
use serde_json::{Value, json};

impl Render for LastPiecesAnswer {
    /// `lasts` is that of `last`; `left_after_g` is below zero for a piece that is not
    /// reached.
    fn fields(&self) -> impl Serialize {
        json!({
            "pattern": self.needs.pattern.to_string(),
            "size": self.needs.progress.as_ref().map(|progress| &progress.size),
            "pace": self.needs.progress.as_ref().and_then(|progress| progress.pace),
            "yarns": list(&self.yarns, yarn_fields),
            "working": working(self),
            "warnings": what_to_know(&self.needs.notes, &[], &Style::default()),
        })
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

fn yarn_fields(yarn: &YarnPieces) -> Value {
    let piece = |piece: &PieceAhead| {
        json!({
            "piece": piece.piece,
            "takes_g": piece.expected_g,
            "left_after_g": piece.left_after_g,
        })
    };
    json!({
        "yarn": yarn.to_go.yarn,
        "left_g": yarn.left_g,
        "takes_g": yarn.to_go.expected_g,
        "takes_m": yarn.to_go.expected_m,
        "spare_g": yarn.left_g - yarn.to_go.expected_g,
        "lasts": match yarn.reach {
            RestReach::Enough => "yes",
            RestReach::Close => "too close to say",
            RestReach::Short => "no",
        },
        "pieces": list(&yarn.pieces, piece),
    })
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
