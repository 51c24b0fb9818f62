//! All candidates of a list on one rail, by their difference over all criteria: the same
//! at the left, the limit in the middle, twice that at the right.

use super::escaped;
use crate::{app::FindAnswer, words::number};

const WIDTH: f64 = 320.0;
const LEFT: f64 = 16.0;
/// Units of the picture for one tolerance.
const ONE: f64 = 144.0;
/// Height of one row of marks, and how near two marks may stand in it.
const ROW: f64 = 30.0;
const NEAR: f64 = 28.0;

/// The picture of the candidates that have an overall departure; `nth` of its
/// page. Nothing for fewer than two.
pub fn places(answer: &FindAnswer, nth: usize) -> String {
    let overall = answer.candidates.iter().map(|line| line.judgement.overall);
    let marks = marks_of(overall);
    if marks.len() < 2 {
        return String::new();
    }
    drawn(answer, &marks, nth)
}

/// The place in the list and the departure of those that have one.
fn marks_of(overall: impl Iterator<Item = Option<f64>>) -> Vec<(usize, f64)> {
    (1..)
        .zip(overall)
        .filter_map(|(place, overall)| Some((place, overall?)))
        .collect()
}

fn drawn(answer: &FindAnswer, marks: &[(usize, f64)], nth: usize) -> String {
    let placed = rows(marks);
    let deepest = placed.iter().map(|(_, _, row)| *row).fold(0.0, f64::max);
    let height = 34.0 + (deepest + 1.0) * ROW;
    let stems: String = placed.iter().map(|(_, at, row)| stem(*at, *row)).collect();
    let circles: String = placed
        .iter()
        .map(|(place, at, row)| mark(*place, *at, *row))
        .collect();
    let yarn = escaped(&answer.role);
    format!(
        "<figure class=\"rail places\">\n<figcaption>All of them for {yarn} on one rail, by their difference over all</figcaption>\n\
         <svg viewBox=\"0 0 {WIDTH} {height}\" role=\"img\" aria-labelledby=\"places{nth}t places{nth}d\">\
         <title id=\"places{nth}t\">Where the candidates for {yarn} fall</title><desc id=\"places{nth}d\">{}</desc>\
         <path class=\"line\" d=\"M{LEFT} 17H{}\"/><path class=\"band\" d=\"M{LEFT} 17H{}\"/><path class=\"wanted\" d=\"M{LEFT} 3V31\"/>{stems}{circles}</svg>\n\
         <p class=\"ends\"><span>0 as wanted</span> <span>1 the limit</span> <span>2 or more</span></p>\n</figure>\n",
        escaped(&described(answer)),
        LEFT + 2.0 * ONE,
        LEFT + ONE,
    )
}

/// Marks with their place along the rail and the first row with room for each.
fn rows(marks: &[(usize, f64)]) -> Vec<(usize, f64, f64)> {
    let mut placed: Vec<(usize, f64, f64)> = Vec::new();
    for (place, departure) in marks {
        let at = LEFT + departure.clamp(0.0, 2.0) * ONE;
        let mut row = 0.0;
        while placed
            .iter()
            .any(|(_, other, there)| (*there - row).abs() < 0.5 && (other - at).abs() < NEAR)
        {
            row += 1.0;
        }
        placed.push((*place, at, row));
    }
    placed
}

/// The stems lie below all marks, so that no number is struck through.
fn stem(at: f64, row: f64) -> String {
    format!(
        "<path class=\"stem\" d=\"M{} 17V{}\"/>",
        number(at, 1),
        46.0 + row * ROW
    )
}

fn mark(place: usize, at: f64, row: f64) -> String {
    let (x, y) = (number(at, 1), 46.0 + row * ROW);
    format!(
        "<circle class=\"offered\" cx=\"{x}\" cy=\"{y}\" r=\"13\"/><text x=\"{x}\" y=\"{}\">{place}</text>",
        y + 5.5
    )
}

fn described(answer: &FindAnswer) -> String {
    let each: Vec<String> = answer
        .candidates
        .iter()
        .zip(1..)
        .map(|(line, place)| match line.judgement.overall {
            Some(overall) => format!("{place} {}: {}", line.candidate.title, number(overall, 2)),
            None => format!("{place} {}: not known", line.candidate.title),
        })
        .collect();
    format!("{}.", each.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_that_would_cover_each_other_stand_one_below_the_other() {
        let placed = rows(&[(1, 0.5), (2, 0.55), (3, 1.5), (4, 9.0)]);
        let rows: Vec<f64> = placed.iter().map(|(_, _, row)| *row).collect();
        assert_eq!(rows, [0.0, 1.0, 0.0, 0.0]);
        assert_eq!(placed[3].1, LEFT + 2.0 * ONE);
    }

    #[test]
    fn candidates_without_a_departure_have_no_mark() {
        let marks = marks_of([Some(0.5), None, Some(1.5)].into_iter());
        assert_eq!(marks, [(1, 0.5), (3, 1.5)]);
    }
}
