//! Bad files, bad numbers, bad names and records that cannot be had, at the
//! program's own door: each gets a clear error or a clean wait, and nothing is
//! half written.

use crate::desk::{Desk, Outcome, PROGRAM, sample};
use serde_json::Value;
use std::{
    fs,
    io::{Read, Write},
    process::{Child, Stdio},
    time::{Duration, Instant},
};

const HEADER: &str = "maker,name,length,mass,fibre,notes";

fn refused(desk: &Desk, arguments: &[&str]) -> String {
    let complaint = desk.run(arguments);
    assert!(
        complaint.status == 1 || complaint.status == 2,
        "{arguments:?} ended with {}: {}",
        complaint.status,
        complaint.err
    );
    let complaint = complaint.err;
    assert!(
        complaint.starts_with("understudy: ") || complaint.starts_with("error: "),
        "{complaint}"
    );
    assert!(!complaint.contains("panicked"), "{complaint}");
    complaint
}

fn rows(desk: &Desk, what: &str) -> usize {
    let listed = desk.json(&[what, "list"]);
    listed["rows"].as_array().unwrap().len()
}

fn yarns_kept(desk: &Desk) -> usize {
    rows(desk, "yarn")
}

/// What may stand several times, and how many are shown, ends where no one needs more.
#[test]
fn one_question_asks_for_no_more_than_anyone_types() {
    let desk = Desk::with_sample();
    let find = ["find", "--wants", "225 m/100 g, DK"];
    let sheet = ["sheet", "--pattern", "Jotterhelm"];
    let fields: [(&[&str], &str, &str); 5] = [
        (&find, "--without", "mohair"),
        (&find, "--only", "wool"),
        (&find, "--weight", "fibre=3"),
        (&sheet, "--with", "90 m/50 g"),
        (&sheet, "--without", "mohair"),
    ];
    for (command, field, text) in fields {
        let repeated = |times| [command, &[field, text].repeat(times)].concat();
        let complaint = refused(&desk, &repeated(65));
        assert!(
            complaint.contains(&format!("{field}: given 65 times: write at most 64")),
            "{complaint}"
        );
        assert_eq!(desk.run(&repeated(64)).status, 0, "{field}");
    }
    let strands = |times| [&["convert"], ["230 m/100 g"].repeat(times).as_slice()].concat();
    let complaint = refused(&desk, &strands(65));
    assert!(complaint.contains("given 65 times"), "{complaint}");
    assert_eq!(desk.run(&strands(64)).status, 0);
    let top = |most| [&find[..], &["--top", most]].concat();
    let complaint = refused(&desk, &top("1001"));
    assert!(complaint.contains("from 1 to 1000"), "{complaint}");
    assert_eq!(desk.run(&top("1000")).status, 0);
}

#[test]
fn files_that_are_no_table_are_refused_with_what_they_are() {
    let desk = Desk::with_sample();
    let kept = yarns_kept(&desk);
    assert!(kept > 0);
    let utf16: Vec<u8> = HEADER.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let cut = format!("{HEADER}\nVorrelith,Orrin,125 m,50 g,100% wool,\"soft and");
    let files: [(&str, &[u8], &str); 9] = [
        ("empty.csv", b"", "empty"),
        ("blank.csv", b"\n\r\n  \n", "empty"),
        ("picture.png", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "binary"),
        ("utf16.csv", &utf16, "UTF-16"),
        ("book.csv", b"PK\x03\x04\x14\0\x06\0", "workbook"),
        (
            "latin.csv",
            b"maker,name,length,mass\nD\xf6ll,O,1 m,1 g\n",
            "line 2",
        ),
        ("cut.csv", cut.as_bytes(), "line 2"),
        (
            "bars.csv",
            b"maker|name|length|mass\nV|O|1 m|1 g\n",
            "maker",
        ),
        (
            "text.csv",
            b"Dear all, here is what I have.\nTwo balls.\n",
            "maker",
        ),
    ];
    for (name, bytes, word) in files {
        fs::write(desk.path(name), bytes).unwrap();
        let complaint = refused(&desk, &["import", "yarns", name]);
        assert!(complaint.contains(name), "{name}: {complaint}");
        assert!(complaint.contains(word), "{name}: {complaint}");
    }
    assert_eq!(yarns_kept(&desk), kept);
}

