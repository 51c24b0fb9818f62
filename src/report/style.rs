//! How an answer is to be written: which units come first, and what fields are
//! called where it is shown.

use crate::{
    app::FieldNote,
    files::CellNote,
    label::reading::NoteKind,
    measure::{Grist, GristTolerance, Interval, Length, Mass, units::YARD_M},
    report::contradiction::contradiction_words,
    words::{joined, number, or_list},
};

/// Which unit of a pair comes first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnitOrder {
    /// Metres and grams, then yards and ounces.
    #[default]
    MetricFirst,
    /// Yards and ounces, then metres and grams.
    YardsFirst,
}

impl UnitOrder {
    /// Two texts of the same value, the preferred one first.
    pub fn of<T>(self, metric: T, other: T) -> [T; 2] {
        match self {
            Self::MetricFirst => [metric, other],
            Self::YardsFirst => [other, metric],
        }
    }
}

/// What the fields of a request are called.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum FieldNames {
    /// As options of the command line: `--own-gauge`.
    #[default]
    Options,
    /// As labels of a form: names and labels.
    Labels(Vec<(String, String)>),
}

/// How an answer is to be written.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Style {
    /// Which unit of a pair comes first.
    pub units: UnitOrder,
    /// What fields are called.
    pub fields: FieldNames,
    /// Whether the colour of a shade is shown before its name.
    pub chips: bool,
}

impl Style {
    /// The name of a field within a sentence: `--rows`, or `‘Rows’`.
    pub fn field(&self, name: &str) -> String {
        match &self.fields {
            FieldNames::Options => option(name),
            FieldNames::Labels(_) => format!("‘{}’", self.label(name)),
        }
    }

    /// The name of a field before a colon: `--rows`, or `Rows`.
    pub fn label(&self, name: &str) -> String {
        match &self.fields {
            FieldNames::Options => option(name),
            FieldNames::Labels(labels) => labels
                .iter()
                .find(|(known, _)| known == name)
                .map_or_else(|| name.to_owned(), |(_, label)| label.clone()),
        }
    }

    /// A field with what may be chosen in it: `--shape crescent or yoke`, or
    /// `‘crescent’ or ‘yoke’ under ‘How the rows go on’`.
    pub fn choice(&self, field: &str, values: &[&str]) -> String {
        match &self.fields {
            FieldNames::Options => format!("--{field} {}", or_list(values)),
            FieldNames::Labels(_) => {
                let values = or_list(values.iter().map(|value| format!("‘{value}’")));
                format!("{values} under {}", self.field(field))
            }
        }
    }

    /// What is to be done on the command line, or on a page.
    pub fn either<'t>(&self, command: &'t str, page: &'t str) -> &'t str {
        match self.fields {
            FieldNames::Options => command,
            FieldNames::Labels(_) => page,
        }
    }

    /// What was noticed, as sentences: `--need: ...`.
    pub fn notes(&self, notes: &[FieldNote]) -> Vec<String> {
        let sentence = |found: &FieldNote| match found.field.as_str() {
            "" => self.note(&found.kind),
            field => format!("{}: {}", self.label(field), self.note(&found.kind)),
        };
        notes.iter().map(sentence).collect()
    }

    /// What was noticed, as a sentence.
    pub fn note(&self, kind: &NoteKind) -> String {
        match kind {
            NoteKind::Text(text) => text.clone(),
            NoteKind::Contradiction(found) => contradiction_words(found, self),
        }
    }

    /// What was noticed of a cell or a key: "line 3, class: ...".
    pub fn cell_note(&self, note: &CellNote) -> String {
        note.placed(&self.note(&note.kind))
    }

    /// Two texts of the same value, the preferred one first.
    pub fn ordered<T>(&self, metric: T, other: T) -> [T; 2] {
        self.units.of(metric, other)
    }

    /// Heads of two columns of the same measure: `length m` and `yd`, or `length yd`
    /// and `m`.
    pub fn heads(&self, what: &str, metric: &str, other: &str) -> [String; 2] {
        let [first, second] = self.ordered(metric, other);
        [
            format!("{what} {first}").trim_start().to_owned(),
            second.to_owned(),
        ]
    }

    /// `1646 m (1800 yd)`, or `1800 yd (1646 m)`.
    pub fn length(&self, length: Length) -> String {
        let [first, second] = self.lengths(length);
        format!("{first} ({second})")
    }

