//! `yarns.csv` read.

use super::{
    YARN_COLUMNS,
    row::Cells,
    rows::{Rows, Sheet},
    shades::read_shades,
};
use crate::{
    files::ExchangeError,
    label::cells,
    measure::YarnCount,
    record::{Printed, Yarn, YarnFacts, contradictions},
    trade::{Construction, Gtin},
};
use std::io::Read;

/// Opens a table of yarns. `file` is what messages call it; `progress` is told
/// the bytes read so far.
pub fn read_yarns<'a>(
    file: &str,
    source: impl Read + 'a,
    progress: impl FnMut(u64) + 'a,
) -> Result<Rows<'a, Yarn>, ExchangeError> {
    let sheet = Sheet {
        columns: YARN_COLUMNS,
        read: read_yarn,
    };
    Rows::open(file, Box::new(source), Box::new(progress), &sheet)
}

fn read_yarn(cells: &mut Cells<'_>) -> Option<Yarn> {
    let (maker, name) = (cells.name("maker"), cells.name("name"));
    let facts = read_facts(cells);
    let gtin = read_gtin(cells);
    let discontinued = cells.value("discontinued", cells::yes_no);
    for sentence in contradictions(&facts) {
        cells.note("", sentence);
    }
    Some(Yarn {
        maker: maker?,
        name: name?,
        facts,
        gtin,
        shades: read_shades(cells.text("shades")),
        discontinued: discontinued.is_some_and(|cell| cell.value),
        notes: cells.text("notes").to_owned(),
    })
}

fn read_facts(cells: &mut Cells<'_>) -> YarnFacts {
    let mut counts = Counts::default();
    counts.extend("count", cells.value("count", cells::count));
    let length = put_up(cells, "length", cells::length, &mut counts);
    let mass = put_up(cells, "mass", cells::mass, &mut counts);
    let (construction, plies) = read_construction(cells);
    YarnFacts {
        length,
        mass,
        count: counts.settled(cells),
        class: cells.value("class", cells::class),
        blend: cells.value("fibre", cells::blend),
        construction,
        plies,
        gauge: cells.value("gauge", cells::gauge),
        needles: cells.value("needle", cells::needles),
        care: cells.value("care", cells::care),
        price: cells.value("price", cells::price),
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
    fn settled(self, cells: &mut Cells<'_>) -> Option<Printed<YarnCount>> {
        let mut counts = self.0.into_iter();
        let Some((_, first)) = counts.next() else {
            if cells.is_empty("count") {
                must_be_given(cells, "length");
                must_be_given(cells, "mass");
            }
            return None;
        };
        for (column, other) in counts {
            if other.value != first.value {
                let why = format!("the row has another yarn count, `{}`", first.text);
                cells.refuse(column, why, "give one yarn count for a yarn");
            }
        }
        Some(first)
    }
}

fn must_be_given(cells: &mut Cells<'_>, column: &str) {
    if cells.is_empty(column) {
        let allowed = format!(
            "write the {column} of one skein with its unit, `unknown` where the label does not give it, or a yarn count in `count`"
        );
        cells.refuse(
            column,
            format!("no {column} and no yarn count stand here"),
            allowed,
        );
    }
}

/// A length or mass, or the yarn count that stands in its place.
fn put_up<T: Clone + Send + 'static>(
    cells: &mut Cells<'_>,
    column: &'static str,
    read: fn(&str) -> cells::Cell<T>,
    counts: &mut Counts,
) -> Option<Printed<T>> {
    let error = match cells.try_value(column, read)? {
        Ok(value) => return Some(value),
        Err(error) => error,
    };
    match cells.try_value(column, cells::count) {
        Some(Ok(count)) => counts.extend(column, Some(count)),
        _ => cells.bad(column, error),
    }
    None
}

/// Construction and plies; the cell of the construction may say both.
fn read_construction(cells: &mut Cells<'_>) -> (Option<Printed<Construction>>, Option<u8>) {
    let built = cells.value("construction", cells::construction);
    let told = built.as_ref().and_then(|cell| cell.value.1);
    let plies = read_plies(cells);
    if let (Some(told), Some(plies)) = (told, plies)
        && told != plies
    {
        let why = format!("the construction says {told}");
        cells.refuse(
            "plies",
            why,
            "give the same number in both, or in one of them",
        );
    }
    let construction = built.map(|cell| Printed::new(cell.text, cell.value.0));
    (construction, plies.or(told))
}

fn read_plies(cells: &mut Cells<'_>) -> Option<u8> {
    if cells.is_empty("plies") || cells.is_unknown("plies") {
        return None;
    }
    let plies = cells.text("plies").parse().ok().filter(|plies| *plies > 0);
    if plies.is_none() {
        cells.refuse(
            "plies",
            "this is no number of plies",
            "write a whole number from 1 to 255",
        );
    }
    plies
}

fn read_gtin(cells: &mut Cells<'_>) -> Option<Gtin> {
    if cells.is_empty("gtin") || cells.is_unknown("gtin") {
        return None;
    }
    match Gtin::read(cells.text("gtin")) {
        Ok(gtin) => Some(gtin),
        Err(error) => {
            let allowed = "leave it empty where it is not known; in a spreadsheet format the column as text, or digits are lost";
            cells.refuse("gtin", error.to_string(), allowed);
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{super::Row, *};
    use crate::measure::units::CountSystem;

    fn rows(text: &str) -> Vec<Row<Yarn>> {
        let rows = read_yarns("yarns.csv", text.as_bytes(), |_| {}).unwrap();
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
            "line 2, length: no length and no yarn count stand here; write the length of one skein with its unit, `unknown` where the label does not give it, or a yarn count in `count`"
        );
        assert!(faults[1].starts_with("line 2, mass: no mass"));
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
