//! What was answered "done" is there, whatever happens meanwhile: programs that
//! are killed, eight that write at once, a disk without room.
//!
//! `UNDERSTUDY_LONG=1 cargo test --test all reliability` kills two hundred
//! times, not twenty, and lets eight programs write for a minute, not for some
//! seconds.

use crate::{
    desk::{Desk, Outcome, PROGRAM},
    machine::Need,
};
use std::{
    fmt::Write as _,
    fs,
    io::Write as _,
    path::Path,
    process::{Child, Output, Stdio},
    thread,
    time::{Duration, Instant},
};

/// How long a program waits for another one that writes, and what it may take
/// beside that on a busy machine.
const LONGEST_WAIT: Duration = Duration::from_secs(5 + 25);

pub fn is_long() -> bool {
    std::env::var_os("UNDERSTUDY_LONG").is_some()
}

/// Numbers that look like chance and are the same every time.
pub struct Chance(pub u64);

impl Chance {
    /// From 0 to `below`, which is not included.
    pub fn below(&mut self, below: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % below
    }
}

/// Records with some yarns, and a lot with plenty of skeins.
fn shelf() -> Desk {
    let shelf = Desk::empty();
    shelf.write("first.csv", table("Quay", 40));
    shelf.text(&["import", "yarns", "first.csv"]);
    shelf.text(&["stock", "buy", "Quay, Dune 0", "9000 skeins"]);
    shelf
}

/// Starts the program and kills it after a while; whether it was done before.
fn kill(shelf: &Desk, arguments: &[&str], after: Duration) -> bool {
    let mut child = shelf.command(arguments).spawn().unwrap();
    thread::sleep(after);
    child.kill().unwrap();
    child.wait().unwrap().success()
}

fn count_of_yarns(shelf: &Desk, maker: &str) -> usize {
    shelf.text(&["export", "yarns"]).matches(maker).count()
}

fn ledger(shelf: &Desk) -> String {
    shelf.text(&["stock", "ledger", "1", "--json"])
}

/// A table of `rows` yarns of one maker.
fn table(maker: &str, rows: usize) -> String {
    let mut text = "maker,name,length,mass,fibre,gauge\n".to_owned();
    for number in 0..rows {
        writeln!(
            text,
            "{maker},Dune {number},{} m,50 g,{}% wool {}% nylon,22 sts / 10 cm",
            100 + number % 90,
            60 + number % 30,
            40 - number % 30,
        )
        .unwrap();
    }
    text
}

/// Kills what each round starts, at a moment within the time that it takes.
struct Rounds {
    shelf: Desk,
    chance: Chance,
    /// Notes of the entries that were answered "done".
    entered: Vec<String>,
    /// Makers whose import was answered "done", and those whose was killed.
    imported: Vec<String>,
}

/// Rows of each import that is killed.
const ROWS: usize = 400;

impl Rounds {
    fn moment(&mut self, longest: u64) -> Duration {
        Duration::from_millis(self.chance.below(longest))
    }

    fn import(&mut self, round: usize) {
        let maker = format!("Mill{round}x");
        let file = format!("{maker}.csv");
        self.shelf.write(&file, table(&maker, ROWS));
        let after = self.moment(250);
        let done = kill(&self.shelf, &["import", "yarns", &file], after);
        let there = count_of_yarns(&self.shelf, &maker);
        assert!(
            there == ROWS || there == 0 && !done,
            "{there} of {ROWS} rows"
        );
        self.imported.extend((there > 0).then_some(maker));
    }

    /// New records are brought from nothing to the newest format.
    fn migration(&mut self, round: usize) {
        let db = self.shelf.path(&format!("new{round}.db"));
        let db = db.to_str().unwrap();
        let after = self.moment(40);
        kill(
            &self.shelf,
            &["--db", db, "import", "yarns", "first.csv"],
            after,
        );
        self.shelf
            .text(&["--db", db, "import", "yarns", "first.csv"]);
        self.shelf.text(&["--db", db, "verify"]);
    }

