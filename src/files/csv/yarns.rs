//! `yarns.csv`, and the fields of a yarn.

use super::{
    YARN_COLUMNS,
    cell_text::{read_list, write_list},
    columns::Column,
    field_reader::{FieldReader, UNKNOWN},
    table_reader::TableRecord,
    table_writer::cell,
};
use crate::{
    files::value::Value,
    label::cells::{self, written},
    measure::YarnCount,
    record::{Printed, Yarn, YarnFacts, contradictions},
    trade::{Construction, Gtin},
    words::joined,
};

impl TableRecord for Yarn {
    const COLUMNS: &'static [Column] = YARN_COLUMNS;

    fn read(fields: &mut FieldReader<'_>) -> Option<Self> {
        let (maker, name) = (fields.name("maker"), fields.name("name"));
        let facts = read_facts(fields);
        let mut gtins = read_gtins(fields).into_iter();
        let low = read_low(fields);
        let discontinued = fields.value("discontinued", cells::yes_no);
        for found in contradictions(&facts) {
            fields.note("", found);
        }
        Some(Self {
            maker: maker?,
            name: name?,
            facts,
            gtin: gtins.next(),
            more_gtins: gtins.collect(),
            low,
            shades: read_list(fields.text("shades")),
            discontinued: discontinued.is_some_and(|cell| cell.value),
            notes: fields.text("notes").to_owned(),
        })
    }

    fn texts(&self) -> Vec<String> {
        let facts = &self.facts;
        let needed = |text: String| {
            if text.is_empty() && facts.count.is_none() {
                UNKNOWN.to_owned()
            } else {
                text
            }
        };
        let text = |text: Option<String>| text.unwrap_or_default();
        vec![
            self.maker.to_string(),
            self.name.to_string(),
            needed(cell(facts.length.as_ref())),
            needed(cell(facts.mass.as_ref())),
            cell(facts.class.as_ref()),
            cell(facts.blend.as_ref()),
            text(written::construction_text(facts)),
            cell(facts.gauge.as_ref()),
            cell(facts.needles.as_ref()),
            cell(facts.care.as_ref()),
            cell(facts.price.as_ref()),
            joined(self.gtins(), "|"),
            self.notes.clone(),
            cell(facts.count.as_ref()),
            text(facts.plies.map(|plies| plies.to_string())),
            write_list(&self.shades),
            if self.discontinued { "yes" } else { "no" }.to_owned(),
            text(self.low.map(|low| low.to_string())),
        ]
    }
}

fn read_facts(fields: &mut FieldReader<'_>) -> YarnFacts {
    let mut counts = Counts::default();
    counts.extend("count", fields.printed("count"));
    let length = put_up(fields, "length", &mut counts);
    let mass = put_up(fields, "mass", &mut counts);
    let (construction, plies) = read_construction(fields);
    YarnFacts {
        length,
        mass,
        count: counts.settled(fields),
        class: fields.printed("class"),
        blend: fields.printed("fibre"),
        construction,
        plies,
        gauge: fields.printed("gauge"),
        needles: fields.printed("needle"),
        care: fields.printed("care"),
        price: fields.printed("price"),
        together: None,
    }
}

