//! A rail as a picture: a piece of tape with ticks. What is wanted is the line in the
//! middle, the band reaches from limit to limit, both printed below its ends. A dot is
//! a yarn within them, a cross one outside, an arrow one beyond the end of the tape.

use super::escaped;
use crate::{report::Rail, words::number};

/// Width of the picture, and half of the tape, in its own units.
const WIDTH: f64 = 320.0;
const HALF: f64 = 152.0;
const MIDDLE: f64 = WIDTH / 2.0;
/// Ticks from the middle to an end.
const TICKS: i32 = 20;

/// The picture with its limits and what lies beyond its ends; `nth` of its page.
pub(super) fn picture(criterion: &str, rail: &Rail, nth: usize) -> String {
    let shown = |value: f64| number(value, usize::from(value < 100.0));
    let [low, high] = rail.limits().map(shown);
    let [left, right] = rail.ends.map(escaped);
    let (offered, wanted) = (shown(rail.offered), shown(rail.wanted));
    let described = format!(
        "{offered}, wanted {wanted}; within the limits from {low} to {high}; {left} to the left, {right} to the right."
    );
    format!(
        "<figure class=\"rail\">\n<svg viewBox=\"0 0 {WIDTH} 34\" role=\"img\" aria-labelledby=\"rail{nth}t rail{nth}d\">\
         <title id=\"rail{nth}t\">{}</title><desc id=\"rail{nth}d\">{described}</desc>{}</svg>\n\
         <p class=\"ends\" aria-hidden=\"true\"><span>{low}</span><span>{wanted}</span><span>{high}</span>\
         <span class=\"way\">{left}</span><span class=\"way\">{right}</span></p>\n</figure>\n",
        escaped(criterion),
        drawn(rail),
    )
}

fn drawn(rail: &Rail) -> String {
    let (left, right) = (MIDDLE - HALF, MIDDLE + HALF);
    let (low, high) = (MIDDLE - HALF / 2.0, MIDDLE + HALF / 2.0);
    let ticks: String = (1 - TICKS..TICKS)
        .map(|tick| {
            let at = MIDDLE + HALF * f64::from(tick) / f64::from(TICKS);
            let tall = if tick % 5 == 0 { 9 } else { 5 };
            format!("M{} 25v-{tall}", number(at, 1))
        })
        .collect();
    format!(
        "<path class=\"line\" d=\"M{left} 5H{right}V25H{left}Z{ticks}\"/>\
         <path class=\"band\" d=\"M{low} 15H{high}\"/>\
         <path class=\"limit\" d=\"M{low} 5V33M{high} 5V33\"/>\
         <path class=\"wanted\" d=\"M{MIDDLE} 1V33\"/>{}",
        mark(rail)
    )
}

fn mark(rail: &Rail) -> String {
    let place = rail.place();
    let at = number(MIDDLE + place * HALF / 2.0, 1);
    match place {
        t if t.is_nan() => String::new(),
        t if t < -2.0 => outside("M20 7L8 15L20 23M8 15H34"),
        t if t > 2.0 => outside("M300 7L312 15L300 23M312 15H286"),
        _ if rail.is_within() => {
            format!("<circle class=\"within\" cx=\"{at}\" cy=\"15\" r=\"8\"/>")
        }
        _ => outside(&format!("M{at} 15m-7-7l14 14m0-14l-14 14")),
    }
}

/// A mark that stands off from what is below it.
fn outside(path: &str) -> String {
    format!("<path class=\"halo\" d=\"{path}\"/><path class=\"outside\" d=\"{path}\"/>")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(offered: f64) -> String {
        let numbers = Rail {
            wanted: 200.0,
            offered,
            tolerance: 20.0,
            ends: ["thicker", "thinner"],
        };
        picture("metres per 100 g", &numbers, 1)
    }

    #[test]
    fn the_mark_stands_where_the_yarn_falls_and_its_shape_says_in_or_out() {
        assert!(of(200.0).contains("circle class=\"within\" cx=\"160\""));
        assert!(of(220.0).contains("circle class=\"within\" cx=\"236\""));
        assert!(of(160.0).contains("\"outside\" d=\"M8 15m"));
        assert!(of(241.0).contains("\"outside\" d=\"M300 7") && !of(241.0).contains("circle"));
    }

    #[test]
    fn limits_and_what_lies_beyond_them_are_there_in_words() {
        let out = of(210.0);
        assert!(out.contains("210, wanted 200; within the limits from 180 to 220; thicker"));
        assert!(out.contains("<span>180</span>") && out.contains(">thinner</span>"));
    }
}
