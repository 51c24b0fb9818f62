//! Colours on a screen and the names that they have on pages of the web.
//!
//! W3C, CSS Color Module Level 4, section 6.1, "Named Colors": 148 names, of which
//! seven greys are spelled in two ways, and `aqua` and `cyan`, `fuchsia` and `magenta`
//! are the same. Section 5.2, "The RGB Hexadecimal Notations": six digits, or three of
//! which each counts twice. A yarn is never see-through, so digits for that are left out.

use std::fmt;

/// A colour as red, green and blue of sRGB, each from 0 to 255.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Colour(u32);

impl Colour {
    /// From red, green and blue as one number; `None` where it is none.
    pub fn from_number(number: u32) -> Option<Self> {
        (number <= 0x00ff_ffff).then_some(Self(number))
    }

    /// Red, green and blue as one number.
    pub fn number(self) -> u32 {
        self.0
    }

    /// Red, green and blue.
    pub fn parts(self) -> [u8; 3] {
        let [_, red, green, blue] = self.0.to_be_bytes();
        [red, green, blue]
    }

    /// The colour of this name: `navy`, `dark sea green`.
    pub fn named(name: &str) -> Option<Self> {
        let letters = name.chars().filter(|c| !matches!(c, ' ' | '-'));
        let key: String = letters.flat_map(char::to_lowercase).collect();
        let at = COLOUR_NAMES.binary_search_by(|(name, _)| (*name).cmp(&key));
        let (_, number) = COLOUR_NAMES.get(at.ok()?)?;
        Some(Self(*number))
    }

    /// A colour as people type it: a name, `#2f6f8f`, `2f6f8f` or `#abc`.
    pub fn read(text: &str) -> Option<Self> {
        Self::named(text).or_else(|| Self::of_digits(text))
    }

    fn of_digits(text: &str) -> Option<Self> {
        let digits = text.strip_prefix('#');
        let is_marked = digits.is_some();
        let digits = digits.unwrap_or(text);
        if !digits.chars().all(|c| c.is_ascii_hexdigit()) {
            return None;
        }
        let six = match digits.len() {
            6 => digits.to_owned(),
            3 if is_marked => digits.chars().flat_map(|c| [c, c]).collect(),
            _ => return None,
        };
        u32::from_str_radix(&six, 16).ok().map(Self)
    }
}

impl fmt::Display for Colour {
    /// `#2f6f8f`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:06x}", self.0)
    }
}

