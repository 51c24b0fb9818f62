//! What people call a colour: its family by its hue, and whether it is dark or light.
//!
//! Where one family ends and the next begins is common practice, no source; held to the
//! names of CSS, which are published, by a test.

use super::Colour;

/// A hue that is greyer than this has no family but grey, black or white.
const LEAST_CHROMA: f64 = 0.09;

/// Families by the hue at which each ends, degrees.
const HUES: [(f64, &str); 9] = [
    (14.0, "red"),
    (46.0, "orange"),
    (66.0, "yellow"),
    (164.0, "green"),
    (192.0, "turquoise"),
    (256.0, "blue"),
    (293.0, "purple"),
    (345.0, "pink"),
    (360.0, "red"),
];

impl Colour {
    /// What it is called: `green`, `dark`. Those between two families have both.
    pub fn words(self) -> Vec<&'static str> {
        let [red, green, blue] = self.parts().map(|part| f64::from(part) / 255.0);
        let (low, high) = (red.min(green).min(blue), red.max(green).max(blue));
        let (lightness, chroma) = (f64::midpoint(low, high), high - low);
        let mut words = match lightness {
            l if l < 0.08 => return vec!["black", "dark"],
            l if l > 0.95 => vec!["white"],
            _ if chroma < LEAST_CHROMA => vec!["grey"],
            _ => families(hue([red, green, blue], high, chroma), lightness, chroma),
        };
        words.extend((lightness < 0.34).then_some("dark"));
        words.extend((lightness > 0.66).then_some("light"));
        words
    }
}

/// Degrees from red over green and blue, as in CSS Color Module Level 4, section 7.
fn hue([red, green, blue]: [f64; 3], high: f64, chroma: f64) -> f64 {
    let sixths = if high <= red {
        ((green - blue) / chroma).rem_euclid(6.0)
    } else if high <= green {
        (blue - red) / chroma + 2.0
    } else {
        (red - green) / chroma + 4.0
    };
    sixths * 60.0
}

fn families(hue: f64, lightness: f64, chroma: f64) -> Vec<&'static str> {
    let found = HUES.iter().find(|(end, _)| hue <= *end);
    let family = found.map_or("red", |(_, family)| *family);
    match family {
        "orange" if lightness < 0.45 => vec!["brown"],
        "orange" if lightness > 0.8 => vec!["orange", "beige"],
        "orange" if chroma < 0.62 => vec!["brown", "beige"],
        "red" if chroma < 0.7 && lightness < 0.42 => vec!["red", "brown"],
        "red" if lightness > 0.68 => vec!["pink"],
        "yellow" if lightness < 0.42 => vec!["green", "olive"],
        "yellow" if lightness > 0.82 => vec!["yellow", "beige"],
        "turquoise" => vec!["turquoise", "green", "blue"],
        "pink" if lightness < 0.45 => vec!["purple", "pink"],
        other => vec![other],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::COLOUR_NAMES;

    /// CSS Color Module Level 4, section 6.1: names that say their family. DIFFERENCE:
    /// those listed are told by their other word, or are so pale or so red that people
    /// call them otherwise.
    #[test]
    fn names_of_css_that_say_a_family_are_of_that_family() {
        const OTHERWISE: [&str; 11] = [
            "aliceblue",
            "antiquewhite",
            "darkslategrey",
            "greenyellow",
            "lightslategrey",
            "mediumvioletred",
            "navajowhite",
            "orangered",
            "palevioletred",
            "rosybrown",
            "slategrey",
        ];
        let families = [
            "red",
            "green",
            "blue",
            "yellow",
            "orange",
            "pink",
            "grey",
            "brown",
            "black",
            "white",
            "purple",
            "turquoise",
            "beige",
            "olive",
        ];
        let mut tried = 0;
        for (name, number) in COLOUR_NAMES {
            let said = families.iter().find(|family| name.ends_with(**family));
            if let (Some(said), false) = (said, OTHERWISE.contains(&name)) {
                let words = Colour::from_number(number).unwrap().words();
                assert!(words.contains(said), "{name} is {words:?}");
                tried += 1;
            }
        }
        assert!(tried > 35, "{tried} names");
    }

    #[test]
    fn dark_and_light_say_so() {
        let words = |name| Colour::named(name).unwrap().words();
        assert_eq!(words("dark green"), ["green", "dark"]);
        assert_eq!(words("navy"), ["blue", "dark"]);
        assert_eq!(words("light blue"), ["blue", "light"]);
        assert_eq!(words("black"), ["black", "dark"]);
        assert_eq!(words("white"), ["white", "light"]);
        assert_eq!(words("saddle brown"), ["brown", "dark"]);
    }
}
