//! Bars as a list: a row each with its label, its bar and its amount in words. Bars are
//! drawn in shares of their width, so that text beside them stays as large as any other.
//! Parts of a bar are told apart by what fills them, not by a colour.

use super::escaped;
use crate::{
    report::picture::{Bar, Bars},
    words::number,
};

/// What fills the first part of a bar, the second and so on.
const FILLS: [&str; 5] = ["plain", "empty", "slanted", "dotted", "lined"];

/// The bars; `nth` picture of its page.
pub(super) fn picture(bars: &Bars, nth: usize) -> String {
    let is_parted = bars.parts.len() > 1;
    let head = if is_parted {
        key(bars, nth)
    } else {
        String::new()
    };
    let groups = bars.bars.chunk_by(|a, b| a.group == b.group);
    let groups: String = groups.map(|group| grouped(bars, group, nth)).collect();
    format!("{head}{groups}")
}

fn grouped(bars: &Bars, group: &[Bar], nth: usize) -> String {
    let [head, _] = &bars.heads;
    let named = group.first().filter(|bar| !bar.group.is_empty());
    let named = named.map_or(String::new(), |bar| {
        // A yarn is known by its name alone.
        let name = match head.as_str() {
            "yarn" => escaped(&bar.group),
            head => escaped(&format!("{head} {}", bar.group)),
        };
        format!("<p class=\"group\">{name}</p>\n")
    });
    let rows: String = group.iter().map(|bar| row(bars, bar, nth)).collect();
    format!("{named}<ul>\n{rows}</ul>\n")
}

fn row(bars: &Bars, bar: &Bar, nth: usize) -> String {
    let said = match bars.parts.len() {
        1 => "aria-hidden=\"true\"".to_owned(),
        _ => format!(
            "role=\"img\" aria-label=\"{}\"",
            escaped(&bars.of_parts(bar))
        ),
    };
    format!(
        "<li><span class=\"label\">{}</span><svg {said}>{}</svg><span class=\"amount\">{}</span></li>\n",
        escaped(&bar.label),
        drawn(bars, bar, nth),
        escaped(&bar.shown)
    )
}

/// The parts of a bar beside each other, as shares of a bar of full length.
fn drawn(bars: &Bars, bar: &Bar, nth: usize) -> String {
    let mut from = 0.0;
    let parts = bar.parts.iter().zip(FILLS).map(|(amount, fill)| {
        let share = amount / bars.most * 100.0;
        let at = from;
        from += share;
        part(fill, [at, share], nth)
    });
    parts.collect()
}

fn part(fill: &str, [at, share]: [f64; 2], nth: usize) -> String {
    let filled = match fill {
        "plain" | "empty" => String::new(),
        _ => format!(" fill=\"url(#{fill}{nth})\""),
    };
    format!(
        "<rect class=\"part {fill}\" x=\"{}%\" width=\"{}%\" height=\"100%\"{filled}/>",
        number(at, 2),
        number(share, 2)
    )
}

/// What each fill means, and the fills themselves.
fn key(bars: &Bars, nth: usize) -> String {
    let meanings = bars.parts.iter().zip(FILLS).map(|(name, fill)| {
        let sample = part(fill, [0.0, 100.0], nth);
        format!(
            "<li><svg aria-hidden=\"true\">{sample}</svg>{}</li>\n",
            escaped(name)
        )
    });
    format!(
        "<svg class=\"fills\" aria-hidden=\"true\"><defs>\
         <pattern id=\"slanted{nth}\" width=\"7\" height=\"7\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path class=\"stroke\" d=\"M0 0V7\"/></pattern>\
         <pattern id=\"dotted{nth}\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><circle class=\"dot\" cx=\"3\" cy=\"3\" r=\"1.5\"/></pattern>\
         <pattern id=\"lined{nth}\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\"><path class=\"stroke\" d=\"M0 2.5H5\"/></pattern>\
         </defs></svg>\n<ul class=\"fill-key\">\n{}</ul>\n",
        meanings.collect::<String>()
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar(group: &str, label: &str, parts: &[f64]) -> Bar {
        Bar {
            group: group.to_owned(),
            label: label.to_owned(),
            parts: parts.to_vec(),
            shown: format!("{} %", parts.iter().sum::<f64>()),
        }
    }

    fn bars(parts: &[&str], bars: Vec<Bar>) -> String {
        let bars = Bars {
            title: "Chance".to_owned(),
            heads: ["size", "balls"].map(str::to_owned),
            parts: parts.iter().map(ToString::to_string).collect(),
            most: 200.0,
            bars,
        };
        picture(&bars, 3)
    }

    #[test]
    fn a_bar_is_as_long_as_its_amount_and_its_amount_stands_beside_it() {
        let out = bars(&["chance"], vec![bar("", "5 <balls>", &[50.0])]);
        assert!(out.contains("x=\"0%\" width=\"25%\""), "{out}");
        assert!(out.contains(">5 &lt;balls&gt;</span>") && out.contains(">50 %</span>"));
        assert!(!out.contains("fill-key") && !out.contains("class=\"group\""));
    }

    #[test]
    fn parts_follow_each_other_and_are_told_apart_by_their_fill_and_in_words() {
        let parts = ["body", "sleeves", "edges"];
        let out = bars(&parts, vec![bar("M", "S", &[100.0, 50.0, 50.0])]);
        for (at, share) in [("0", "50"), ("50", "25"), ("75", "25")] {
            assert!(
                out.contains(&format!("x=\"{at}%\" width=\"{share}%\"")),
                "{out}"
            );
        }
        assert!(out.contains("class=\"part slanted\"") && out.contains("url(#slanted3)"));
        assert!(
            out.contains("aria-label=\"body 100, sleeves 50, edges 50\""),
            "{out}"
        );
        assert!(out.contains("<p class=\"group\">size M</p>"));
    }
}