#[test]
fn a_bad_pattern_file_is_refused_with_what_it_is() {
    let desk = Desk::with_sample();
    for (name, bytes) in [
        ("empty.toml", &b""[..]),
        ("binary.toml", b"\0\x01\x02\xff"),
        ("cut.toml", b"name = \"Half"),
        ("other.toml", b"[package]\nname = 3\n"),
    ] {
        fs::write(desk.path(name), bytes).unwrap();
        let complaint = refused(&desk, &["import", "pattern", name]);
        assert!(complaint.contains(name), "{name}: {complaint}");
    }
    assert_eq!(rows(&desk, "pattern"), 4);
}

#[test]
fn one_bad_row_keeps_the_whole_file_out_and_all_bad_rows_are_counted() {
    let desk = Desk::empty();
    let mut text = format!("{HEADER}\nVorrelith,Orrin,125 m,50 g,100% wool,\n");
    for row in 0..6000 {
        text.push_str(&format!(
            "Vorrelith,Bad {row},long,50 potatoes,100% wool,\n"
        ));
    }
    desk.write("y.csv", &text);
    let complaint = refused(&desk, &["import", "yarns", "y.csv"]);
    assert!(
        complaint.contains("6000 rows with faults"),
        "{complaint:.200}"
    );
    assert!(complaint.contains("more faults"), "the rest is counted");
    assert_eq!(yarns_kept(&desk), 0);
}

/// Numbers that no length, mass, share, needle or price can have.
const NO_NUMBERS: &[&str] = &[
    "0",
    "-5",
    "NaN",
    "nan",
    "inf",
    "-inf",
    "infinity",
    "1e9",
    "1e400",
    "99999999999999999999999999999999",
    "١٢٥",
];

#[test]
fn impossible_numbers_in_cells_are_refused_with_line_and_column() {
    let desk = Desk::empty();
    for number in NO_NUMBERS {
        for (column, row) in [
            ("length", format!("V,O,{number} m,50 g,100% wool,")),
            ("mass", format!("V,O,125 m,{number} g,100% wool,")),
            ("fibre", format!("V,O,125 m,50 g,{number}% wool,")),
        ] {
            desk.write("y.csv", format!("{HEADER}\n{row}\n"));
            let complaint = refused(&desk, &["import", "yarns", "y.csv"]);
            let place = format!("line 2, {column}");
            assert!(complaint.contains(&place), "{row}: {complaint}");
        }
    }
    assert_eq!(yarns_kept(&desk), 0);
}

#[test]
fn impossible_numbers_in_arguments_are_refused() {
    let desk = Desk::with_sample();
    for number in NO_NUMBERS {
        let length = format!("--need={number} m");
        let skein = format!("--skein={number} m");
        refused(&desk, &["convert", "--", &format!("{number} m/100 g")]);
        refused(&desk, &["skeins", &length, "--skein=200 m"]);
        refused(&desk, &["skeins", "--need=900 m", &skein]);
    }
}

#[test]
fn impossible_numbers_in_a_text_are_left_and_never_become_facts() {
    let desk = Desk::empty();
    for number in NO_NUMBERS {
        let text = format!("{number} m / {number} g, {number} mm needles");
        let report = desk.run(&["read", "--json", "--", &text]).success().json();
        assert!(
            report["put_up"].is_null() && report["needles_mm"].is_null(),
            "{text}: {report}"
        );
        assert!(!report["not_read"].as_array().unwrap().is_empty(), "{text}");
    }
}