    fn backup(&mut self, round: usize) {
        let copy = self.shelf.path(&format!("copy{round}.db"));
        let name = copy.to_str().unwrap();
        let after = self.moment(60);
        let done = kill(&self.shelf, &["backup", name], after);
        assert!(copy.exists() || !done);
        if copy.exists() {
            self.shelf.text(&["--db", name, "verify"]);
        }
    }

    fn entries(&mut self, round: usize) {
        for number in 0..3 {
            let note = format!("entry-{round}-{number}-");
            let entry = ["stock", "use", "1", "0.5 skeins", "--for", &note];
            let done = match number {
                2 => {
                    let after = self.moment(50);
                    kill(&self.shelf, &entry, after)
                }
                _ => self.shelf.run(&entry).status == 0,
            };
            self.entered.extend(done.then_some(note));
        }
    }

    /// What changes several records at once, or keeps more than a record.
    fn others(&mut self, round: usize) {
        let (from, into) = (format!("Quay, From {round}"), format!("Quay, Into {round}"));
        for name in ["From", "Into"] {
            let name = format!("{name} {round}");
            let add = [
                "yarn",
                "add",
                "--maker",
                "Quay",
                "--name",
                &name,
                "50 g = 120 m",
            ];
            self.shelf.text(&add);
        }
        self.shelf
            .text(&["stock", "buy", &from, "3 skeins", "--lot", &from]);
        self.shelf
            .text(&["stock", "buy", &into, "5 skeins", "--lot", &into]);
        let count = self
            .shelf
            .write("count.txt", format!("{from} = 2\n{into} = 4\n"));
        let after = self.moment(60);
        let done = kill(&self.shelf, &["stock", "count", &count, "--book"], after);
        let held = |shelf: &Desk, name: &str| {
            let lots = shelf.json(&["stock", "list", name]);
            let lots = lots["rows"].as_array().unwrap().iter();
            let held = lots.map(|lot| lot["held"].as_str().unwrap().to_owned());
            held.collect::<Vec<_>>()
        };
        let both = [held(&self.shelf, &from), held(&self.shelf, &into)];
        let both = both.concat().join(", ");
        let is_whole = both == "2 skeins, 4 skeins" || both == "3 skeins, 5 skeins" && !done;
        assert!(is_whole, "{both}");
        let after = self.moment(60);
        let done = kill(&self.shelf, &["yarn", "merge", &from, &into], after);
        let is_merged = self.shelf.run(&["yarn", "show", &from]).status != 0;
        assert!(is_merged || !done);
        let lots = held(&self.shelf, &into).len();
        assert_eq!(lots, 1 + usize::from(is_merged));
        let name = format!("Unlabelled, ball {round}");
        let keep = [
            "unlabelled",
            "--mass",
            "80 g",
            "--balance",
            "8 in",
            "--keep",
        ];
        let ball = format!("ball {round}");
        let after = self.moment(60);
        let done = kill(&self.shelf, &[&keep[..], &[&ball]].concat(), after);
        let is_there = self.shelf.run(&["yarn", "show", &name]).status == 0;
        assert!(is_there || !done);
        if is_there {
            assert_eq!(held(&self.shelf, &name), ["80 g"]);
        }
    }

    fn look_over(&self) {
        self.shelf.text(&["verify"]);
        let ledger = ledger(&self.shelf);
        for note in &self.entered {
            assert_eq!(ledger.matches(note).count(), 1, "{note}");
        }
        let kept = self.shelf.text(&["export", "yarns"]);
        for maker in &self.imported {
            assert_eq!(kept.matches(maker).count(), ROWS, "{maker}");
        }
    }
}

/// Rounds after which new records are begun, so that looking them over stays
/// short.
const ROUNDS: usize = 20;

fn twenty_rounds(first: usize, seed: u64) {
    let mut rounds = Rounds {
        shelf: shelf(),
        chance: Chance(seed),
        entered: Vec::new(),
        imported: Vec::new(),
    };
    for round in first..first + ROUNDS {
        match round % 5 {
            0 => rounds.import(round),
            4 => rounds.others(round),
            1 => rounds.migration(round),
            2 => rounds.backup(round),
            _ => rounds.entries(round),
        }
        rounds.shelf.text(&["verify"]);
    }
    rounds.look_over();
    assert!(rounds.entered.len() >= 8, "nearly nothing was entered");
}

