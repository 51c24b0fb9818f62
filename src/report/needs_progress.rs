//! How far a size is knitted, and what the rest of it will take.

use super::{Page, Role, Style, Table, judgement::each_once};
use crate::{
    app::{DonePiece, NeedsAnswer, NeedsProgress, PieceToGo, RestReach, YarnToGo},
    measure::Length,
    words::{and_list, capitalized, number},
};

/// What is still to knit, before how it was worked out.
pub(super) fn progress_page(answer: &NeedsAnswer, progress: &NeedsProgress, style: &Style) -> Page {
    let title = format!("{}, size {}: still to knit", answer.pattern, progress.size);
    let mut page = Page::titled(title);
    for yarn in &progress.to_go {
        let (role, sentence) = to_go_words(yarn, progress, style);
        page.text(role, sentence);
    }
    page.text(Role::Plain, pace_words(progress));
    page.table(pieces_table(progress));
    page.working(&working(answer), &style.notes(&answer.notes));
    page
}

/// `About 146 g or 350 m (383 yd) more, for 2 x sleeve and bands. You have 160 g: close,
/// only 14 g to spare.`
fn to_go_words(yarn: &YarnToGo, progress: &NeedsProgress, style: &Style) -> (Role, String) {
    let key = match progress.to_go.len() {
        1 => String::new(),
        _ => format!("{}: ", yarn.yarn),
    };
    if yarn.pieces.is_empty() {
        return (
            Role::Good,
            capitalized(&format!("{key}all pieces are done.")),
        );
    }
    let pieces: Vec<String> = yarn.pieces.iter().map(piece_words).collect();
    let takes = format!(
        "{key}about {} more, for {}.",
        amount(yarn.expected_g, yarn.expected_m, style),
        and_list(&pieces),
    );
    let takes = capitalized(&takes);
    let Some((left, reach)) = yarn.left_g.zip(yarn.reach()) else {
        return (Role::Plain, takes);
    };
    let (role, says) = match reach {
        RestReach::Enough => (Role::Good, "enough, with your spare yarn".to_owned()),
        RestReach::Close => {
            let over = number(left - yarn.expected_g, 0);
            (Role::Doubtful, format!("close, only {over} g to spare"))
        }
        RestReach::Short => {
            let short = yarn.expected_g - left;
            let per_gram = yarn.expected_m / yarn.expected_g;
            let short = amount(short, short * per_gram, style);
            (Role::Bad, format!("about {short} short"))
        }
    };
    (
        role,
        format!("{takes} You have {} g: {says}.", number(left, 1)),
    )
}

fn amount(grams: f64, metres: f64, style: &Style) -> String {
    let grams = format!("{} g", number(grams, 0));
    match Length::metres(metres) {
        Ok(length) => format!("{grams} or {}", style.length(length)),
        Err(_) => grams,
    }
}

fn piece_words(piece: &PieceToGo) -> String {
    match piece.count {
        1 => piece.piece.clone(),
        many => format!("{many} x {}", piece.piece),
    }
}

