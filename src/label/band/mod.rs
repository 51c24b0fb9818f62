//! Everything that a ball band or a materials line says, in any order.

mod builder;
mod labels;
mod negation;
mod pair;
mod put_up;
mod scan;
mod title;
mod whole_text;

pub use super::amount::{Amount, AmountPart, Quantity};

use super::{
    reading::{NotRead, Note, capped, left_out},
    token::lex,
};
use crate::{
    label::cells,
    measure::Interval,
    record::{Fit, Need, Purpose, YarnFacts},
    trade::{FibreGroup, Gtin, names_material},
    words::{and_list, count_of},
};
use builder::BandBuilder;
use scan::{Beginnings, Scan, scan};
pub use title::Title;

/// What a ball band, a materials line or a typed sentence says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BandReading {
    /// What it says of the yarn; each value beside the words it was read from.
    pub facts: YarnFacts,
    /// How much of it there is, or is needed.
    pub amount: Option<Amount>,
    /// The amounts of further colours: `700 yd in MC and 180 yd in CC`.
    pub other_colours: Vec<Amount>,
    /// Wraps per inch, where stated; a weak clue to the class.
    pub wraps_per_inch: Option<Interval<f64>>,
    /// Strands to hold together, where stated.
    pub strands_held: Option<u8>,
    /// Article number.
    pub gtin: Option<Gtin>,
    /// Shade, as printed.
    pub shade: Option<String>,
    /// Dye lot, as printed.
    pub lot: Option<String>,
    /// What the thing is for, where stated.
    pub purpose: Option<Purpose>,
    /// How close it sits, where stated.
    pub fit: Option<Fit>,
    /// Fibres and families of fibres that it says are not there, or not wanted.
    pub denied: Vec<FibreGroup>,
    /// Notes about what was read, in the order of the text.
    pub warnings: Vec<Note>,
    /// A note on a length that is all that is said of a skein: it may be what
    /// a pattern takes.
    pub lone_length: Option<Note>,
    /// What was not understood or not taken, in the order of the text.
    pub not_read: Vec<NotRead>,
}

impl BandReading {
    /// What it gave as notes, and what of it was not taken.
    pub fn notes(&self) -> Vec<Note> {
        let told = capped(self.warnings.clone());
        told.into_iter().chain(self.not_taken()).collect()
    }

    /// The same where some of the text is the yarn's name, which is understood then.
    pub fn without_name(mut self, title: Option<&Title>) -> Self {
        let is_name = |part: &NotRead| title.is_some_and(|title| title.holds(&part.span));
        self.not_read.retain(|part| !is_name(part));
        self
    }

    /// The notes on what was taken.
    pub fn noticed(&self) -> Vec<Note> {
        capped(
            self.warnings
                .iter()
                .chain(&self.lone_length)
                .cloned()
                .collect(),
        )
    }

    /// What of it was not taken: what no grammar knows is one note.
    pub fn not_taken(&self) -> Vec<Note> {
        left_out(&self.not_read)
    }

    /// Words that name a fibre or a build and were not understood.
    pub fn materials(&self) -> impl Iterator<Item = &str> {
        let left = self.not_read.iter().map(|part| part.text.as_str());
        left.filter(|text| names_material(text))
    }

    /// What it says that is not kept with a yarn: amounts, lot, use.
    pub fn beside_the_yarn(&self) -> Option<Note> {
        let amounts = self.amount.iter().chain(&self.other_colours);
        let lot = self.lot.iter().map(|lot| format!("lot {lot}"));
        let named = [
            self.purpose.map(|purpose| purpose.name().to_owned()),
            self.fit.map(|fit| format!("{} fit", fit.name())),
            self.strands_held
                .map(|held| count_of(held.into(), "strand")),
        ];
        let said: Vec<String> = amounts
            .map(|amount| amount.text.clone())
            .chain(lot)
            .chain(named.into_iter().flatten())
            .map(|said| format!("\"{said}\""))
            .collect();
        let message = || {
            format!(
                "Understood, but not saved with a yarn: {}.",
                said.join(", ")
            )
        };
        (!said.is_empty()).then(|| Note::new(&(0..0), message()))
    }

    /// What a question about one colour does not use.
    pub fn unused_colours(&self) -> Option<Note> {
        let texts: Vec<String> = self
            .other_colours
            .iter()
            .map(|amount| format!("`{}`", amount.text))
            .collect();
        let message = || {
            format!(
                "{} is not used: ask about one colour at a time",
                and_list(&texts)
            )
        };
        (!texts.is_empty()).then(|| Note::new(&(0..0), message()))
    }

    /// The need of each size that it states, or a note why its amount is not used.
    pub fn needs(&self) -> Result<Vec<(Option<String>, Need)>, Note> {
        let Some(amount) = &self.amount else {
            return Ok(Vec::new());
        };
        match cells::needs(&amount.text, &self.facts) {
            Ok(reading) => Ok(reading.value),
            Err(error) => Err(Note::new(
                &(0..amount.text.len()),
                format!("the amount is not used: {error}"),
            )),
        }
    }
}