    fn lengths(&self, length: Length) -> [String; 2] {
        let places = if length.as_metres() < 10.0 { 1 } else { 0 };
        self.ordered(
            format!("{} m", number(length.as_metres(), places)),
            format!("{} yd", number(length.as_yards(), places)),
        )
    }

    /// A length in one unit only: `1646 m`, or `1800 yd`.
    pub fn length_alone(&self, length: Length) -> String {
        let [first, _] = self.lengths(length);
        first
    }

    /// `230 m/100 g (1141 yd/lb)`, or the other way round.
    pub fn grist(&self, grist: Grist) -> String {
        let [first, second] = self.grists(grist);
        format!("{first} ({second})")
    }

    /// `100 m (109 yd), 50 g`, of a skein; what is not known is left out.
    pub fn skein(&self, length: Option<Length>, mass: Option<Mass>) -> String {
        let length = length.map(|length| self.length(length));
        let mass = mass.map(|mass| format!("{} g", number(mass.as_grams(), 1)));
        joined(length.into_iter().chain(mass), ", ")
    }

    /// A length per mass in one unit only: `230 m/100 g`, or `1141 yd/lb`.
    pub fn grist_alone(&self, grist: Grist) -> String {
        let [first, _] = self.grists(grist);
        first
    }

    /// A length per mass that was measured: `369 to 386 m/100 g`.
    pub fn grist_range(&self, range: Interval<Grist>) -> String {
        let metric = range.map(Grist::as_metres_per_100_g);
        let other = range.map(Grist::as_yards_per_pound);
        let [(range, unit), _] = self.ordered((metric, "m/100 g"), (other, "yd/lb"));
        format!(
            "{} to {} {unit}",
            number(range.low(), 0),
            number(range.high(), 0)
        )
    }

    fn grists(&self, grist: Grist) -> [String; 2] {
        self.ordered(
            format!("{} m/100 g", number(grist.as_metres_per_100_g(), 1)),
            format!("{} yd/lb", number(grist.as_yards_per_pound(), 0)),
        )
    }

    /// `50 g (1.76 oz)`, or the other way round.
    pub fn mass(&self, mass: Mass) -> String {
        self.pair(
            format!("{} g", number(mass.as_grams(), 1)),
            format!("{} oz", number(mass.as_ounces(), 2)),
        )
    }

    /// A tolerance on length per mass: `8 %`, or `15 m/100 g`.
    pub fn tolerance(&self, tolerance: GristTolerance) -> String {
        match (tolerance, self.units) {
            (GristTolerance::Share(share), _) => format!("{} %", number(share.as_percent(), 2)),
            (GristTolerance::Absolute(grist), UnitOrder::MetricFirst) => {
                format!("{} m/100 g", number(grist.as_metres_per_100_g(), 2))
            }
            (GristTolerance::Absolute(grist), UnitOrder::YardsFirst) => self.grist_alone(grist),
        }
    }

    /// What to write in a field: `--need "900 m"`, or `900 m`.
    pub fn example(&self, field: &str, text: &str) -> String {
        match self.fields {
            FieldNames::Options => format!("--{field} \"{text}\""),
            FieldNames::Labels(_) => text.to_owned(),
        }
    }

    /// What a number of metres is multiplied by to be in the unit that comes first.
    pub(super) fn per_metre(&self) -> f64 {
        let [first, _] = self.ordered(1.0, 1.0 / YARD_M);
        first
    }

    /// Both units of one amount, the preferred one first and the other in brackets.
    pub(super) fn pair(&self, metric: String, other: String) -> String {
        let [first, second] = self.ordered(metric, other);
        format!("{first} ({second})")
    }
}

/// Arguments that the command line takes without the name of an option.
const POSITIONAL: [&str; 6] = ["value", "amount", "projects", "project", "rank", "yarns"];

fn option(name: &str) -> String {
    if name == "band" {
        "label".to_owned()
    } else if POSITIONAL.contains(&name) {
        name.to_owned()
    } else {
        format!("--{name}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_and_names_are_as_asked() {
        let length = Length::metres(100.0).unwrap();
        let page = Style {
            units: UnitOrder::YardsFirst,
            fields: FieldNames::Labels(vec![("rows".to_owned(), "Rows along".to_owned())]),
            ..Style::default()
        };
        assert_eq!(Style::default().length(length), "100 m (109 yd)");
        assert_eq!(page.length(length), "109 yd (100 m)");
        assert_eq!(Style::default().field("rows"), "--rows");
        assert_eq!(page.field("rows"), "‘Rows along’");
        assert_eq!(page.label("rows"), "Rows along");
    }
}
