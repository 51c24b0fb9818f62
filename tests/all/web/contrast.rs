//! Colours of the pages against their paper, light and dark. The contrast is the one
//! of WCAG 2.2, "contrast ratio" and "relative luminance": text wants 4.5:1 (1.4.3),
//! what must be seen to understand a picture or to find a field 3:1 (1.4.11).

const STYLE: &str = include_str!("../../../src/web/assets/style.css");

/// The colours of one block `:root { ... }`.
struct Theme<'c>(&'c str);

impl Theme<'_> {
    fn luminance(&self, name: &str) -> f64 {
        let value = self.0.split(&format!("--{name}: #")).nth(1);
        let hex = value.unwrap_or_else(|| panic!("no --{name} in {}", self.0));
        let part = |at: usize| {
            let value = u8::from_str_radix(&hex[at..at + 2], 16).unwrap();
            let value = f64::from(value) / 255.0;
            match value {
                low if low <= 0.04045 => low / 12.92,
                high => ((high + 0.055) / 1.055).powf(2.4),
            }
        };
        0.2126 * part(0) + 0.7152 * part(2) + 0.0722 * part(4)
    }

    fn contrast(&self, [one, other]: [&str; 2]) -> f64 {
        let mut both = [self.luminance(one), self.luminance(other)];
        both.sort_by(f64::total_cmp);
        (both[1] + 0.05) / (both[0] + 0.05)
    }
}

#[test]
fn what_is_read_and_what_is_seen_stands_off_from_the_paper_light_and_dark() {
    let blocks: Vec<&str> = STYLE.split(":root {").skip(1).take(2).collect();
    let themes = blocks
        .iter()
        .map(|text| Theme(text.split('}').next().unwrap()));
    let themes: Vec<Theme<'_>> = themes.collect();
    assert_eq!(themes.len(), 2, "light and dark");
    for theme in &themes {
        for (colours, least) in [
            (["ink", "paper"], 4.5),
            (["soft", "paper"], 4.5),
            (["thread", "paper"], 4.5),
            // The line round the colour of a shade.
            (["ink", "paper"], 3.0),
            // The band of a rail, the line of a field, and the mark on a band.
            (["band", "paper"], 3.0),
            (["line", "paper"], 3.0),
            (["ink", "band"], 3.0),
        ] {
            let found = theme.contrast(colours);
            assert!(found >= least, "{colours:?}: {found:.2} in {}", theme.0);
        }
    }
}

#[test]
fn black_and_white_are_twenty_one_apart() {
    let theme = Theme("--ink: #000000; --paper: #ffffff;");
    assert!((theme.contrast(["ink", "paper"]) - 21.0).abs() < 1e-9);
}

#[test]
fn the_colour_of_a_shade_has_a_line_of_ink_around_it() {
    let chip = STYLE.split(".chip path {").nth(1).unwrap();
    let chip = chip.split('}').next().unwrap();
    assert!(chip.contains("stroke: var(--ink)"), "{chip}");
}
