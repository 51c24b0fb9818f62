//! A rail as a picture: a piece of tape with ticks. What is wanted is the line in
//! the middle, the limits are the ends of the thick band and are printed below
//! them. A dot is a yarn within the limits, a cross one outside, an arrow one that
//! lies beyond the tape.

use super::escape::escaped;
use crate::{report::Rail, words::number};

/// Width of the picture, and half of the tape, in its own units.
const WIDTH: f64 = 320.0;
const HALF: f64 = 152.0;
/// Ticks from the middle to an end.
const TICKS: i32 = 20;
/// A value at a limit is within it, but for the rounding of sums.
const SLACK: f64 = 1e-9;

/// The picture with `words` above it and the numbers below; `nth` of its page.
pub(super) fn rail(words: &str, rail: &Rail, nth: usize) -> String {
    let [low, middle, high] = [-1.0, 0.0, 1.0]
        .map(|side| rail.wanted + side * rail.tolerance)
        .map(|value| number(value, 1));
    let unit = escaped(rail.unit);
    let [left, right] = ways(rail.unit);
    format!(
        "<figure class=\"rail\">\n<figcaption>{}</figcaption>\n\
         <svg viewBox=\"0 0 {WIDTH} 34\" role=\"img\" aria-labelledby=\"rail{nth}t rail{nth}d\">\
         <title id=\"rail{nth}t\">Where it falls</title>\
         <desc id=\"rail{nth}d\">{offered} {unit}, wanted {middle}; {low} to {high} is within the limit.</desc>{}</svg>\n\
         <p class=\"ends\" aria-hidden=\"true\"><span>{low}</span><span>{middle}</span><span>{high}</span>\
         <span class=\"way\">{left}</span><span>{unit}</span><span class=\"way\">{right}</span></p>\n</figure>\n",
        escaped(words),
        drawn(rail),
        offered = number(rail.offered, 1),
    )
}

/// What less and more of this unit means in the hand.
fn ways(unit: &str) -> [&'static str; 2] {
    match unit.get(..2) {
        Some("m/" | "yd") => ["thicker", "thinner"],
        Some("cl") => ["thinner", "thicker"],
        _ => ["looser", "tighter"],
    }
}

fn drawn(rail: &Rail) -> String {
    let middle = WIDTH / 2.0;
    let (left, right) = (middle - HALF, middle + HALF);
    let (low, high) = (middle - HALF / 2.0, middle + HALF / 2.0);
    let ticks: String = (1 - TICKS..TICKS)
        .map(|tick| (tick, middle + HALF * f64::from(tick) / f64::from(TICKS)))
        .map(|(tick, at)| {
            let tall = if tick % 5 == 0 { 9 } else { 5 };
            format!("M{} 25v-{tall}", number(at, 1))
        })
        .collect();
    format!(
        "<path class=\"line\" d=\"M{left} 5H{right}V25H{left}Z{ticks}\"/>\
         <path class=\"band\" d=\"M{low} 15H{high}\"/>\
         <path class=\"limit\" d=\"M{low} 5V33M{high} 5V33\"/>\
         <path class=\"wanted\" d=\"M{middle} 1V33\"/>{}",
        mark(rail)
    )
}

fn mark(rail: &Rail) -> String {
    let tolerances = (rail.offered - rail.wanted) / rail.tolerance;
    let at = number(WIDTH / 2.0 + tolerances * HALF / 2.0, 1);
    match tolerances {
        t if t.is_nan() => String::new(),
        t if t < -2.0 => crossed("M20 7L8 15L20 23M8 15H34"),
        t if t > 2.0 => crossed("M300 7L312 15L300 23M312 15H286"),
        t if t.abs() <= 1.0 + SLACK => {
            format!("<circle class=\"within\" cx=\"{at}\" cy=\"15\" r=\"8\"/>")
        }
        _ => crossed(&format!("M{at} 15m-7-7l14 14m0-14l-14 14")),
    }
}

/// A mark that stands off from what is below it.
fn crossed(path: &str) -> String {
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
            unit: "m/100 g",
        };
        rail("metres per 100 g", &numbers, 1)
    }

    #[test]
    fn the_mark_stands_where_the_candidate_falls_and_its_shape_says_in_or_out() {
        assert!(of(200.0).contains("cx=\"160\""));
        assert!(of(220.0).contains("cx=\"236\"") && !of(220.0).contains("outside"));
        assert!(
            of(221.0).contains("class=\"outside\" d=\"M239.8 15m")
                && !of(221.0).contains("<circle")
        );
        assert!(of(160.0).contains("class=\"outside\" d=\"M8 15m"));
        assert!(of(241.0).contains("d=\"M300 7L312 15") && !of(241.0).contains("<circle"));
    }

    #[test]
    fn the_limits_stand_at_the_ends_of_the_band_and_in_words() {
        let out = of(210.0);
        assert!(out.contains("210 m/100 g, wanted 200; 180 to 220 is within the limit."));
        assert!(out.contains("<span>180</span><span>200</span><span>220</span>"));
        assert!(out.contains(">thicker<") && out.contains(">thinner<"));
    }

    #[test]
    fn fewer_stitches_are_looser() {
        let numbers = Rail {
            wanted: 22.0,
            offered: 21.0,
            tolerance: 0.5,
            unit: "sts per 10 cm",
        };
        let out = rail("gauge", &numbers, 1);
        assert!(out.contains(">looser<") && out.contains(">tighter<"));
    }
}