/// Reads `text` as far as it can be understood. Nothing is guessed: what may
/// mean several things is left out and reported.
///
/// A length and a mass that stand together (`225 m/100 g`) are the put-up's,
/// else the first of each. A further one, or one beside a word such as `needs`
/// or `total`, is an amount. Skeins are always an
/// amount; what each of them holds is the put-up.
pub fn read_band(text: &str) -> BandReading {
    BandReader::default().read(text)
}

/// The same, with what the text calls the yarn where it says so before its facts.
pub fn read_titled(text: &str) -> (Option<Title>, BandReading) {
    let scan = BandReader::default().scan(text);
    let title = title::title(&scan.parts, text);
    (title, BandBuilder::new(text).read(scan))
}

/// Reads many texts one after another, each as [`read_band`] does: what it learns of the
/// words of one is of use in the next.
#[derive(Debug, Default)]
pub struct BandReader {
    beginnings: Beginnings,
}

impl BandReader {
    /// Reads the next text.
    pub fn read(&mut self, text: &str) -> BandReading {
        BandBuilder::new(text).read(self.scan(text))
    }

    fn scan(&mut self, text: &str) -> Scan {
        scan(&lex(text), &mut self.beginnings)
    }
}

/// The same words beside the fibres of a label that was read before.
pub fn materials_beside(facts: &YarnFacts) -> Vec<String> {
    let text = facts.blend.as_ref().map(|blend| blend.text.as_str());
    let Some(text) = text.filter(|text| names_material(text)) else {
        return Vec::new();
    };
    read_band(text).materials().map(str::to_owned).collect()
}