/// The yarn counts of a row, and the columns in which they stand.
#[derive(Default)]
struct Counts(Vec<(&'static str, Printed<YarnCount>)>);

impl Counts {
    fn extend(&mut self, column: &'static str, count: Option<Printed<YarnCount>>) {
        self.0.extend(count.map(|count| (column, count)));
    }

    /// The one yarn count. Without one, length and mass may not be left empty.
    fn settled(self, fields: &mut FieldReader<'_>) -> Option<Printed<YarnCount>> {
        let mut counts = self.0.into_iter();
        let Some((_, first)) = counts.next() else {
            if fields.is_empty("count") {
                must_be_given(fields, "length");
                must_be_given(fields, "mass");
            }
            return None;
        };
        for (column, other) in counts {
            if other.value != first.value {
                let why = format!("the row has another yarn count, `{}`", first.text);
                fields.refuse(column, why, "give one yarn count for a yarn");
            }
        }
        Some(first)
    }
}

fn must_be_given(fields: &mut FieldReader<'_>, column: &str) {
    if fields.is_empty(column) {
        let allowed = format!(
            "write the {column} of one skein with its unit, `unknown` if the label does not give it, or a yarn count in `count`"
        );
        fields.refuse(
            column,
            format!("{column} and yarn count are both empty"),
            allowed,
        );
    }
}

/// A length or mass, or the yarn count that stands in its place.
fn put_up<T: Value + Clone + 'static>(
    fields: &mut FieldReader<'_>,
    column: &'static str,
    counts: &mut Counts,
) -> Option<Printed<T>> {
    let error = match fields.try_value(column, T::read)? {
        Ok(value) => return Some(value),
        Err(error) => error,
    };
    match fields.try_value(column, cells::count) {
        Some(Ok(count)) => counts.extend(column, Some(count)),
        _ => fields.bad(column, error),
    }
    None
}

/// Construction and plies; the cell of the construction may say both.
fn read_construction(fields: &mut FieldReader<'_>) -> (Option<Printed<Construction>>, Option<u8>) {
    let built = fields.value("construction", cells::construction);
    let told = built.as_ref().and_then(|cell| cell.value.1);
    let plies = read_plies(fields);
    if let (Some(told), Some(plies)) = (told, plies)
        && told != plies
    {
        let why = format!("the construction says {told}");
        fields.refuse(
            "plies",
            why,
            "give the same number in both, or in one of them",
        );
    }
    let construction = built.map(|cell| Printed::new(cell.text, cell.value.0));
    (construction, plies.or(told))
}

fn read_plies(fields: &mut FieldReader<'_>) -> Option<u8> {
    if !fields.is_given("plies") {
        return None;
    }
    let plies = fields.text("plies").parse().ok().filter(|plies| *plies > 0);
    if plies.is_none() {
        fields.refuse(
            "plies",
            "this is not a number of plies",
            "write a whole number from 1 to 255",
        );
    }
    plies
}

/// The article numbers, the usual one first, each once.
fn read_gtins(fields: &mut FieldReader<'_>) -> Vec<Gtin> {
    let mut found = Vec::new();
    if !fields.is_given("gtin") {
        return found;
    }
    let numbers: Vec<String> = fields.text("gtin").split('|').map(str::to_owned).collect();
    for number in numbers {
        match Gtin::read(number.trim()) {
            Ok(gtin) if found.contains(&gtin) => {}
            Ok(gtin) => found.push(gtin),
            Err(error) => {
                let allowed = "leave it empty if you do not know it; in a spreadsheet format the column as text, or digits are lost";
                fields.refuse("gtin", error.to_string(), allowed);
            }
        }
    }
    found
}

/// So many balls may be low at most.
const MOST_LOW: u32 = 1000;

fn read_low(fields: &mut FieldReader<'_>) -> Option<u32> {
    if !fields.is_given("low") {
        return None;
    }
    let low = fields.text("low").parse().ok();
    let low = low.filter(|low| (1..=MOST_LOW).contains(low));
    if low.is_none() {
        fields.refuse(
            "low",
            "this is not a number of balls",
            "write a whole number from 1 to 1000, or leave it empty",
        );
    }
    low
}

#[cfg(test)]
mod tests {
    use super::{
        super::{Row, read_table},
        *,
    };
    use crate::measure::units::CountSystem;

    fn rows(text: &str) -> Vec<Row<Yarn>> {
        let rows = read_table("yarns.csv", text.as_bytes(), |_| {}).unwrap();
        rows.map(Result::unwrap).collect()
    }

    fn row(header: &str, cells: &str) -> Row<Yarn> {
        rows(&format!("{header}\n{cells}\n")).remove(0)
    }

    fn yarn(header: &str, cells: &str) -> Yarn {
        row(header, cells).record.unwrap()
    }

    fn faults(header: &str, cells: &str) -> Vec<String> {
        let faults = row(header, cells).record.unwrap_err();
        faults.iter().map(ToString::to_string).collect()
    }

    const SHORT: &str = "maker,name,length,mass";

    #[test]
    fn a_yarn_needs_only_maker_name_length_and_mass() {
        let yarn = yarn(SHORT, "Vorrelith,Hathrel DK,245 m,100 g");
        assert_eq!(yarn.title(), "Vorrelith, Hathrel DK");
        let length = yarn.facts.length.unwrap();
        assert_eq!(
            (length.text.as_str(), length.value.as_metres()),
            ("245 m", 245.0)
        );
        assert_eq!(yarn.facts.mass.unwrap().value.as_grams(), 100.0);
        assert!(!yarn.discontinued);
    }

    #[test]
    fn every_column_is_read() {
        let header = "notes,discontinued,shades,plies,count,gtin,price,care,needle,gauge,construction,fibre,class,mass,length,name,maker";
        let cells = "soft,yes,moss|rust,3,2/14 Nm,2900090039035,6.50 GBP,hand wash,4 mm,22 sts x 30 rows / 10 cm,plied,75% wool 25% nylon,3,50 g,125 m,Orrin,Vorrelith";
        let yarn = yarn(header, cells);
        let facts = &yarn.facts;
        assert!(facts.class.is_some() && facts.blend.is_some() && facts.gauge.is_some());
        assert!(facts.needles.is_some() && facts.care.is_some() && facts.price.is_some());
        assert!(facts.construction.is_some() && facts.count.is_some());
        assert_eq!((facts.plies, yarn.discontinued), (Some(3), true));
        assert_eq!(yarn.shades, ["moss", "rust"]);
        assert_eq!(yarn.gtin.unwrap().to_string(), "2900090039035");
        assert_eq!(yarn.notes, "soft");
    }

    #[test]
    fn unknown_is_kept_as_not_known_and_empty_is_not_taken_for_it() {
        let known = yarn(SHORT, "Vorrelith,Orrin,unknown,Unknown");
        assert_eq!((known.facts.length, known.facts.mass), (None, None));
        let faults = faults(SHORT, "Vorrelith,Orrin,,");
        assert_eq!(
            faults[0],
            "line 2, length: length and yarn count are both empty; write the length of one skein with its unit, `unknown` if the label does not give it, or a yarn count in `count`"
        );
        assert!(faults[1].starts_with("line 2, mass: mass and yarn count are both empty"));
    }

    #[test]
    fn a_count_stands_for_the_put_up_wherever_it_is_written() {
        for cells in [
            "V,O,2/14 Nm,150 g,",
            "V,O,,2/14 Nm,",
            "V,O,,,2/14 Nm",
            "V,O,2/14 Nm,,2/14 Nm",
        ] {
            let yarn = yarn("maker,name,length,mass,count", cells);
            let count = yarn.facts.count.unwrap();
            assert_eq!(count.text, "2/14 Nm", "{cells}");
            assert_eq!(count.value.system(), CountSystem::Metric);
            assert_eq!(yarn.facts.length, None);
        }
    }

    #[test]
    fn a_cell_longer_than_any_value_is_refused_unread() {
        let cells = format!("V,O,{},50 g", "1 ".repeat(3000));
        let faults = faults(SHORT, &cells);
        assert!(faults[0].contains("write at most 4096 bytes"), "{faults:?}");
    }

    #[test]
    fn two_counts_that_differ_are_refused() {
        let faults = faults("maker,name,length,mass,count", "V,O,2/14 Nm,,2/12 Nm");
        assert!(faults[0].contains("another yarn count"), "{faults:?}");
    }

    #[test]
    fn a_bare_number_takes_the_unit_of_the_header_and_says_so() {
        let header = "maker;name;length (m);mass [g];price_EUR";
        let yarn = yarn(header, "V;O;125;50 g;12,95");
        let facts = yarn.facts;
        assert_eq!(facts.length.unwrap().text, "125 m");
        assert_eq!(facts.mass.unwrap().text, "50 g");
        let price = facts.price.unwrap();
        assert_eq!(price.text, "12,95 EUR");
        assert_eq!(price.value.money.to_string(), "12.95 EUR");
    }

    #[test]
    fn a_cell_with_a_unit_of_its_own_keeps_it() {
        let yarn = yarn("maker,name,length (m),mass", "V,O,100 yd,50 g");
        assert!((yarn.facts.length.unwrap().value.as_metres() - 91.44).abs() < 1e-9);
    }

    #[test]
    fn a_decimal_comma_is_read_inside_a_cell() {
        let yarn = yarn("maker;name;length;mass;needle", "V;O;125 m;50 g;4,5 mm");
        let needle = yarn.facts.needles.unwrap().value;
        assert_eq!(needle.low().as_millimetres(), 4.5);
    }

    #[test]
    fn every_bad_cell_of_every_row_is_listed() {
        let header = "maker,name,length,mass,class,fibre,gtin,plies";
        let text = format!(
            "{header}\n,O,long,50 g,3,100% wool,,\nV,O,125 m,50 g,,,,\nV,O,125 m,50 kg!,99,wood,123,none\n"
        );
        let bad: Vec<(u64, Vec<String>)> = rows(&text)
            .into_iter()
            .filter_map(|row| Some((row.line, row.record.err()?)))
            .map(|(line, faults)| (line, faults.into_iter().map(|fault| fault.field).collect()))
            .collect();
        assert_eq!(bad[0], (2, vec!["maker".to_owned(), "length".to_owned()]));
        assert_eq!(bad[1].0, 4);
        for field in ["mass", "class", "gtin", "plies"] {
            assert!(bad[1].1.contains(&field.to_owned()), "{field}: {bad:?}");
        }
    }

    #[test]
    fn construction_and_plies_may_not_contradict_each_other() {
        let header = "maker,name,length,mass,construction,plies";
        let told = yarn(header, "V,O,125 m,50 g,3 plied,");
        assert_eq!(told.facts.plies, Some(3));
        let faults = faults(header, "V,O,125 m,50 g,3 plied,4");
        assert!(faults[0].contains("the construction says 3"), "{faults:?}");
    }

    #[test]
    fn a_guarded_formula_is_read_as_the_text_it_was() {
        let yarn = yarn(
            "maker,name,length,mass,notes",
            "V,O,125 m,50 g,'=cheap+soft",
        );
        assert_eq!(yarn.notes, "=cheap+soft");
    }
}
