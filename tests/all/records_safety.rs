//! Years of records are safe from outputs, from planted links, from restores that are
//! none, from readers who may not write, and from the eyes of others.

use crate::{
    desk::{Desk, Outcome, PROGRAM, root},
    machine::Need,
};
use std::{
    fs,
    os::unix::fs::{PermissionsExt, symlink},
    path::Path,
    process::Command,
};

fn mode(path: &Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

fn names(desk: &Desk) -> Vec<String> {
    let entries = fs::read_dir(desk.path(".")).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

fn refused(desk: &Desk, arguments: &[&str], why: &str) {
    desk.run(arguments).code(1).stderr(why);
}

/// Runs on the file as its own records.
fn verify(desk: &Desk, db: &str) -> Outcome {
    desk.run(&["--db", db, "verify"])
}

#[test]
fn no_output_is_written_over_records_or_what_belongs_to_them() {
    let desk = Desk::with_sample();
    symlink(desk.db(), desk.path("link.csv")).unwrap();
    fs::hard_link(desk.db(), desk.path("twin.csv")).unwrap();
    let before = fs::read(desk.db()).unwrap();
    let samples = root().join("sample-stash/weighed.toml");
    let samples = samples.to_str().unwrap();
    for name in [
        "records.db",
        "link.csv",
        "twin.csv",
        "records.db-wal",
        "records.db-shm",
        "records.db-journal",
    ] {
        let why = "holds records or belongs to a file that does";
        refused(&desk, &["export", "yarns", name, "--replace"], why);
        refused(
            &desk,
            &[
                "needs",
                samples,
                "--purpose",
                "garment",
                "--fit",
                "relaxed",
                "--pattern",
                name,
                "--replace",
            ],
            why,
        );
    }
    assert_eq!(fs::read(desk.db()).unwrap(), before);
    desk.text(&["verify"]);
}

#[test]
fn a_refused_restore_changes_nothing_and_makes_no_empty_file() {
    let desk = Desk::with_sample();
    desk.text(&["backup", "b.db"]);
    raw(
        &desk,
        "b.db",
        "UPDATE yarn SET name_key = 'other' WHERE id = 1",
    );
    let before = names(&desk);
    for from in ["b.db", "none.db"] {
        desk.run(&["--db", "new.db", "restore", from]).code(1);
        desk.run(&["restore", from]).code(1);
    }
    assert_eq!(names(&desk), before);
    verify(&desk, "b.db")
        .code(1)
        .stdout("is not found by its name");
}

/// Alters a file as another program would.
fn raw(desk: &Desk, file: &str, sql: &str) {
    let script =
        "import sqlite3, sys\nc = sqlite3.connect(sys.argv[1])\nc.executescript(sys.argv[2])";
    let path = desk.path(file);
    let done = Command::new("python3")
        .args(["-c", script, path.to_str().unwrap(), sql])
        .status()
        .unwrap();
    assert!(done.success());
}

#[test]
fn verifying_a_backup_leaves_it_as_it_is() {
    let desk = Desk::with_sample();
    desk.text(&["backup", "b.db"]);
    let before = (fs::read(desk.path("b.db")).unwrap(), names(&desk));
    verify(&desk, "b.db").code(0);
    assert_eq!((fs::read(desk.path("b.db")).unwrap(), names(&desk)), before);
}

fn of_kind(desk: &Desk, kind: &str) -> usize {
    names(desk)
        .iter()
        .filter(|name| name.contains(kind))
        .count()
}

#[test]
fn the_first_change_of_a_day_is_followed_by_one_backup_unless_left_out() {
    let desk = Desk::empty();
    desk.write("y.csv", "maker,name,length,mass\nQuay,Dune,125 m,50 g\n");
    desk.text(&["--no-backup", "import", "yarns", "y.csv"]);
    assert_eq!((of_kind(&desk, ".day-"), of_kind(&desk, ".month-")), (0, 0));
    for _ in 0..2 {
        desk.text(&["stock", "buy", "Quay, Dune", "2 skeins"]);
    }
    assert_eq!((of_kind(&desk, ".day-"), of_kind(&desk, ".month-")), (1, 1));
    let day = names(&desk).into_iter().find(|name| name.contains(".day-"));
    verify(&desk, &day.unwrap()).code(0);
}

#[test]
fn records_backups_and_passcode_are_for_their_owner_alone() {
    let desk = Desk::with_sample();
    desk.text(&["backup", "b.db"]);
    fs::write(desk.path("records.db.passcode"), "old").unwrap();
    let mut set = desk.here("sh");
    let line = format!("echo 'seven quiet herons' | '{PROGRAM}' serve --set-passcode");
    Outcome::of(set.args(["-c", &line])).success();
    for name in names(&desk) {
        assert_eq!(mode(&desk.path(&name)), 0o600, "{name}");
    }
    fs::write(desk.path("kept.csv"), "").unwrap();
    fs::set_permissions(desk.path("kept.csv"), fs::Permissions::from_mode(0o640)).unwrap();
    desk.text(&["export", "yarns", "kept.csv", "--replace"]);
    assert_eq!(mode(&desk.path("kept.csv")), 0o640);
}

#[test]
fn pipes_and_folders_are_refused_at_once_wherever_a_file_is_named() {
    let desk = Desk::with_sample();
    let made = Command::new("mkfifo").arg(desk.path("pipe")).status();
    assert!(made.unwrap().success());
    fs::create_dir(desk.path("folder")).unwrap();
    let ask: [&[&str]; 8] = [
        &["import", "yarns"],
        &["import", "pattern"],
        &["needs"],
        &["lint"],
        &["restore"],
        &["export", "yarns", "--replace"],
        &["backup"],
        &["verify", "--db"],
    ];
    for (name, why) in [
        ("pipe", "it is a pipe or a device"),
        ("folder", "it is a folder"),
    ] {
        for ask in ask {
            let told = desk.run(&[ask, &[name]].concat()).code(1).err;
            let exists = ask == ["backup"] && told.contains("exists already");
            assert!(exists || told.contains(why), "{ask:?} {name}: {told}");
        }
    }
    refused(
        &desk,
        &["import", "yarns", "/dev/null"],
        "it is a pipe or a device",
    );
    refused(
        &desk,
        &["export", "yarns", "/dev/null", "--replace"],
        "it is a pipe or a device",
    );
}

#[test]
fn what_a_killed_run_left_is_swept_at_the_next_start() {
    let desk = Desk::with_sample();
    desk.write(".understudy-abcdefghijkl", "half");
    desk.write(".understudy-abcdefghijkl-wal", "half");
    std::thread::sleep(std::time::Duration::from_millis(2100));
    desk.text(&["yarn", "list"]);
    assert_eq!(of_kind(&desk, ".understudy-"), 0);
}

/// Runs `line` in a shell that sees `shelf` on a disk that allows no writing, with
/// its records at `$UNDERSTUDY_DB`; `None` where the system lets us mount none.
fn on_a_read_only_disk(desk: &Desk, line: &str) -> Option<Outcome> {
    let shelf = desk.path("shelf");
    let line = format!(
        "mount --bind '{0}' '{0}' && mount -o remount,ro,bind '{0}' || exit 99; {line}",
        shelf.display()
    );
    let mut command = desk.here("unshare");
    command
        .env("UNDERSTUDY_DB", shelf.join("records.db"))
        .args(["--user", "--map-root-user", "--mount", "sh", "-c", &line]);
    let done = command.output().ok()?;
    let told = String::from_utf8_lossy(&done.stderr);
    if done.status.code() == Some(99) || told.contains("unshare:") {
        return None;
    }
    Some(Outcome::of(&mut command))
}

#[test]
fn records_on_a_read_only_disk_are_listed_searched_exported_backed_up_and_verified() {
    let desk = Desk::with_sample();
    let shelf = desk.path("shelf");
    fs::create_dir(&shelf).unwrap();
    fs::copy(desk.db(), shelf.join("records.db")).unwrap();
    let before = fs::read(shelf.join("records.db")).unwrap();
    let asked = [
        "yarn list",
        "yarn list umberlin",
        "find --pattern Skerrablet --from stash",
        "export yarns",
        "backup copy-$$.db",
        "verify",
    ]
    .map(|ask| format!("'{PROGRAM}' {ask} >/dev/null || exit 3; "));
    let change = format!("'{PROGRAM}' yarn remove umberlin; test $? = 1 || exit 4");
    match on_a_read_only_disk(&desk, &(asked.concat() + &change)) {
        None => assert!(!Need::OwnDisk.is_here()),
        Some(done) => {
            done.success().stderr("cannot be written");
        }
    }
    assert_eq!(fs::read(shelf.join("records.db")).unwrap(), before);
    assert_eq!(fs::read_dir(&shelf).unwrap().count(), 1);
}