/// Names in many scripts, with combining marks, joined emoji and no case.
const NAMES: &[&str] = &[
    "Wölle ½ № 7",
    "e\u{301}cru a\u{308}\u{323}",
    "羊毛 二号",
    "צמר רך",
    "صوف ناعم",
    "ऊन मुलायम",
    "ขนแกะ",
    "Шерсть",
    "👩\u{200d}🌾 wool 🧶",
    "ΣΙΓΜΑΣ ς",
    "İstanbul ı",
    "don't \"quote\", me; | \\",
];

#[test]
fn names_in_any_script_are_kept_to_the_letter() {
    let desk = Desk::empty();
    let mut text = format!("{HEADER}\n");
    for name in NAMES {
        let cell = name.replace('"', "\"\"");
        text.push_str(&format!(
            "\"{cell}\",\"{cell}\",125 m,50 g,100% wool,\"{cell}\"\n"
        ));
    }
    desk.write("y.csv", &text);
    desk.run(&["import", "yarns", "y.csv"]).success();
    let listed = desk.json(&["yarn", "list"]).to_string();
    for name in NAMES {
        let json = serde_json::to_string(name).unwrap();
        assert!(listed.contains(json.trim_matches('"')), "{name}: {listed}");
    }
    let exported = desk.text(&["export", "yarns"]);
    let again = Desk::empty();
    again.write("y.csv", &exported);
    again.run(&["import", "yarns", "y.csv"]).success();
    assert_eq!(again.text(&["export", "yarns"]), exported);
}

#[test]
fn a_name_of_ten_thousand_letters_is_refused_or_kept_whole_and_never_cut() {
    let desk = Desk::empty();
    let long = "é".repeat(10_000);
    desk.write(
        "y.csv",
        format!("{HEADER}\nV,{long},125 m,50 g,100% wool,\nV,O,125 m,50 g,100% wool,{long}\n"),
    );
    let taken = desk.run(&["import", "yarns", "y.csv"]);
    let complaint = &taken.err;
    match taken.status {
        0 => assert!(
            desk.text(&["export", "yarns"])
                .contains(&format!("V,{long},"))
        ),
        _ => {
            assert!(complaint.contains("line 2, name"), "{complaint:.300}");
            assert!(complaint.len() < 5_000, "{} bytes", complaint.len());
            assert_eq!(yarns_kept(&desk), 0);
        }
    }
    refused(&desk, &["yarn", "show", &long]);
    desk.run(&["read", &long]).success();
}

/// Text that would move the cursor, change the title, hide or turn what follows.
const TRICKS: &[&str] = &[
    "red\u{1b}[31mred",
    "title\u{1b}]0;owned\u{7}",
    "back\u{8}\u{8}\u{8}",
    "return\rover",
    "c1\u{9b}31m",
    "del\u{7f}",
    "turn\u{202e}back",
    "isolate\u{2066}x\u{2069}",
    "mark\u{feff}",
];

