//! Everything that tables and pattern files hold: out of one set of records, into an empty
//! one, and out again, byte for byte, through CSV and through workbooks.

use crate::desk::{Desk, Outcome};
use proptest::{collection::vec, prelude::*, sample::select};
use tempfile::TempDir;
use understudy::app::{self, Records, TableKind};

/// The tables, in the order in which they are imported.
const TABLES: [(TableKind, &str); 5] = [
    (TableKind::Yarns, "yarns"),
    (TableKind::Stock, "stock"),
    (TableKind::Swatches, "swatches"),
    (TableKind::Projects, "projects"),
    (TableKind::Reservations, "reservations"),
];

/// Texts that look like formulas, markup, separators, or what a reader trims.
const NAUGHTY: [&str; 22] = [
    "plain",
    "=1+1",
    "+cmd",
    "-2",
    "@x",
    "'quoted'",
    "\"both\"",
    "a|b",
    "a\\b\\",
    "a\\|b",
    "MC=x:y",
    " spaces at both ends  ",
    "line\nbreak",
    "carriage\r\nreturn",
    "\ttab",
    "a;b,c",
    "<b>&amp;</b>",
    "_x000D_",
    "unknown thing",
    "\u{202e}turned",
    "\u{feff}mark",
    "\u{1f9f6} \u{5e9}\u{5dc}",
];

/// No sheet holds control characters, and no file a NUL.
fn text() -> impl Strategy<Value = String> {
    let any = "[^\u{0}-\u{1f}\u{7f}\u{fffe}\u{ffff}]{0,12}";
    prop_oneof![
        3 => select(NAUGHTY.to_vec()).prop_map(str::to_owned),
        1 => any,
    ]
}

#[derive(Debug, Clone)]
struct Texts {
    names: Vec<String>,
    shades: Vec<String>,
    free: Vec<String>,
    amounts: Vec<u8>,
}

prop_compose! {
    fn texts()(
        names in vec(text(), 6),
        shades in vec(text(), 4),
        free in vec(text(), 12),
        amounts in vec(1_u8..9, 4),
    ) -> Texts {
        Texts { names, shades, free, amounts }
    }
}

impl Texts {
    /// Names differ by their ends, whatever they begin with.
    fn name(&self, place: usize) -> String {
        let tidy = self.names[place]
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ");
        format!("{tidy} {place}n").trim().to_owned()
    }

    fn title(&self, yarn: usize) -> String {
        format!("{}, {}", self.name(0), self.name(yarn))
    }

    fn shade(&self, place: usize) -> String {
        format!("{}{place}s", self.shades[place])
    }

    fn free(&self, place: usize) -> &str {
        &self.free[place]
    }