/// Names of colours, in order, and red, green and blue of each as one number.
pub const COLOUR_NAMES: [(&str, u32); 148] = [
    ("aliceblue", 0x00f0_f8ff),
    ("antiquewhite", 0x00fa_ebd7),
    ("aqua", 0x0000_ffff),
    ("aquamarine", 0x007f_ffd4),
    ("azure", 0x00f0_ffff),
    ("beige", 0x00f5_f5dc),
    ("bisque", 0x00ff_e4c4),
    ("black", 0x0000_0000),
    ("blanchedalmond", 0x00ff_ebcd),
    ("blue", 0x0000_00ff),
    ("blueviolet", 0x008a_2be2),
    ("brown", 0x00a5_2a2a),
    ("burlywood", 0x00de_b887),
    ("cadetblue", 0x005f_9ea0),
    ("chartreuse", 0x007f_ff00),
    ("chocolate", 0x00d2_691e),
    ("coral", 0x00ff_7f50),
    ("cornflowerblue", 0x0064_95ed),
    ("cornsilk", 0x00ff_f8dc),
    ("crimson", 0x00dc_143c),
    ("cyan", 0x0000_ffff),
    ("darkblue", 0x0000_008b),
    ("darkcyan", 0x0000_8b8b),
    ("darkgoldenrod", 0x00b8_860b),
    ("darkgray", 0x00a9_a9a9),
    ("darkgreen", 0x0000_6400),
    ("darkgrey", 0x00a9_a9a9),
    ("darkkhaki", 0x00bd_b76b),
    ("darkmagenta", 0x008b_008b),
    ("darkolivegreen", 0x0055_6b2f),
    ("darkorange", 0x00ff_8c00),
    ("darkorchid", 0x0099_32cc),
    ("darkred", 0x008b_0000),
    ("darksalmon", 0x00e9_967a),
    ("darkseagreen", 0x008f_bc8f),
    ("darkslateblue", 0x0048_3d8b),
    ("darkslategray", 0x002f_4f4f),
    ("darkslategrey", 0x002f_4f4f),
    ("darkturquoise", 0x0000_ced1),
    ("darkviolet", 0x0094_00d3),
    ("deeppink", 0x00ff_1493),
    ("deepskyblue", 0x0000_bfff),
    ("dimgray", 0x0069_6969),
    ("dimgrey", 0x0069_6969),
    ("dodgerblue", 0x001e_90ff),
    ("firebrick", 0x00b2_2222),
    ("floralwhite", 0x00ff_faf0),
    ("forestgreen", 0x0022_8b22),
    ("fuchsia", 0x00ff_00ff),
    ("gainsboro", 0x00dc_dcdc),
    ("ghostwhite", 0x00f8_f8ff),
    ("gold", 0x00ff_d700),
    ("goldenrod", 0x00da_a520),
    ("gray", 0x0080_8080),
    ("green", 0x0000_8000),
    ("greenyellow", 0x00ad_ff2f),
    ("grey", 0x0080_8080),
    ("honeydew", 0x00f0_fff0),
    ("hotpink", 0x00ff_69b4),
    ("indianred", 0x00cd_5c5c),
    ("indigo", 0x004b_0082),
    ("ivory", 0x00ff_fff0),
    ("khaki", 0x00f0_e68c),
    ("lavender", 0x00e6_e6fa),
    ("lavenderblush", 0x00ff_f0f5),
    ("lawngreen", 0x007c_fc00),
    ("lemonchiffon", 0x00ff_facd),
    ("lightblue", 0x00ad_d8e6),
    ("lightcoral", 0x00f0_8080),
    ("lightcyan", 0x00e0_ffff),
    ("lightgoldenrodyellow", 0x00fa_fad2),
    ("lightgray", 0x00d3_d3d3),
    ("lightgreen", 0x0090_ee90),
    ("lightgrey", 0x00d3_d3d3),
    ("lightpink", 0x00ff_b6c1),
    ("lightsalmon", 0x00ff_a07a),
    ("lightseagreen", 0x0020_b2aa),
    ("lightskyblue", 0x0087_cefa),
    ("lightslategray", 0x0077_8899),
    ("lightslategrey", 0x0077_8899),
    ("lightsteelblue", 0x00b0_c4de),
    ("lightyellow", 0x00ff_ffe0),
    ("lime", 0x0000_ff00),
    ("limegreen", 0x0032_cd32),
    ("linen", 0x00fa_f0e6),
    ("magenta", 0x00ff_00ff),
    ("maroon", 0x0080_0000),
    ("mediumaquamarine", 0x0066_cdaa),
    ("mediumblue", 0x0000_00cd),
    ("mediumorchid", 0x00ba_55d3),
    ("mediumpurple", 0x0093_70db),
    ("mediumseagreen", 0x003c_b371),
    ("mediumslateblue", 0x007b_68ee),
    ("mediumspringgreen", 0x0000_fa9a),
    ("mediumturquoise", 0x0048_d1cc),
    ("mediumvioletred", 0x00c7_1585),
    ("midnightblue", 0x0019_1970),
    ("mintcream", 0x00f5_fffa),
    ("mistyrose", 0x00ff_e4e1),
    ("moccasin", 0x00ff_e4b5),
    ("navajowhite", 0x00ff_dead),
    ("navy", 0x0000_0080),
    ("oldlace", 0x00fd_f5e6),
    ("olive", 0x0080_8000),
    ("olivedrab", 0x006b_8e23),
    ("orange", 0x00ff_a500),
    ("orangered", 0x00ff_4500),
    ("orchid", 0x00da_70d6),
    ("palegoldenrod", 0x00ee_e8aa),
    ("palegreen", 0x0098_fb98),
    ("paleturquoise", 0x00af_eeee),
    ("palevioletred", 0x00db_7093),
    ("papayawhip", 0x00ff_efd5),
    ("peachpuff", 0x00ff_dab9),
    ("peru", 0x00cd_853f),
    ("pink", 0x00ff_c0cb),
    ("plum", 0x00dd_a0dd),
    ("powderblue", 0x00b0_e0e6),
    ("purple", 0x0080_0080),
    ("rebeccapurple", 0x0066_3399),
    ("red", 0x00ff_0000),
    ("rosybrown", 0x00bc_8f8f),
    ("royalblue", 0x0041_69e1),
    ("saddlebrown", 0x008b_4513),
    ("salmon", 0x00fa_8072),
    ("sandybrown", 0x00f4_a460),
    ("seagreen", 0x002e_8b57),
    ("seashell", 0x00ff_f5ee),
    ("sienna", 0x00a0_522d),
    ("silver", 0x00c0_c0c0),
    ("skyblue", 0x0087_ceeb),
    ("slateblue", 0x006a_5acd),
    ("slategray", 0x0070_8090),
    ("slategrey", 0x0070_8090),
    ("snow", 0x00ff_fafa),
    ("springgreen", 0x0000_ff7f),
    ("steelblue", 0x0046_82b4),
    ("tan", 0x00d2_b48c),
    ("teal", 0x0000_8080),
    ("thistle", 0x00d8_bfd8),
    ("tomato", 0x00ff_6347),
    ("turquoise", 0x0040_e0d0),
    ("violet", 0x00ee_82ee),
    ("wheat", 0x00f5_deb3),
    ("white", 0x00ff_ffff),
    ("whitesmoke", 0x00f5_f5f5),
    ("yellow", 0x00ff_ff00),
    ("yellowgreen", 0x009a_cd32),
];

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn names_stand_in_order_and_grey_is_gray() {
        assert!(COLOUR_NAMES.is_sorted());
        let gray = COLOUR_NAMES
            .iter()
            .filter(|(name, _)| name.contains("gray"));
        let mut greys = 0;
        for (name, number) in gray {
            greys += 1;
            let grey = Colour::named(&name.replace("gray", "grey")).unwrap();
            assert_eq!(grey.number(), *number, "{name}");
        }
        assert_eq!(greys, 7);
    }

    /// CSS Color Module Level 4, section 6.1.
    #[test]
    fn names_are_read_as_people_write_them() {
        for (text, colour) in [
            ("navy", "#000080"),
            ("Navy", "#000080"),
            ("teal", "#008080"),
            ("Dark sea-green", "#8fbc8f"),
            ("darkslategrey", "#2f4f4f"),
            ("rebeccapurple", "#663399"),
            ("cyan", "#00ffff"),
            ("aqua", "#00ffff"),
        ] {
            assert_eq!(Colour::read(text).unwrap().to_string(), colour, "{text}");
        }
    }

    /// CSS Color Module Level 4, section 5.2: `#fc0` is `#ffcc00`.
    #[test]
    fn three_digits_count_twice_and_need_their_mark() {
        assert_eq!(Colour::read("#fc0"), Colour::read("#ffcc00"));
        assert!(Colour::read("#fc0").is_some());
        assert_eq!(Colour::read("fc0"), None);
    }

    #[test]
    fn what_is_no_colour_is_none() {
        for text in [
            "",
            "#",
            "sea",
            "moss",
            "#12",
            "#12345",
            "#1234567",
            "#2f6f8f80",
            "##2f6f8f",
            "2f6f8g",
            "+2f6f8",
            "0x2f6f",
            "transparent",
            "currentcolor",
            "rgb(1,2,3)",
            "２f6f8f",
        ] {
            assert_eq!(Colour::read(text), None, "{text}");
        }
        assert_eq!(Colour::from_number(0x0100_0000), None);
    }

    proptest! {
        #[test]
        fn prop_digits_are_red_green_and_blue(red: u8, green: u8, blue: u8) {
            let text = format!("{red:02x}{green:02X}{blue:02x}");
            let read = Colour::read(&text).unwrap();
            prop_assert_eq!(read.parts(), [red, green, blue]);
            prop_assert_eq!(Colour::read(&format!("#{text}")), Some(read));
            prop_assert_eq!(Colour::read(&read.to_string()), Some(read));
            prop_assert_eq!(Colour::from_number(read.number()), Some(read));
            prop_assert_eq!(read.to_string(), format!("#{}", text.to_lowercase()));
        }

        #[test]
        fn prop_no_text_is_read_as_a_colour_but_names_and_digits(text in "\\PC{0,12}") {
            if let Some(colour) = Colour::read(&text) {
                let digits = text.trim_start_matches('#').to_lowercase();
                let is_digits = colour.to_string().contains(&digits) || digits.len() == 3;
                prop_assert!(is_digits || Colour::named(&text).is_some());
            }
        }
    }
}