fn is_safe(text: &str) -> bool {
    !text.chars().any(|c| {
        c.is_control() && c != '\n'
            || matches!(c, '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
    })
}

#[test]
fn what_moves_a_terminal_is_never_sent_raw() {
    for trick in TRICKS {
        let desk = Desk::empty();
        let row = format!("\"V {trick}\",\"O {trick}\",125 m,50 g,100% wool,\"{trick}\"");
        desk.write("y.csv", format!("{HEADER}\n{row}\n"));
        let name = format!("V {trick}, O {trick}");
        let bad = format!("{HEADER}\n\"V {trick}\",\"O {trick}\",{trick},50 g,100% wool,\n");
        desk.write("bad.csv", &bad);
        desk.write(
            "head.csv",
            format!("maker,name,length,mass,{trick}\nV,O,1 m,1 g,x\n"),
        );
        for arguments in [
            &["import", "yarns", "y.csv"][..],
            &["yarn", "list"],
            &["yarn", "list", "--json"],
            &["yarn", "list", "--markdown"],
            &["yarn", "show", &name],
            &["yarn", "show", trick],
            &["import", "yarns", "bad.csv"],
            &["import", "yarns", "head.csv"],
            &["import", "yarns", &format!("{trick}.csv")],
            &["read", trick],
            &["read", trick, "--json"],
            &["convert", trick],
            &["check", "--pattern", trick],
            &[trick],
        ] {
            let said = desk.run(arguments);
            assert!(is_safe(&said.out), "{arguments:?} said {:?}", said.out);
            assert!(
                is_safe(&said.err),
                "{arguments:?} complained {:?}",
                said.err
            );
        }
    }
}

#[test]
fn cells_that_a_spreadsheet_would_run_are_written_harmless_and_come_back() {
    let desk = Desk::empty();
    let formulas = [
        "=1+1",
        "+1",
        "-1",
        "@SUM(A1)",
        "=HYPERLINK(\"http://example.invalid\")",
        "'=typed",
        "\t=1",
        "＝1",
        "'",
    ];
    let mut text = format!("{HEADER}\n");
    for (place, formula) in formulas.iter().enumerate() {
        let cell = format!("'{}", formula.replace('"', "\"\""));
        text.push_str(&format!("V,O {place},125 m,50 g,100% wool,\"{cell}\"\n"));
    }
    desk.write("y.csv", &text);
    desk.run(&["import", "yarns", "y.csv"]).success();
    let exported = desk.text(&["export", "yarns"]);
    for line in exported.lines().skip(1) {
        for cell in line.split(',') {
            let start = cell.trim_start_matches(['"', ' ']);
            assert!(
                !start.starts_with(['=', '+', '-', '@', '＝', '\t']),
                "{cell:?}"
            );
        }
    }
    let again = Desk::empty();
    again.write("y.csv", &exported);
    again.run(&["import", "yarns", "y.csv"]).success();
    assert_eq!(again.text(&["export", "yarns"]), exported);
    again.run(&["import", "yarns", "y.csv"]).success();
}

/// An import that reads from a pipe, as bytes are given to it.
struct Piped {
    child: Child,
}

impl Piped {
    fn import(desk: &Desk) -> Self {
        let mut import = desk.command(&["import", "yarns", "-"]);
        let child = import.stdin(Stdio::piped()).spawn().unwrap();
        Self { child }
    }

    /// Whether the bytes were taken; not where the program has stopped reading.
    fn give(&mut self, bytes: &[u8]) -> bool {
        self.child.stdin.as_mut().unwrap().write_all(bytes).is_ok()
    }

    /// The most memory it had so far, in KiB; `None` where it has ended.
    fn peak(&self) -> Option<u64> {
        let status = fs::read_to_string(format!("/proc/{}/status", self.child.id())).ok()?;
        let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
        line.split_whitespace().nth(1)?.parse().ok()
    }

    fn ended(mut self) -> (bool, String) {
        drop(self.child.stdin.take());
        let mut complaint = String::new();
        let mut errors = self.child.stderr.take().unwrap();
        errors.read_to_string(&mut complaint).unwrap();
        (self.child.wait().unwrap().success(), complaint)
    }
}

/// Gives `bytes` bytes of rows through a pipe; gives the peak of memory in KiB,
/// whether it was taken, and what was complained of.
fn streamed(desk: &Desk, bytes: usize, row: impl Fn(usize) -> String) -> (u64, bool, String) {
    let mut import = Piped::import(desk);
    let mut chunk = format!("{HEADER}\n");
    let (mut given, mut number, mut peak) = (0, 0, 0);
    while given < bytes {
        while chunk.len() < 1 << 16 {
            chunk.push_str(&row(number));
            number += 1;
        }
        given += chunk.len();
        if !import.give(chunk.as_bytes()) {
            break;
        }
        chunk.clear();
        peak = peak.max(import.peak().unwrap_or(0));
    }
    let (taken, complaint) = import.ended();
    (peak, taken, complaint)
}

/// 20 MB, or 1 GB in the long profile.
fn big() -> usize {
    match std::env::var_os("UNDERSTUDY_LONG").is_some_and(|value| value == "1") {
        true => 1_000_000_000,
        false => 20_000_000,
    }
}

/// The most memory that an import may take, in KiB, however long the file is.
const MEMORY: u64 = 128 * 1024;

#[cfg(target_os = "linux")]
#[test]
fn a_big_file_is_read_in_little_memory() {
    let desk = Desk::empty();
    let notes = "soft ".repeat(1000);
    let (peak, taken, complaint) = streamed(&desk, big(), |number| {
        format!("Vorrelith,Yarn {number},125 m,50 g,100% wool,{notes}\n")
    });
    assert!(taken, "{complaint:.500}");
    assert!(peak > 1024 && peak < MEMORY, "{peak} KiB");
    desk.run(&["verify"]).success();
}

#[cfg(target_os = "linux")]
#[test]
fn a_big_file_of_bad_rows_is_refused_in_little_memory() {
    let desk = Desk::empty();
    let notes = "x".repeat(2000);
    let (peak, taken, complaint) = streamed(&desk, big(), |number| {
        format!("Vorrelith,Yarn {number},long,50 potatoes,wood,{notes}\n")
    });
    assert!(
        !taken && complaint.contains("rows with faults"),
        "{complaint:.500}"
    );
    assert!(peak > 1024 && peak < MEMORY, "{peak} KiB");
    assert_eq!(yarns_kept(&desk), 0);
}

#[cfg(target_os = "linux")]
#[test]
fn a_row_that_never_ends_stops_the_reading() {
    let desk = Desk::empty();
    let (peak, taken, complaint) = streamed(&desk, big(), |_| "x".repeat(10_000));
    assert!(!taken && complaint.contains("row"), "{complaint:.500}");
    assert!(peak < MEMORY, "{peak} KiB");
}

#[test]
fn a_database_that_another_holds_is_waited_for_and_then_named() {
    let desk = Desk::with_sample();
    let kept = yarns_kept(&desk);
    let mut holder = Piped::import(&desk);
    // The head of a table is read in one piece; behind it writing has begun.
    let row = |number: usize| format!("Vorrelith,Held {number},125 m,50 g,100% wool,\n");
    let rows: String = (0..4000).map(row).collect();
    assert!(holder.give(format!("{HEADER}\n{rows}").as_bytes()));
    desk.write(
        "y.csv",
        format!("{HEADER}\nVorrelith,Other,125 m,50 g,100% wool,\n"),
    );
    let complaint = wait_until_held(&desk);
    assert!(complaint.contains("another"), "{complaint}");
    assert_eq!(yarns_kept(&desk), kept, "readers do not wait");
    let (taken, complaint) = holder.ended();
    assert!(taken, "{complaint}");
    assert_eq!(yarns_kept(&desk), kept + 4000);
    desk.run(&["import", "yarns", "y.csv"]).success();
    assert_eq!(yarns_kept(&desk), kept + 4001);
}

/// Imports until the other process holds the records; gives the complaint.
fn wait_until_held(desk: &Desk) -> String {
    for _ in 0..50 {
        let started = Instant::now();
        let taken = desk.run(&["import", "yarns", "y.csv"]);
        if taken.status != 0 {
            assert!(
                started.elapsed() < Duration::from_secs(30),
                "waits too long"
            );
            return taken.err;
        }
        desk.run(&["yarn", "remove", "Vorrelith, Other"]).success();
    }
    panic!("the other process never held the records");
}

/// Runs as whoever runs the tests; where that is the superuser, who may write
/// everything, as a user who owns nothing, with a copy of the program they can
/// reach.
#[cfg(unix)]
fn run_as_a_guest(desk: &Desk, arguments: &[&str]) -> Outcome {
    use std::os::unix::{fs::PermissionsExt, process::CommandExt};
    const NOBODY: u32 = 65534;
    let program = desk.path("guest");
    fs::copy(PROGRAM, &program).unwrap();
    let mut command = desk.here(program);
    command.args(arguments);
    if fs::OpenOptions::new().write(true).open(desk.db()).is_ok() {
        fs::set_permissions(desk.path(""), fs::Permissions::from_mode(0o755)).unwrap();
        command.uid(NOBODY).gid(NOBODY);
    }
    Outcome::of(&mut command)
}

#[cfg(unix)]
#[test]
fn write_protected_records_are_told_and_not_written() {
    use std::os::unix::fs::PermissionsExt;
    let desk = Desk::with_sample();
    let kept = fs::read(desk.db()).unwrap();
    fs::set_permissions(desk.db(), fs::Permissions::from_mode(0o444)).unwrap();
    desk.write(
        "y.csv",
        format!("{HEADER}\nVorrelith,Other,125 m,50 g,100% wool,\n"),
    );
    run_as_a_guest(&desk, &["import", "yarns", "y.csv"])
        .code(1)
        .stderr("cannot be written");
    // Looking needs no right to write; it was refused once, for want of side files.
    run_as_a_guest(&desk, &["yarn", "list"]).code(0);
    assert_eq!(fs::read(desk.db()).unwrap(), kept);
}

#[test]
fn what_is_no_database_is_named_and_left_alone() {
    let desk = Desk::empty();
    for (name, bytes) in [
        ("short.db", &b"x"[..]),
        ("zeros.db", &[0; 4096]),
        (
            "magic.db",
            b"SQLite format 3\0 and then nothing of the kind follows",
        ),
    ] {
        fs::write(desk.path(name), bytes).unwrap();
        for command in [&["yarn", "list"][..], &["verify"], &["export", "yarns"]] {
            let mut arguments = vec!["--db", name];
            arguments.extend(command);
            let complaint = refused(&desk, &arguments);
            assert!(complaint.contains(name), "{complaint}");
        }
        assert_eq!(fs::read(desk.path(name)).unwrap(), bytes, "{name}");
    }
    fs::create_dir(desk.path("folder.db")).unwrap();
    refused(&desk, &["--db", "folder.db", "yarn", "list"]);
}

#[test]
fn json_is_json_whatever_was_typed() {
    let desk = Desk::empty();
    for text in TRICKS.iter().chain(NAMES).chain(NO_NUMBERS) {
        let report = desk.run(&["read", "--json", "--", text]).success().json();
        assert_eq!(report["text"], Value::from(*text));
    }
}

/// What stands where a file is wanted, and what is said of it.
#[test]
fn folders_missing_files_and_empty_ones_are_told_in_plain_words() {
    let desk = Desk::with_sample();
    fs::create_dir(desk.path("folder")).unwrap();
    desk.write("empty", "");
    for command in [
        &["import", "yarns"][..],
        &["import", "stock"],
        &["import", "swatches"],
        &["import", "table"],
        &["import", "pattern"],
        &["needs"],
        &["lint"],
        &["stock", "count"],
        &["last", "--left", "50 g", "--pieces"],
    ] {
        for (file, words) in [
            ("folder", "it is a folder, and a file is needed"),
            ("nosuch", "there is no such file or folder"),
            ("empty", ""),
        ] {
            let complaint = refused(&desk, &[command, &[file]].concat());
            assert!(complaint.contains(words), "{command:?} {file}: {complaint}");
            assert!(!complaint.contains("os error"), "{complaint}");
        }
    }
    for command in [
        &["export", "yarns"][..],
        &["export", "pattern", "Skerrablet"],
        &["backup"],
    ] {
        let complaint = refused(&desk, &[command, &["nosuch/x.csv"]].concat());
        assert!(
            complaint.contains("there is no such file or folder"),
            "{complaint}"
        );
        assert!(!complaint.contains(".understudy-"), "{complaint}");
    }
    for (option, text, words) in [
        ("--port", "99999", "from 0 to 65535"),
        ("--port", "NaN", "from 0 to 65535"),
        ("--listen", "here", "192.168.1.5:8765"),
    ] {
        let complaint = refused(&desk, &["serve", option, text]);
        assert!(complaint.contains(words), "{complaint}");
        assert!(complaint.contains(text), "{complaint}");
    }
}

/// Every option that takes a number, in a command that is good without it.
#[test]
fn no_option_takes_a_number_that_is_none_or_endless_or_below_zero() {
    let desk = Desk::with_sample();
    let needs = format!("needs {}", sample("weighed.toml"));
    let needs_of_size = format!("{needs} --size M");
    let cases = [
        (
            "find --pattern Skerrablet --size M",
            "--top --max-cost --margin --tolerance --sure --own-use --need",
        ),
        (
            "check --pattern Skerrablet --size M --yarn Drindle",
            "--have --need --own-gauge --sure --own-use --strands --margin --max-cost --tolerance",
        ),
        ("plan Skerrablet:M", "--max-cost --margin --tolerance"),
        (
            "skeins --need 900m --put-up 120m/50g",
            "--margin --price --strands --own-gauge --sure",
        ),
        ("size --gauge 22sts/10cm --stitches 200", "--rows"),
        ("size --gauge 22sts/10cm --rows 30", "--stitches"),
        ("size --stitches 200", "--gauge"),
        (
            "gauge --pattern Skerrablet --own-gauge 21sts/10cm",
            "--have --margin --needle",
        ),
        ("gauge --pattern Skerrablet", "--own-gauge"),
        (
            "last --before 60g --rows 20 --left 50g",
            "--rows-left --tare --keep --put-up --scale --damp",
        ),
        ("last --before 60g --rows 20", "--left"),
        ("last --left 50g --rows 20", "--before --label"),
        (needs.as_str(), "--margin --step"),
        (needs_of_size.as_str(), "--left"),
        (
            "unlabelled --mass 80g --balance 8in",
            "--turns --reel --wraps --over --scale --fine-scale --ruler --tare",
        ),
        ("unlabelled --mass 80g", "--balance --length"),
        ("unlabelled --balance 8in", "--mass"),
        ("swatch add Drindle --needle 4mm", "--before --after"),
        ("swatch add Drindle --before 22sts/10cm", "--needle"),
        ("stock buy Drindle 1", "--price --weighed"),
        (
            "yarn edit Drindle",
            "--length --mass --gauge --needle --price --low",
        ),
        ("stock low", "--"),
        ("stock sell 2900328717698", "--"),
        ("stock reserve 2900328717698 --for Anna", "--"),
        ("convert", "--"),
    ];
    let kept = |desk: &Desk| ["yarns", "stock", "swatches"].map(|of| desk.text(&["export", of]));
    let before = kept(&desk);
    for (command, options) in cases {
        let words: Vec<&str> = command.split(' ').collect();
        for option in options.split(' ') {
            for text in ["NaN", "inf", "-inf", "1e400", "-5", "NaN g", "1e400 m"] {
                let last = match option {
                    "--" => vec!["--".to_owned(), text.to_owned()],
                    option => vec![format!("{option}={text}")],
                };
                let last = last.iter().map(String::as_str);
                let all: Vec<&str> = words.iter().copied().chain(last).collect();
                let complaint = refused(&desk, &all);
                let number = text.split(' ').next().unwrap();
                let names = complaint.contains(option) || complaint.contains(number);
                assert!(names, "{all:?}: {complaint}");
            }
        }
    }
    assert_eq!(kept(&desk), before);
}