    /// Two yarns, each with two shades.
    fn tables(&self) -> [Vec<Vec<String>>; 5] {
        let row = |cells: &[&str]| cells.iter().map(|cell| (*cell).to_owned()).collect();
        let (maker, one, other) = (self.name(0), self.name(1), self.name(2));
        let shades = format!("{}|{}", part(&self.shade(0)), part(&self.shade(1)));
        let yarns = vec![
            row(&[
                "maker", "name", "length", "mass", "fibre", "shades", "notes", "price",
            ]),
            row(&[
                &maker,
                &one,
                "125 m",
                "50 g",
                "75% wool 25% nylon",
                &shades,
                self.free(0),
                "6.50 EUR",
            ]),
            row(&[&maker, &other, "400 yd", "3.5 oz", "", "", self.free(1), ""]),
        ];
        let held = |place: usize| format!("{} skeins", self.amounts[place]);
        let mut stock = vec![row(&[
            "maker", "name", "shade", "lot", "amount", "place", "notes",
        ])];
        let mut reserved = vec![row(&[
            "maker", "name", "shade", "lot", "place", "amount", "for",
        ])];
        for (place, yarn) in [(0, &one), (1, &one), (2, &other), (3, &other)] {
            let (shade, lot) = (self.shade(place), format!("L{place}"));
            let (kept, notes) = (self.free(place + 2), self.free(place + 3));
            stock.push(row(&[
                &maker,
                yarn,
                &shade,
                &lot,
                &held(place),
                kept,
                notes,
            ]));
            reserved.push(row(&[
                &maker,
                yarn,
                &shade,
                &lot,
                kept,
                "0.5 skeins",
                self.free(place + 4),
            ]));
            let other = format!("{} too", self.free(place + 4));
            reserved.push(row(&[
                &maker,
                yarn,
                &shade,
                &lot,
                kept,
                "0.25 skeins",
                &other,
            ]));
        }
        let swatches = vec![
            row(&["maker", "name", "needle", "after", "notes", "held with"]),
            row(&[
                &maker,
                &one,
                "4 mm",
                "22 sts x 30 rows / 10 cm",
                self.free(8),
                "",
            ]),
            row(&[&maker, &other, "US 3", "28 sts / 4 in", self.free(9), ""]),
            row(&[
                &maker,
                &one,
                "5 mm",
                "18 sts / 10 cm",
                self.free(10),
                &listed(&self.title(2)),
            ]),
            row(&[
                &maker,
                &other,
                "6 mm",
                "16 sts / 10 cm",
                self.free(11),
                &[listed(&self.title(1)), listed(&self.title(2))].join("|"),
            ]),
        ];
        let chosen = format!(
            "MC={}:{}|CC={}",
            part(&self.title(1)),
            part(&self.shade(0)),
            part(&self.title(2))
        );
        let projects = vec![
            row(&[
                "name", "pattern", "size", "without", "max_cost", "enough", "shade", "place",
                "yarns",
            ]),
            row(&[
                &self.name(3),
                &self.name(5),
                "one",
                "mohair",
                "40 EUR",
                "yes",
                self.free(10),
                self.free(11),
                &chosen,
            ]),
            row(&[
                &self.name(4),
                "a pattern that is gone",
                self.free(10),
                "",
                "",
                "",
                "",
                "",
                &format!("A={}!", part(self.free(0).trim())),
            ]),
        ];
        [yarns, stock, swatches, projects, reserved]
    }

    fn pattern(&self) -> String {
        let quoted = |text: &str| serde_json::to_string(text).unwrap();
        let yarn = |key| {
            format!(
                "[[yarn]]\nkey = \"{key}\"\ncalled = {}\nput_up = \"125 m / 50 g\"\nneeds = \"500 m\"\n",
                quoted(&self.title(1))
            )
        };
        format!(
            "pattern = {}\npurpose = \"accessory\"\nfit = \"relaxed\"\nnotes = {}\n[[size]]\nname = \"one\"\n{}{}",
            quoted(&self.name(5)),
            quoted(self.free(7)),
            yarn("MC"),
            yarn("CC"),
        )
    }
}

/// A text as it stands between the signs that divide a cell.
fn part(text: &str) -> String {
    let letters = text.chars().flat_map(|c| match c {
        '\\' | '|' | '=' | ':' => vec!['\\', c],
        c if c.is_whitespace() => vec!['\\', c],
        c => vec![c],
    });
    letters.collect()
}

/// A text as it stands in a list with bars.
fn listed(text: &str) -> String {
    text.replace('\\', r"\\").replace('|', r"\|")
}

/// A cell as a spreadsheet keeps it from being a formula, or from losing its spaces.
fn csv_of(rows: &[Vec<String>]) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer.write_record(row).unwrap();
    }
    writer.into_inner().unwrap()
}

fn import(records: &mut Records, (kind, name): (TableKind, &str), bytes: &[u8]) {
    let done = app::import_table(records, kind, name, bytes, false, |_| ());
    done.unwrap_or_else(|error| panic!("{name}: {error}\n{}", String::from_utf8_lossy(bytes)));
}

fn export(records: &Records, kind: TableKind, name: &str) -> Vec<u8> {
    let mut bytes = Vec::new();
    app::export_table(records, kind, name, &mut bytes).unwrap();
    bytes
}

fn pattern_file(records: &Records, name: &str) -> Vec<u8> {
    let mut bytes = Vec::new();
    app::export_pattern(records, name, "pattern.toml", &mut bytes).unwrap();
    bytes
}