#[test]
fn nothing_is_lost_or_halved_when_the_program_is_killed() {
    let times = if is_long() { 10 } else { 1 };
    for time in 0..times {
        twenty_rounds(time * ROUNDS, 0x5eed_0004 + time as u64);
    }
}

/// Rows of an import whose indexes are built at its end.
const MANY: usize = 10_500;

#[test]
fn a_large_import_and_its_undo_are_whole_or_not_made_when_they_are_killed() {
    let shelf = shelf();
    shelf.write("many.csv", table("Loom", MANY));
    let import = ["import", "yarns", "many.csv"];
    let mut chance = Chance(0x5eed_0012);
    for _ in 0..if is_long() { 40 } else { 2 } {
        for (work, longest, before) in [(&import[..], 2500, 0), (&["undo"][..], 1200, MANY)] {
            let after = Duration::from_millis(chance.below(longest));
            let done = kill(&shelf, work, after);
            let there = count_of_yarns(&shelf, "Loom");
            let is_whole = there == MANY - before || there == before && !done;
            assert!(is_whole, "{work:?}: {there} of {MANY} after {after:?}");
            shelf.text(&["verify"]);
            if there == before {
                shelf.text(work);
            }
        }
        assert_eq!(count_of_yarns(&shelf, "Loom"), 0);
    }
}

/// What one of several writers was answered.
struct Answered {
    note: String,
    done: bool,
    told: String,
    took: Duration,
}

fn write_for(shelf: &Desk, writer: usize, time: Duration) -> Vec<Answered> {
    let start = Instant::now();
    let mut answers = Vec::new();
    for number in 0.. {
        if start.elapsed() > time {
            break;
        }
        let note = format!("writer-{writer}-{number}-");
        let began = Instant::now();
        let output = shelf.run(&["stock", "use", "1", "0.001 skeins", "--for", &note]);
        answers.push(Answered {
            note,
            done: output.status == 0,
            told: output.err,
            took: began.elapsed(),
        });
    }
    answers
}

#[test]
fn of_what_eight_write_at_once_nothing_is_lost_or_doubled() {
    let shelf = shelf();
    let time = Duration::from_secs(if is_long() { 60 } else { 5 });
    let answers: Vec<Answered> = thread::scope(|scope| {
        let writers: Vec<_> = (0..8)
            .map(|writer| {
                scope.spawn({
                    let shelf = &shelf;
                    move || write_for(shelf, writer, time)
                })
            })
            .collect();
        let each = writers.into_iter().map(|writer| writer.join().unwrap());
        each.flatten().collect()
    });
    let ledger = ledger(&shelf);
    for answered in &answers {
        let times = ledger.matches(&answered.note).count();
        assert_eq!(times, usize::from(answered.done), "{}", answered.note);
        assert!(answered.took < LONGEST_WAIT, "{:?}", answered.took);
        assert!(
            answered.done || says_that_another_writes(&answered.told),
            "{}",
            answered.told
        );
    }
    let done = answers.iter().filter(|answered| answered.done).count();
    assert!(done >= 8, "only {done} of {} entries", answers.len());
    shelf.text(&["verify"]);
}

fn says_that_another_writes(told: &str) -> bool {
    told.contains("is being written by another program; try again")
}

/// An import that has begun and waits for more rows.
fn begun_import(shelf: &Desk) -> Child {
    let mut child = shelf
        .command(&["import", "yarns", "-"])
        .stdin(Stdio::piped())
        .spawn()
        .unwrap();
    let rows = table("Loom", 20_000);
    let half = rows.len() / 2;
    let stdin = child.stdin.as_mut().unwrap();
    stdin.write_all(&rows.as_bytes()[..half]).unwrap();
    stdin.flush().unwrap();
    child
}

