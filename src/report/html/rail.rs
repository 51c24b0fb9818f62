//! A rail as a picture: wanted is the bar in the middle, the tolerance the thick
//! band, the candidate the ring, or an arrow where it lies beyond the end.

use super::escape::escaped;
use crate::{report::Rail, words::number};

/// Width of the picture, and half of the rail, in its own units.
const WIDTH: f64 = 320.0;
const HALF: f64 = 148.0;

/// The picture with `words` above it and the numbers below; `nth` of its page.
pub(super) fn rail(words: &str, rail: &Rail, nth: usize) -> String {
    let end = rail.tolerance * 2.0;
    let [low, middle, high] =
        [rail.wanted - end, rail.wanted, rail.wanted + end].map(|value| number(value, 1));
    let described = format!(
        "Wanted {middle} {unit}, offered {offered} {unit}; within the tolerance from {from} to {to} {unit}.",
        unit = rail.unit,
        offered = number(rail.offered, 1),
        from = number(rail.wanted - rail.tolerance, 1),
        to = number(rail.wanted + rail.tolerance, 1),
    );
    format!(
        "<figure class=\"rail\">\n<figcaption>{}</figcaption>\n\
         <svg viewBox=\"0 0 {WIDTH} 34\" role=\"img\" aria-labelledby=\"rail{nth}t rail{nth}d\">\
         <title id=\"rail{nth}t\">Where it falls</title><desc id=\"rail{nth}d\">{}</desc>{}</svg>\n\
         <p class=\"ends\"><span>{low}</span> <span>wanted {middle}</span> <span>{high} {}</span></p>\n</figure>\n",
        escaped(words),
        escaped(&described),
        drawn(rail),
        escaped(rail.unit),
    )
}

fn drawn(rail: &Rail) -> String {
    let middle = WIDTH / 2.0;
    let line = format!(
        "<path class=\"line\" d=\"M{} 17H{}\"/>",
        middle - HALF,
        middle + HALF
    );
    let band = format!(
        "<path class=\"band\" d=\"M{} 17H{}\"/>",
        middle - HALF / 2.0,
        middle + HALF / 2.0
    );
    let wanted = format!("<path class=\"wanted\" d=\"M{middle} 3V31\"/>");
    format!("{line}{band}{wanted}{}", mark(rail))
}

fn mark(rail: &Rail) -> String {
    let tolerances = (rail.offered - rail.wanted) / rail.tolerance;
    let at = WIDTH / 2.0 + tolerances * HALF / 2.0;
    let arrow =
        |tip: f64, back: f64| format!("<path class=\"beyond\" d=\"M{tip} 17L{back} 7V27Z\"/>");
    match tolerances {
        t if t.is_nan() => String::new(),
        t if t < -2.0 => arrow(2.0, 20.0),
        t if t > 2.0 => arrow(WIDTH - 2.0, WIDTH - 20.0),
        _ => format!(
            "<circle class=\"offered\" cx=\"{}\" cy=\"17\" r=\"8\"/>",
            number(at, 1)
        ),
    }
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
        rail("grist", &numbers, 1)
    }

    #[test]
    fn the_ring_stands_where_the_candidate_falls() {
        assert!(of(200.0).contains("cx=\"160\""));
        assert!(of(220.0).contains("cx=\"234\""));
        assert!(of(160.0).contains("cx=\"12\""));
        assert!(of(241.0).contains("beyond") && !of(241.0).contains("circle"));
    }

    #[test]
    fn the_numbers_are_there_in_words() {
        let out = of(210.0);
        assert!(out.contains(
            "Wanted 200 m/100 g, offered 210 m/100 g; within the tolerance from 180 to 220"
        ));
        assert!(out.contains("<span>160</span>") && out.contains("<span>240 m/100 g</span>"));
    }
}