fn import_pattern(records: &mut Records, bytes: Vec<u8>) {
    let file = ("pattern.toml".to_owned(), bytes);
    app::import_patterns(records, &[file], false).unwrap();
}

/// All tables of these records with an ending, those of projects after the pattern.
fn exported(records: &Records, ending: &str) -> Vec<Vec<u8>> {
    let names = TABLES.map(|(kind, name)| (kind, format!("{name}.{ending}")));
    names
        .iter()
        .map(|(kind, name)| export(records, *kind, name))
        .collect()
}

struct Shelf {
    records: Records,
    _folder: TempDir,
}

impl Shelf {
    fn empty() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let records = Records::open(&folder.path().join("records.db")).unwrap();
        Self {
            records,
            _folder: folder,
        }
    }

    fn filled(tables: &[Vec<u8>], ending: &str, pattern: Vec<u8>) -> Self {
        let mut shelf = Self::empty();
        import_pattern(&mut shelf.records, pattern);
        for ((kind, name), bytes) in TABLES.into_iter().zip(tables) {
            import(
                &mut shelf.records,
                (kind, &format!("{name}.{ending}")),
                bytes,
            );
        }
        shelf
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn prop_all_that_is_kept_goes_out_and_in_again_and_out_as_the_same_bytes(texts in texts()) {
        let tables: Vec<Vec<u8>> = texts.tables().iter().map(|rows| csv_of(rows)).collect();
        let first = Shelf::filled(&tables, "csv", texts.pattern().into_bytes());
        let pattern = pattern_file(&first.records, &texts.name(5));
        for ending in ["csv", "xlsx"] {
            let out = exported(&first.records, ending);
            let again = Shelf::filled(&out, ending, pattern.clone());
            prop_assert_eq!(&pattern_file(&again.records, &texts.name(5)), &pattern);
            for (ending, then) in [("csv", exported(&first.records, "csv")), (ending, out)] {
                for ((before, after), (_, name)) in then.iter().zip(exported(&again.records, ending)).zip(TABLES) {
                    prop_assert!(
                        *before == after,
                        "{name}.{ending}:\n{}\n{}",
                        String::from_utf8_lossy(before),
                        String::from_utf8_lossy(&after)
                    );
                }
            }
        }
    }
}

fn folder_with(table: &str, kind: &str) -> (Desk, String) {
    let desk = Desk::with_sample();
    let file = desk.write(&format!("{kind}.csv"), table);
    (desk, file)
}

/// What is told, in one line.
fn told(outcome: &Outcome) -> String {
    let words = outcome.err.split_whitespace();
    words.collect::<Vec<_>>().join(" ")
}

#[test]
fn projects_of_a_table_follow_those_that_are_there_and_change_only_where_that_is_asked_for() {
    let table = "name,pattern,size,max_cost,yarns\n\
                 Hat,jotterhelm,ADULT,40 EUR,\"mc=Quandrow, Oskirry Aran:ember\"\n\
                 Shawl,Mirrowhist,,,\n";
    let (desk, file) = folder_with(table, "projects");
    desk.text(&["project", "add", "Skerrablet:M"]);
    let import = ["import", "projects", file.as_str()];
    desk.run(&import).success().stdout("2 projects");
    let names = |desk: &Desk| -> Vec<String> {
        let rows = desk.json(&["project", "list"])["rows"].clone();
        let rows = rows.as_array().unwrap().iter();
        rows.map(|row| row["name"].as_str().unwrap().to_owned())
            .collect()
    };
    assert_eq!(names(&desk), ["Skerrablet M", "Hat", "Shawl"]);
    let exported = desk.text(&["export", "projects"]);
    // Pattern, size and key are written as the pattern writes them.
    assert!(
        exported
            .contains("Hat,Jotterhelm,adult,,,,40 EUR,no,no,,,\"MC=Quandrow, Oskirry Aran:ember\""),
        "{exported}"
    );
    assert!(
        exported.contains("Shawl,Mirrowhist,one size,"),
        "{exported}"
    );
    desk.run(&import).success().stdout("unchanged");
    desk.text(&["project", "move", "Shawl", "1"]);
    desk.run(&import).success().stdout("unchanged");
    let dearer = desk.write("dearer.csv", table.replace("40 EUR", "50 EUR"));
    let refused = desk.run(&["import", "projects", &dearer]).code(1);
    let said = told(&refused);
    assert!(said.contains("line 2: `Hat`: you already have this project, and it differs: max cost 40 EUR -> 50 EUR"), "{said}");
    desk.run(&["import", "projects", &dearer, "--update"])
        .success();
    assert_eq!(
        desk.text(&["export", "projects"]).matches("50 EUR").count(),
        1
    );
    assert_eq!(names(&desk), ["Shawl", "Skerrablet M", "Hat"]);
    desk.text(&["undo"]);
    assert_eq!(
        desk.text(&["export", "projects"]).matches("40 EUR").count(),
        1
    );
    desk.text(&["verify"]);
}

