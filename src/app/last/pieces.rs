//! How far what is left goes, piece by piece: which of those that are still to knit it
//! makes, in their order, and after which to stop.

use super::LastPiecesRequest;
use crate::app::{
    AppError, FaultKind, InputReader, NeedsAnswer, NeedsProgressRequest, NeedsRequest, RestReach,
    SourceFile, YarnToGo, needs_in_progress,
};

/// Answer to [`last_pieces`].
#[derive(Debug, Clone)]
pub struct LastPiecesAnswer {
    /// What the file says, and how far the size is knitted.
    pub needs: NeedsAnswer,
    /// Each yarn of which something is left and to knit.
    pub yarns: Vec<YarnPieces>,
}

/// How far one yarn goes.
#[derive(Debug, Clone)]
pub struct YarnPieces {
    /// What it has to make, and what is left of it.
    pub to_go: YarnToGo,
    /// What is left of it, g.
    pub left_g: f64,
    /// Whether that makes the rest.
    pub reach: RestReach,
    /// Each piece that is to knit, one by one, with what is left after it, g: below zero
    /// where it is not reached.
    pub pieces: Vec<PieceAhead>,
}

/// A piece that is to knit.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceAhead {
    /// The piece.
    pub piece: String,
    /// What it will take, g.
    pub expected_g: f64,
    /// What is left after it, g.
    pub left_after_g: f64,
}

impl YarnPieces {
    /// The pieces that what is left makes, in their order.
    pub fn made(&self) -> impl Iterator<Item = &PieceAhead> {
        self.pieces
            .iter()
            .take_while(|piece| piece.left_after_g >= 0.0)
    }
}

/// Which pieces of a size what is left makes. `file` is one of samples and pieces.
pub fn last_pieces(
    file: SourceFile,
    left: Option<&str>,
    request: &LastPiecesRequest,
) -> Result<LastPiecesAnswer, AppError> {
    let mut reader = InputReader::default();
    reader.must_fill("left", left);
    reader.check()?;
    let needs = NeedsRequest {
        file,
        ..NeedsRequest::default()
    };
    let progress = NeedsProgressRequest {
        size: request.size.clone(),
        done: request.done.clone(),
        left: left.map(str::to_owned),
    };
    let needs = needs_in_progress(&needs, &progress)?;
    let to_go = needs.progress.iter().flat_map(|progress| &progress.to_go);
    let yarns: Vec<YarnPieces> = to_go.filter_map(of_yarn).collect();
    if yarns.is_empty() {
        reader.fault("done", FaultKind::NothingToKnit);
    }
    reader.check()?;
    Ok(LastPiecesAnswer { needs, yarns })
}

fn of_yarn(to_go: &YarnToGo) -> Option<YarnPieces> {
    let left_g = to_go.left_g?;
    let mut left = left_g;
    let each = to_go.pieces.iter().flat_map(|piece| {
        let expected_g = piece.expected_g / f64::from(piece.count.max(1));
        (0..piece.count).map(move |_| (piece.piece.clone(), expected_g))
    });
    let pieces = each.map(|(piece, expected_g)| {
        left -= expected_g;
        PieceAhead {
            piece,
            expected_g,
            left_after_g: left,
        }
    });
    let pieces: Vec<PieceAhead> = pieces.collect();
    (!pieces.is_empty()).then(|| YarnPieces {
        reach: to_go.reach().unwrap_or(RestReach::Short),
        to_go: to_go.clone(),
        left_g,
        pieces,
    })
}