#[test]
fn an_import_keeps_nobody_from_asking_and_shows_nothing_before_its_end() {
    let shelf = shelf();
    let mut import = begun_import(&shelf);
    let began = Instant::now();
    assert_eq!(count_of_yarns(&shelf, "Quay"), 40);
    assert_eq!(count_of_yarns(&shelf, "Loom"), 0);
    shelf.text(&["find", "--wants", "250 m/100 g, 22 sts / 10 cm"]);
    assert!(began.elapsed() < LONGEST_WAIT, "{:?}", began.elapsed());
    let late = shelf.run(&["stock", "use", "1", "1 skein"]);
    assert!(says_that_another_writes(&late.err), "{}", late.err);
    let rows = table("Loom", 20_000);
    let mut stdin = import.stdin.take().unwrap();
    stdin.write_all(&rows.as_bytes()[rows.len() / 2..]).unwrap();
    drop(stdin);
    assert!(import.wait_with_output().unwrap().status.success());
    assert_eq!(count_of_yarns(&shelf, "Loom"), 20_000);
}

#[test]
fn two_questions_at_once_do_not_wait_for_each_other() {
    let shelf = shelf();
    let ask = ["find", "--wants", "250 m/100 g, 22 sts / 10 cm"];
    let asked: Vec<Child> = (0..4)
        .map(|_| shelf.command(&ask).spawn().unwrap())
        .collect();
    for child in asked {
        let output = child.wait_with_output().unwrap();
        assert!(output.status.success());
    }
}

/// Imports in a shell in which no file may grow beyond so many blocks of 512
/// bytes; what it is told.
fn with_files_up_to(blocks: u32, shelf: &Desk) -> Outcome {
    let line = format!("trap '' XFSZ; ulimit -f {blocks}; exec '{PROGRAM}' import yarns big.csv");
    Outcome::of(shelf.here("sh").args(["-c", &line]))
}

#[test]
fn a_disk_that_refuses_in_the_middle_of_an_import_loses_nothing() {
    let shelf = shelf();
    shelf.write("big.csv", table("Loom", 4000));
    let size = fs::metadata(shelf.path("records.db")).unwrap().len();
    let blocks = u32::try_from(size / 512 + 400).unwrap();
    let output = with_files_up_to(blocks, &shelf);
    let told = output.err;
    assert!(output.status != 0);
    assert!(
        told.contains("the disk refused") || told.contains("no room left"),
        "{told}"
    );
    shelf.text(&["verify"]);
    assert_eq!(count_of_yarns(&shelf, "Quay"), 40);
    assert_eq!(count_of_yarns(&shelf, "Loom"), 0);
    shelf.text(&["import", "yarns", "big.csv"]);
}

/// A disk of 1.5 MiB, where the system lets us mount one for ourselves.
fn on_a_small_disk(shelf: &Desk, at: &Path) -> Option<Output> {
    let (at, table) = (at.display(), shelf.path("big.csv"));
    let first = shelf.path("first.csv");
    let line = format!(
        "mount -t tmpfs -o size=1536k none '{at}' || exit 99; cd '{at}'; \
         '{PROGRAM}' --db r.db import yarns '{}' || exit 98; \
         '{PROGRAM}' --db r.db import yarns '{}'; status=$?; \
         '{PROGRAM}' --db r.db verify >&2 || exit 97; exit $status",
        first.display(),
        table.display(),
    );
    let output = shelf
        .here("unshare")
        .args(["--user", "--map-root-user", "--mount", "sh", "-c", &line])
        .output()
        .ok()?;
    let told = String::from_utf8_lossy(&output.stderr);
    let refused = output.status.code() == Some(99) || told.contains("unshare");
    (!refused).then_some(output)
}

#[test]
fn a_full_disk_is_told_as_such() {
    let shelf = shelf();
    shelf.write("big.csv", table("Loom", 8000));
    let at = shelf.path("disk");
    fs::create_dir(&at).unwrap();
    match on_a_small_disk(&shelf, &at) {
        None => assert!(!Need::OwnDisk.is_here()),
        Some(output) => {
            let told = String::from_utf8(output.stderr).unwrap();
            assert_eq!(output.status.code(), Some(1), "{told}");
            assert!(told.contains("there is no room left for"), "{told}");
        }
    }
}