#[test]
fn a_project_of_a_pattern_that_is_not_there_comes_with_a_note_and_one_twice_keeps_the_file_out() {
    let table = "name,pattern,size,yarns\nHat,Jotterhalm,child,\"A=Quandrow, Oskiry Aran\"\n";
    let (desk, file) = folder_with(table, "projects");
    let said = desk.text(&["import", "projects", &file]);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "line 2: you have no pattern `Jotterhalm`, or did you mean Jotterhelm?",
        "line 2: you have no yarn `Quandrow, Oskiry Aran`, or did you mean Quandrow, Oskirry Aran",
    ] {
        assert!(said.contains(part), "{said}");
    }
    let twice = desk.write(
        "twice.csv",
        format!("{table}hat,Jotterhelm,child,\nScarf,Mirrowhist,,x\n"),
    );
    let said = told(&desk.run(&["import", "projects", &twice]).code(1));
    assert!(
        said.contains("line 3: `hat`: this project is in the file twice"),
        "{said}"
    );
    assert!(said.contains("line 4, yarns"), "{said}");
    assert_eq!(desk.text(&["export", "projects"]).lines().count(), 2);
}

#[test]
fn what_a_lot_does_not_have_free_is_never_reserved_from_a_table() {
    let head = "maker,name,shade,lot,place,amount,for";
    let lot = "Vorrelith,Hathrel DK,tide,5519,shelf 3";
    let (desk, file) = folder_with(&format!("{head}\n{lot},2 skeins,Anna\n"), "reservations");
    desk.run(&["import", "reservations", &file]).success();
    desk.run(&["import", "reservations", &file])
        .success()
        .stdout("unchanged");
    let other = |rows: &str| desk.write("other.csv", format!("{head}\n{rows}\n"));
    let import = |file: &str| told(&desk.run(&["import", "reservations", file]).code(1));
    let bad = other(&format!(
        "{lot},3 skeins,a hat\n{lot},2 skeins,Bea\n{lot},3 skeins,Anna\n{lot},1 skein,a hat\nVorrelith,Hathrel DK,tide,5520,shelf 3,1 skein,Bea"
    ));
    let said = import(&bad);
    for part in [
        "line 3: `Vorrelith, Hathrel DK, tide, lot 5519",
        "line 4: ",
        "2 skeins of this lot are reserved for that already",
        "line 5: ",
        "this lot is in the file twice, reserved for the same",
        "line 6: ",
        "you have no such lot in this place",
    ] {
        assert!(said.contains(part), "{said} has no {part}");
    }
    assert!(!said.contains("line 2"), "{said}");
    let more = other(&format!("{lot},5 skeins,Anna"));
    desk.run(&["import", "reservations", &more, "--update"])
        .success();
    assert!(
        desk.text(&["export", "reservations"])
            .contains("5 skeins,Anna")
    );
    let most = other(&format!("{lot},7 skeins,Anna"));
    desk.run(&["import", "reservations", &most, "--update"])
        .code(1)
        .stderr("line 2");
    assert!(
        desk.text(&["export", "reservations"])
            .contains("5 skeins,Anna")
    );
    desk.text(&["verify"]);
}