/// The same of a text about one skein, where no mass is too large for one.
pub fn read_skein(text: &str) -> BandReading {
    BandBuilder::of_skein(text).read(BandReader::default().scan(text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::token::work;
    use proptest::prelude::*;

    /// Pieces of labels in any order, so that grammars meet in odd places.
    fn pieces() -> impl Strategy<Value = String> {
        let piece = prop::sample::select(vec![
            "50",
            "1.100",
            "1,250",
            "3/4",
            "½",
            "22",
            "0",
            "100",
            "75",
            "25",
            "7",
            "6",
            "g",
            "m",
            "yd",
            "oz",
            "lb",
            "mm",
            "cm",
            "in",
            "%",
            "wool",
            "nylon",
            "cotton",
            "bamboo",
            "WO",
            "CA",
            "sts",
            "rows",
            "r",
            "rnds",
            "sc",
            "x",
            "×",
            "/",
            "(",
            ")",
            "[",
            "]",
            "-",
            "–",
            "+",
            "=",
            "~",
            ",",
            ";",
            ":",
            "#",
            "?",
            "$",
            "£",
            "€",
            "kr",
            "US",
            "UK",
            "old",
            "size",
            "no.",
            "needles",
            "Ø",
            "hook",
            "Nm",
            "tex",
            "Ne",
            "R",
            "ply",
            "dk",
            "4",
            "class",
            "CYC",
            "baby",
            "skeins",
            "ball",
            "balls",
            "each",
            "in",
            "A",
            "B",
            "MC",
            "XS",
            "S",
            "M",
            "L",
            "2",
            "XL",
            "of",
            "and",
            "half",
            "a",
            "full",
            "about",
            "needs",
            "total",
            "lot",
            "colour",
            "n/a",
            "superwash",
            "not",
            "machine wash",
            "30",
            "°C",
            "held",
            "double",
            "strands",
            "wpi",
            "5012345678900",
            "7777777777777",
            "mostly",
            "burns",
            "like",
            "gauge",
            "per",
            "to",
            "10",
            "\u{a0}",
            "\u{202e}",
            "Â",
            "‚",
            "\u{1b}[3m",
            "'",
            "\"",
            "e9",
            "plied",
            "pad",
            "hot",
        ]);
        prop::collection::vec((piece, prop::bool::ANY), 0..14).prop_map(|pieces| {
            pieces
                .into_iter()
                .map(|(piece, space)| format!("{piece}{}", if space { " " } else { "" }))
                .collect()
        })
    }

    fn spans_lie_in(text: &str) -> Result<(), TestCaseError> {
        let band = read_band(text);
        for note in &band.warnings {
            prop_assert!(
                text.get(note.span.clone()).is_some(),
                "{:?} in {text:?}",
                note.span
            );
        }
        let mut end = 0;
        for left in &band.not_read {
            prop_assert_eq!(text.get(left.span.clone()), Some(left.text.as_str()));
            prop_assert!(left.span.start >= end, "{left:?} before {end} in {text:?}");
            end = left.span.end;
        }
        Ok(())
    }

    /// The most looks that one piece of text takes, on average.
    const MOST_LOOKS: usize = 2000;

    /// Work for each piece of text, whatever stands there again and again: reading goes
    /// on from where it has got to.
    #[test]
    fn a_text_makes_work_in_proportion_to_its_length() {
        let pieces = [
            "1 ",
            "1,",
            "1/",
            "1-",
            "1(",
            "1:",
            "1 m ",
            "1 S ",
            "S 1 ",
            "g 1 ",
            "1 % ",
            "wool ",
            "( ",
            "1 x ",
            "1 sts ",
            "mm 1 ",
            "US 1 ",
            "no ",
            "lot 1-",
            "1/1 ",
            "6 (7, ",
            "% wool ",
            "ply 1 ",
            "col A",
            "1 each in A, ",
            "; ",
            "not ",
            "£1 ",
            "qwert ",
            "held ",
            "34in 6 ",
            "1,",
            "1-",
            "1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,a ",
        ];
        let looks = |text: &str| work::of(|| drop(read_band(text)));
        for one in pieces {
            let (short, long) = (looks(&one.repeat(100)), looks(&one.repeat(200)));
            assert!(
                long <= 2 * short + 50 * MOST_LOOKS,
                "{one:?}: {short}, {long}"
            );
            for other in pieces.iter().step_by(5) {
                let text = format!("{one}{other}").repeat(30);
                let (looks, pieces) = (looks(&text), lex(&text).len());
                assert!(looks <= MOST_LOOKS * pieces, "{looks} looks for {text:?}");
            }
        }
    }

    #[test]
    fn pounds_without_a_word_beside_them_are_asked_about() {
        for text in ["5 pounds", "DK, 5 pounds each", "wool 100%; 2 pounds"] {
            let read = read_band(text);
            assert_eq!(read.facts.mass, None, "{text}");
            assert!(read.not_read[0].why.contains("money"), "{text}");
        }
        for text in [
            "1 pound cone",
            "2 pounds of wool",
            "1150 yd / 1 pound",
            "5 lb",
        ] {
            let read = read_band(text);
            assert!(read.facts.mass.is_some() || read.amount.is_some(), "{text}");
        }
        let price = read_band("price 5 pounds a ball").facts.price.unwrap();
        assert_eq!(price.value.money.to_string(), "5.00 GBP");
    }

    #[test]
    fn sizes_may_be_named_by_the_body() {
        let amount = read_band("34in 6 balls, 36in 7 balls").amount.unwrap();
        let sizes = amount.parts.iter().map(|part| part.size.as_deref());
        assert_eq!(sizes.collect::<Vec<_>>(), [Some("34in"), Some("36in")]);
        let gauge = read_band("10 cm 50 g, 4 in 100 g");
        assert_eq!(
            gauge.amount.and_then(|amount| amount.parts[0].size.clone()),
            None
        );
    }

    #[test]
    fn words_of_a_material_are_found_again_beside_the_fibres() {
        let band = read_band("fun fur 100% acrylic, 80 m/50 g");
        assert_eq!(
            band.facts.blend.as_ref().unwrap().text,
            "100% acrylic, fun fur"
        );
        assert_eq!(materials_beside(&band.facts), ["fun fur"]);
        assert!(materials_beside(&read_band("100% acrylic, soft").facts).is_empty());
    }

    /// Found by fuzzing: a second amount whose mass is not possible was left twice.
    #[test]
    fn what_is_left_for_two_reasons_is_told_once_with_both() {
        let left = read_band("7 x 7777777777777 oz 3 x 7777777777777 oz").not_read;
        let last = left.last().unwrap();
        assert_eq!(last.text, "3 x 7777777777777 oz");
        assert!(last.why.contains("second amount"), "{}", last.why);
    }

    proptest! {
        #[test]
        fn prop_any_text_is_read_without_panic_and_spans_lie_in_it(text in any::<String>()) {
            spans_lie_in(&text)?;
        }

        #[test]
        fn prop_any_bytes_are_read_without_panic(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
            spans_lie_in(&String::from_utf8_lossy(&bytes))?;
        }

        /// What a reader has learnt of the words of other texts spares work and changes
        /// nothing.
        #[test]
        fn prop_a_text_is_read_alike_whatever_was_read_before(
            before in prop::collection::vec(pieces(), 0..6), text in pieces(),
        ) {
            let mut reader = BandReader::default();
            for before in before {
                reader.read(&before);
            }
            prop_assert_eq!(reader.read(&text), read_band(&text));
        }

        #[test]
        fn prop_pieces_of_labels_in_any_order_keep_their_spans(text in pieces()) {
            spans_lie_in(&text)?;
        }

        #[test]
        fn prop_a_put_up_is_read_whatever_its_order_and_signs(
            metres in 10u32..999, grams in 10u32..500, sign in 0usize..6, mass_first in any::<bool>(),
        ) {
            let sign = [" = ", "/", " ≈ ", ", ", " - ", " "][sign];
            let (length, mass) = (format!("{metres} m"), format!("{grams}g"));
            let text = if mass_first { format!("{mass}{sign}{length}") } else { format!("{length}{sign}{mass}") };
            let facts = read_band(&text).facts;
            prop_assert_eq!(facts.length.map(|l| l.value.as_metres()), Some(f64::from(metres)), "{}", text);
            prop_assert_eq!(facts.mass.map(|m| m.value.as_grams()), Some(f64::from(grams)), "{}", text);
        }
    }
}