/// A row of the table: done, or still to knit.
#[derive(Clone, Copy)]
enum Row<'p> {
    Done(&'p DonePiece),
    ToGo(&'p PieceToGo),
}

fn pieces_table(progress: &NeedsProgress) -> Table {
    let done = progress.done.iter().map(Row::Done);
    let to_go = progress.to_go.iter().flat_map(|yarn| &yarn.pieces);
    let columns = Table::of(done.chain(to_go.map(Row::ToGo)))
        .left("piece", |row| match row {
            Row::Done(piece) => piece.piece.as_str(),
            Row::ToGo(piece) => piece.piece.as_str(),
        })
        .right("of them", |row| match row {
            Row::Done(piece) => piece.count,
            Row::ToGo(piece) => piece.count,
        })
        .left("", |row| match row {
            Row::Done(_) => "done",
            Row::ToGo(_) => "to knit",
        })
        .right("by the file g", |row| match row {
            Row::Done(piece) => number(piece.planned_g, 1),
            Row::ToGo(piece) => number(piece.planned_g, 1),
        })
        .right("took g", |row| match row {
            Row::Done(piece) => piece.used_g.map(|grams| number(grams, 1)),
            Row::ToGo(_) => None,
        })
        .right("will take g", |row| match row {
            Row::Done(_) => None,
            Row::ToGo(piece) => Some(number(piece.expected_g, 1)),
        });
    columns.into()
}

/// How what was weighed compares with the file, on which the rest is built.
pub(super) fn pace_words(progress: &NeedsProgress) -> String {
    let Some(pace) = progress.pace else {
        return "No piece that is done was weighed, so this is what the file says. Write what one took, and the answer follows how you knit.".to_owned();
    };
    let weighed = progress.done.iter().filter(|piece| piece.used_g.is_some());
    let weighed = each_once(weighed.map(|piece| piece.piece.clone()));
    let off = (pace - 1.0) * 100.0;
    let took = match number(off.abs(), 0).as_str() {
        "0" => "as much yarn as".to_owned(),
        percent if off > 0.0 => format!("{percent} % more yarn than"),
        percent => format!("{percent} % less yarn than"),
    };
    format!(
        "Your {} took {took} the file says; the rest is expected to do the same.",
        and_list(&weighed)
    )
}

fn working(answer: &NeedsAnswer) -> Vec<String> {
    let spare = format!(
        "Enough means: with {} % to spare. Edges and tails are shared among the pieces, by how much yarn each takes.",
        number(answer.stated.margin.as_percent(), 2)
    );
    let pace = "Will take = what the file says x what the weighed pieces took / what the file says of them.";
    vec![pace.to_owned(), spare]
}

#[cfg(test)]
mod tests {
    use crate::{
        app::{AppError, NeedsProgressRequest, NeedsRequest, RestReach, SourceFile},
        app::{NeedsAnswer, needs_in_progress},
        report::{Render, Style, fault_words},
    };

    const WEIGHED: &str = include_str!("../../sample-stash/weighed.toml");

    fn asked(size: &str, done: &str, left: &str) -> Result<NeedsAnswer, AppError> {
        let text = |text: &str| (!text.is_empty()).then(|| text.to_owned());
        let request = NeedsRequest {
            file: SourceFile {
                name: "weighed.toml".to_owned(),
                bytes: WEIGHED.as_bytes().to_vec(),
            },
            ..NeedsRequest::default()
        };
        let progress = NeedsProgressRequest {
            size: text(size),
            done: text(done),
            left: text(left),
        };
        needs_in_progress(&request, &progress)
    }

    #[test]
    fn pieces_of_a_size_come_to_its_need_whatever_is_done() {
        let whole = asked("L", "", "").unwrap();
        let need = whole.needs.iter().find(|need| need.size == "L").unwrap();
        let to_go = &whole.progress.as_ref().unwrap().to_go[0];
        assert!((to_go.expected_g - need.need_g).abs() < 1e-6);
        assert!((to_go.expected_m - need.need_m).abs() < 1e-6);
        let part = asked("L", "1 sleeve; yoke", "").unwrap().progress.unwrap();
        let done: f64 = part.done.iter().map(|piece| piece.planned_g).sum();
        assert!((done + part.to_go[0].expected_g - need.need_g).abs() < 1e-6);
        let sleeves = &whole.progress.as_ref().unwrap().to_go[0].pieces[2];
        assert_eq!((sleeves.piece.as_str(), sleeves.count), ("sleeve", 2));
        assert!((part.done[0].planned_g * 2.0 - sleeves.planned_g).abs() < 1e-6);
    }

    #[test]
    fn the_rest_takes_as_much_more_as_what_was_weighed() {
        let planned = asked("M", "body", "").unwrap().progress.unwrap();
        let body = planned.done[0].planned_g;
        let more = asked("M", &format!("body: {} g", body * 1.25), "").unwrap();
        let more = more.progress.unwrap();
        assert!((more.pace.unwrap() - 1.25).abs() < 1e-9);
        let rest = planned.to_go[0].expected_g;
        assert!((more.to_go[0].expected_g - rest * 1.25).abs() < 1e-6);
        // 2.4 m weigh a gram: a length says the same as its mass.
        let by_length = format!("body {} m", body * 1.25 * 2.4);
        let by_length = asked("M", &by_length, "").unwrap().progress.unwrap();
        assert!((by_length.pace.unwrap() - 1.25).abs() < 1e-9);
    }

    #[test]
    fn what_is_left_is_enough_with_the_spare_close_without_it_and_short_below() {
        let rest = asked("M", "body", "").unwrap().progress.unwrap().to_go[0].expected_g;
        for (left, reach, says) in [
            (
                rest * 1.1 + 0.1,
                RestReach::Enough,
                "enough, with your spare",
            ),
            (rest * 1.1 - 0.1, RestReach::Close, "to spare"),
            (rest + 0.1, RestReach::Close, "to spare"),
            (rest - 1.0, RestReach::Short, "1 g or 2.4 m (2.6 yd) short"),
        ] {
            let answer = asked("M", "body", &format!("{left} g")).unwrap();
            let yarn = &answer.progress.as_ref().unwrap().to_go[0];
            assert_eq!(yarn.reach(), Some(reach), "{left}");
            let page = format!("{:?}", answer.page(&Style::default()));
            assert!(page.contains(says), "{left}: {page}");
        }
        let done = asked("M", "body, yoke, sleeve, bands", "").unwrap();
        assert!(format!("{:?}", done.page(&Style::default())).contains("All pieces are done."));
    }

    #[test]
    fn what_is_no_piece_size_or_amount_is_told_with_its_field() {
        for (size, done, left, field, says) in [
            ("", "body", "", "size", "write S, M or L"),
            ("XL", "body", "", "size", "XL"),
            ("M", "bodice 3 g", "", "done", "bodice"),
            ("M", "3 sleeve", "", "done", "this size has 2"),
            ("M", "sleeve, sleeve", "", "done", "this size has 2"),
            ("M", "body 3 q", "", "done", "mass"),
            ("M", "body", "some", "left", "mass"),
        ] {
            let Err(AppError::Faults(faults)) = asked(size, done, left) else {
                panic!("{size} {done} {left}");
            };
            assert_eq!(faults.len(), 1);
            assert_eq!(faults[0].field, field);
            let said = fault_words(&faults[0], &Style::default());
            assert!(said.contains(says), "{said}");
        }
    }
}
