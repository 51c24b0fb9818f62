//! The archive of a release: made of the program of these tests, unpacked where nothing
//! else is, and used there.

use crate::{
    desk::{Desk, PROGRAM, root},
    machine::Need,
};
use std::{
    fs,
    path::{Path, PathBuf},
    process::{Command, Output},
};

/// Runs a command and gives what it prints, where it ends well.
fn done(command: &mut Command) -> String {
    let Output {
        status,
        stdout,
        stderr,
    } = command.output().unwrap();
    let complaint = String::from_utf8_lossy(&stderr);
    assert!(status.success(), "{command:?}: {complaint}");
    String::from_utf8(stdout).unwrap()
}

/// Makes the archive of a program; its path and that of its checksum.
fn archive(program: &Path, to: &Path) -> (PathBuf, PathBuf) {
    let mut make = Command::new("python3");
    make.arg(root().join(".ci/archive"));
    make.arg("--program").arg(program).arg("--to").arg(to);
    done(make.env("CARGO_NET_OFFLINE", "true"));
    let entries = fs::read_dir(to).unwrap().map(|entry| entry.unwrap().path());
    let mut paths: Vec<PathBuf> = entries.collect();
    paths.sort();
    match <[PathBuf; 2]>::try_from(paths) {
        Ok([archive, checksum]) => (archive, checksum),
        Err(others) => panic!("{others:?}"),
    }
}

/// The folder that an archive is unpacked into, alone in `at`.
fn unpacked(archive: &Path, at: &Path) -> PathBuf {
    fs::create_dir(at).unwrap();
    done(Command::new("tar").arg("xzf").arg(archive).current_dir(at));
    let mut entries = fs::read_dir(at).unwrap();
    let folder = entries.next().unwrap().unwrap().path();
    assert!(entries.next().is_none(), "more than one folder");
    folder
}

/// A command of the unpacked program, which sees no environment.
fn alone(folder: &Path, arguments: &[&str]) -> String {
    let mut command = Command::new(folder.join("understudy"));
    command.env_clear().current_dir(folder).args(arguments);
    done(&mut command)
}

/// Every file with its sum, as Python computes it.
fn sums(folder: &Path) -> String {
    let script = "
import hashlib, pathlib
paths = {str(path): path for path in pathlib.Path().rglob('*') if path.is_file()}
for name in sorted(paths):
    if name != 'SHA256SUMS':
        print(f'{hashlib.sha256(paths[name].read_bytes()).hexdigest()}  {name}')
";
    let mut python = Command::new("python3");
    done(python.args(["-c", script]).current_dir(folder))
}

#[test]
fn an_archive_of_a_release_works_in_an_empty_place() {
    if !Need::PlainPython.is_here() {
        return;
    }
    let desk = Desk::empty();
    let (archive, checksum) = archive(Path::new(PROGRAM), &desk.path("made"));
    let folder = unpacked(&archive, &desk.path("there"));

    let version = format!("understudy {}", env!("CARGO_PKG_VERSION"));
    let name = folder.file_name().unwrap().to_str().unwrap();
    let begins = format!("{}-", version.replace(' ', "-"));
    assert!(name.starts_with(&begins), "{name}");
    assert!(alone(&folder, &["--version"]).starts_with(&version));
    let demo = alone(&folder, &["demo"]);
    assert!(demo.contains("Hathrel DK") && demo.contains("understudy serve"));
    let table = "sample-stash/yarns.csv";
    alone(&folder, &["--db", "own.db", "import", "yarns", table]);
    assert!(alone(&folder, &["--db", "own.db", "verify"]).contains("61"));
    for file in ["own.db", "own.db.day", "own.db.month"] {
        let entries = fs::read_dir(&folder).unwrap().map(Result::unwrap);
        let mine = entries.filter(|entry| entry.file_name().to_str().unwrap().starts_with(file));
        mine.for_each(|entry| fs::remove_file(entry.path()).unwrap());
    }

    assert_eq!(
        fs::read_to_string(folder.join("SHA256SUMS")).unwrap(),
        sums(&folder)
    );
    let told = fs::read_to_string(checksum).unwrap();
    assert!(told.ends_with(&format!("  {name}.tar.gz\n")), "{told}");
    for file in [
        "man/understudy.1",
        "man/understudy-check.1",
        "completions/understudy.bash",
        "completions/_understudy",
        "completions/understudy.fish",
        "CHANGELOG.md",
        "docs/tour.md",
        "LICENSE",
    ] {
        assert!(folder.join(file).exists(), "{file}");
    }
}

/// What is linked into the program is named with its licence, what only tests use is not.
#[test]
fn an_archive_is_the_same_when_it_is_made_again_and_names_the_licences_inside() {
    if !Need::PlainPython.is_here() {
        return;
    }
    let desk = Desk::empty();
    // The program itself is large, and packed again for the other test.
    let small = desk.write("small", format!("#!/bin/sh\nexec '{PROGRAM}' \"$@\"\n"));
    done(Command::new("chmod").args(["755", &small]));
    let [once, again] = ["once", "again"].map(|to| archive(Path::new(&small), &desk.path(to)).0);
    assert!(fs::read(&once).unwrap() == fs::read(again).unwrap());

    let folder = unpacked(&once, &desk.path("there"));
    let licences = fs::read_to_string(folder.join("LICENCES-OF-LIBRARIES.txt")).unwrap();
    let manifest = fs::read_to_string(root().join("Cargo.toml")).unwrap();
    let table = |name: &str| -> Vec<String> {
        let lines = manifest.lines().skip_while(|line| *line != name);
        let lines = lines.skip(1).take_while(|line| !line.is_empty());
        let words = lines.map(|line| line.split(' ').next().unwrap().to_owned());
        words.collect()
    };
    let is_named = |name: &String| licences.contains(&format!("\n{name} "));
    let (inside, outside): (Vec<String>, Vec<String>) =
        table("[dependencies]").into_iter().partition(is_named);
    assert!(inside.len() > 30 && outside.is_empty(), "{outside:?}");
    for name in ["proptest", "fantoccini", "divan"].map(String::from) {
        assert!(table("[dev-dependencies]").contains(&name));
        assert!(!is_named(&name), "{name}");
    }
    assert!(licences.contains("Permission is hereby granted"));
    assert!(licences.contains("SQLite"));
}
