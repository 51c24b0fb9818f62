//! The colour of a shade as a chip before the shade's name, where the style wants it.
//!
//! In a text a chip is two characters of Unicode's planes for private use, one for each
//! half of the colour: they mean nothing by themselves and are as wide as two letters,
//! so a table keeps its columns. The writers of terminals and of pages draw them.

use super::Style;
use crate::{
    record::{Lot, Printed},
    trade::Colour,
};

/// The first character of each half, of which there are 4096.
const HALVES: [u32; 2] = [0x000f_0000, 0x0010_0000];

/// The name of a lot's shade with its chip.
pub(super) fn shade_name(lot: &Lot, style: &Style) -> String {
    with_chip(&lot.shade, lot.colour.as_ref(), style)
}

/// The name of a shade with its chip; that of the colour where the shade has none.
pub(super) fn with_chip(shade: &str, colour: Option<&Printed<Colour>>, style: &Style) -> String {
    let Some(colour) = colour.filter(|_| style.chips) else {
        return shade.to_owned();
    };
    let number = colour.value.number();
    let halves = HALVES.into_iter().zip([number >> 12, number & 0xfff]);
    let chip = halves.filter_map(|(first, half)| char::from_u32(first + half));
    let name = if shade.is_empty() {
        &colour.text
    } else {
        shade
    };
    chip.chain(['\u{a0}']).chain(name.chars()).collect()
}

/// A text with each chip drawn.
pub(super) fn drawn(text: &str, draw: impl Fn(Colour) -> String) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        let halves = half(c, 0).zip(rest.peek().and_then(|c| half(*c, 1)));
        match halves.and_then(|(upper, lower)| Colour::from_number((upper << 12) | lower)) {
            None => out.push(c),
            Some(colour) => {
                rest.next();
                out.push_str(&draw(colour));
            }
        }
    }
    out
}

fn half(c: char, which: usize) -> Option<u32> {
    let half = u32::from(c).checked_sub(*HALVES.get(which)?)?;
    (half < 4096).then_some(half)
}

/// A text without chips.
pub(super) fn without_chips(text: &str) -> String {
    let gone = "\u{f1000}";
    let marked = drawn(text, |_| gone.to_owned());
    marked.replace("\u{f1000}\u{a0}", "").replace(gone, "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn chips() -> Style {
        Style {
            chips: true,
            ..Style::default()
        }
    }

    fn printed(text: &str) -> Printed<Colour> {
        Printed::new(text, Colour::read(text).unwrap())
    }

    proptest! {
        #[test]
        fn prop_every_colour_is_drawn_as_it_is_and_the_name_stays(
            number in 0_u32..0x0100_0000,
            shade in "\\PC{0,12}",
        ) {
            let colour = Colour::from_number(number).unwrap();
            let text = with_chip(&shade, Some(&Printed::new("x", colour)), &chips());
            let name = if shade.is_empty() { "x" } else { &shade };
            let plain = drawn(name, |_| String::new());
            let shown = drawn(&text, |colour| colour.to_string());
            prop_assert_eq!(shown, format!("{colour}\u{a0}{}", drawn(name, |it| it.to_string())));
            prop_assert_eq!(drawn(&text, |_| String::new()), format!("\u{a0}{plain}"));
            if plain == name {
                prop_assert_eq!(without_chips(&text), name);
            }
        }
    }

    #[test]
    fn a_chip_is_two_columns_wide_and_only_there_where_it_is_wanted() {
        let navy = printed("navy");
        let shown = with_chip("sea", Some(&navy), &chips());
        assert_eq!(textwrap::core::display_width(&shown), "## sea".len());
        assert_eq!(with_chip("sea", Some(&navy), &Style::default()), "sea");
        assert_eq!(with_chip("sea", None, &chips()), "sea");
    }
}
