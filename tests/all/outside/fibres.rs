//! The table of fibres against the list that was put together from the sources,
//! `tests/outside/fibres.csv`: every value and what it rests on.

use std::path::Path;
use understudy::trade::{Basis, FIBRES, Family, Fibre, Figure, fibre};

/// How the list writes a source, by how it begins, and how the program cites it.
const SOURCES: &[(&str, &str)] = &[
    ("MH5.1", "Morton & Hearle 2008, table 5.1"),
    ("MH13.1", "Morton & Hearle 2008, table 13.1"),
    ("MH13.2", "Morton & Hearle 2008, table 13.2"),
    ("NRC", "National Research Council 2001, table 11.1"),
    ("review 2020", "Bioresources and Bioprocessing 2020"),
    ("review", "npj Materials Degradation 2022"),
    ("PLA bulletin", "Technical Bulletin 180904"),
    ("maker's figure", "Technical Bulletin 180904"),
    (
        "S183",
        "Cook 1984, Handbook of Textile Fibres I, cited by CAMEO",
    ),
    ("S184", "Murmu, Debnath & Bhutia 2023"),
    ("S185", "McGregor, Handbook of Properties of Textile"),
    (
        "S186",
        "Cook 1984, Handbook of Textile Fibres, cited by CAMEO",
    ),
];

/// One row of the list: its cells under the header's order.
struct Row(csv::StringRecord);

impl Row {
    fn cell(&self, place: usize) -> &str {
        self.0.get(place).unwrap()
    }

    fn number(&self, place: usize) -> Option<f64> {
        let cell = self.cell(place);
        (!cell.is_empty()).then(|| cell.parse().unwrap())
    }
}

fn rows() -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside/fibres.csv");
    let mut table = csv::Reader::from_path(path).unwrap();
    table.records().map(|row| Row(row.unwrap())).collect()
}

/// Whether the program rests a value on what the list says.
fn rests_on(basis: Basis, listed: &str) -> bool {
    let source = SOURCES.iter().find(|(code, _)| listed.starts_with(code));
    match (basis, source) {
        (Basis::Published(text), Some((_, cited))) => text.starts_with(cited),
        (Basis::Proxy(name), None) => listed == format!("proxy {name}"),
        (Basis::Practice, None) => listed.starts_with("practice"),
        (Basis::Memory, None) => listed.starts_with("memory"),
        _ => false,
    }
}

fn is_as_listed(found: Option<Figure>, value: Option<f64>, basis: &str, what: &str) {
    assert_eq!(found.map(|figure| figure.value), value, "{what}");
    if let Some(figure) = found {
        assert!(rests_on(figure.basis, basis), "{what}: {basis}");
    }
}

fn family(name: &str) -> Family {
    match name {
        "animal" => Family::Animal,
        "plant" => Family::Plant,
        "regenerated" => Family::Regenerated,
        "synthetic" => Family::Synthetic,
        other => panic!("{other}"),
    }
}

fn compare(row: &Row, known: &Fibre) {
    let name = known.name;
    let others: Vec<String> = row.cell(1).split(';').map(str::to_lowercase).collect();
    let others: Vec<&str> = others.iter().map(String::as_str).collect();
    let others: Vec<&str> = others.into_iter().filter(|name| !name.is_empty()).collect();
    assert_eq!(known.other_names, others, "{name}");
    assert_eq!(known.family, family(row.cell(2)), "{name}");
    for (place, property, found) in [
        (3, "density", Some(known.density)),
        (5, "extension", known.extension),
        (7, "recovery", known.recovery),
        (9, "regain", known.regain),
    ] {
        let what = format!("{property} of {name}");
        is_as_listed(found, row.number(place), row.cell(place + 1), &what);
    }
    assert_eq!(known.melts, row.cell(11) == "yes", "{name} melts");
    assert!(rests_on(known.melts_basis, row.cell(12)), "{name} melts");
}

#[test]
fn every_value_of_a_fibre_and_its_basis_are_those_of_the_list() {
    let rows = rows();
    assert_eq!(rows.len(), FIBRES.len());
    for row in &rows {
        compare(row, fibre(row.cell(0)).unwrap());
    }
}
