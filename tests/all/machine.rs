//! What the checks need beside Rust and a C compiler, and whether this machine has it.
//!
//! A check that lacks something passes, since no change of ours would mend it. What
//! could not be checked is told by a test at the end of this file, once, with the
//! command that mends it: past the capture of what passing tests print, and by
//! `.config/nextest.toml` where nextest runs them. `tests/run` fetches all of it, leaves
//! out what it could not fetch, and sets `UNDERSTUDY_OUTSIDE=fetched`: the rest must be
//! there.

use crate::desk::root;
use std::{
    io::Write,
    path::PathBuf,
    process::{Command, Stdio},
};

/// Something that a machine may lack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    Browser,
    Python,
    CsvSpectrum,
    PlainPython,
    OwnDisk,
    FullDisk,
    PeakOfMemory,
}

use Need::{Browser, CsvSpectrum, FullDisk, OwnDisk, PeakOfMemory, PlainPython, Python};

/// Where `tests/run` puts what it fetches.
pub fn fetched(path: &str) -> PathBuf {
    root().join("target/outside").join(path)
}

/// Whether a command runs and ends well.
fn runs(line: &str) -> bool {
    let mut words = line.split(' ');
    let mut command = Command::new(words.next().unwrap());
    command.args(words).stdin(Stdio::null());
    command.output().is_ok_and(|output| output.status.success())
}

impl Need {
    const ALL: [Self; 7] = [
        Browser,
        Python,
        CsvSpectrum,
        PlainPython,
        OwnDisk,
        FullDisk,
        PeakOfMemory,
    ];

    /// Whether it is here; of what `tests/run` has fetched nothing may be missing.
    pub fn is_here(self) -> bool {
        let lack = self.lacks();
        let is_promised = matches!(self, Browser | Python | CsvSpectrum)
            && std::env::var_os("UNDERSTUDY_OUTSIDE").is_some();
        assert!(
            lack.is_none() || !is_promised,
            "{} not there",
            lack.unwrap_or_default()
        );
        lack.is_none()
    }

    /// What is missing.
    fn lacks(self) -> Option<String> {
        let file = |path: PathBuf| (!path.exists()).then(|| format!("{} is", path.display()));
        match self {
            Browser => {
                let programs = ["chromium", "chromedriver"];
                let mut missing = programs
                    .iter()
                    .filter(|name| !runs(&format!("{name} --version")));
                match missing.next() {
                    Some(name) => Some(format!("{name} is")),
                    None => file(fetched("node_modules/axe-core/axe.min.js")),
                }
            }
            Python => file(fetched("venv/bin/python")),
            CsvSpectrum => file(fetched("node_modules/csv-spectrum")),
            PlainPython => (!runs("python3 --version")).then(|| "python3 is".into()),
            OwnDisk => (!runs(
                "unshare --user --map-root-user --mount mount -t tmpfs -o size=64k none /mnt",
            ))
            .then(|| "the right to mount a disk of one's own is".into()),
            FullDisk => file("/dev/full".into()),
            PeakOfMemory => file("/proc/self/status".into()),
        }
    }

    /// What is not checked without it.
    const fn checks(self) -> &'static str {
        match self {
            Browser => "the pages in a browser",
            Python => "sums against pint, SciPy, python-stdnum and exact fractions",
            CsvSpectrum => "odd tables against csv-spectrum",
            PlainPython => "the archive of a release",
            OwnDisk => "a full disk and one that cannot be written",
            FullDisk => "an answer that cannot be written",
            PeakOfMemory => "the memory that large files take",
        }
    }

    /// What to do about it.
    const fn mend(self) -> &'static str {
        match self {
            Browser => "UNDERSTUDY_INSTALL=1 tests/run",
            Python | CsvSpectrum => "tests/run",
            PlainPython => "install python3 from the packages of your system",
            OwnDisk if cfg!(target_os = "linux") => {
                "sysctl -w kernel.unprivileged_userns_clone=1, or \
                 kernel.apparmor_restrict_unprivileged_userns=0"
            }
            OwnDisk | FullDisk | PeakOfMemory => "run the tests on Linux",
        }
    }
}

/// Writes where neither the test's capture nor its verdict keeps it back.
#[test]
fn what_this_machine_lacks_is_told() {
    let lacks = Need::ALL.map(|need| (need, need.lacks()));
    let mut errors = std::io::stderr();
    for (need, lack) in lacks {
        if let Some(lack) = lack {
            let (checks, mend) = (need.checks(), need.mend());
            let line =
                format!("not checked: {checks}, because {lack} not there; to mend it: {mend}\n");
            errors.write_all(line.as_bytes()).unwrap();
        }
    }
}

/// What bash 3.2, that of macOS, or a set of tools other than GNU's cannot do, and a
/// word of why.
const NOT_EVERYWHERE: [(&str, &str); 24] = [
    ("declare -A", "bash 4"),
    ("local -A", "bash 4"),
    ("local -n", "bash 4.3"),
    ("declare -n", "bash 4.3"),
    ("mapfile", "bash 4"),
    ("readarray", "bash 4"),
    ("coproc", "bash 4"),
    ("^^}", "bash 4"),
    (",,}", "bash 4"),
    ("@Q}", "bash 4.4"),
    ("&>>", "bash 4"),
    ("|&", "bash 4"),
    (";;&", "bash 4"),
    ("wait -n", "bash 4.3"),
    ("[[ -v", "bash 4.2"),
    ("[-1]}", "bash 4.3"),
    ("EPOCH", "bash 5"),
    ("shopt -s globstar", "bash 4"),
    ("sed -i", "takes a suffix in BSD's"),
    ("readlink -f", "not in older macOS"),
    ("realpath", "not in older macOS"),
    ("timeout ", "not in macOS"),
    ("date -d", "GNU's"),
    ("stat -c", "GNU's"),
];

/// The scripts that a contributor runs.
const SCRIPTS: [&str; 2] = ["tests/run", ".ci/run"];

#[test]
fn the_scripts_keep_to_what_the_bash_of_macos_can_do() {
    for name in SCRIPTS {
        let text = std::fs::read_to_string(root().join(name)).unwrap();
        for (at, line) in text.lines().enumerate() {
            for (word, why) in NOT_EVERYWHERE {
                assert!(!line.contains(word), "{name}:{}: {word}: {why}", at + 1);
            }
            // An array without elements counts as unset before bash 4.4.
            let arrays = line.matches("[@]}").count() - line.matches("${#").count();
            let guarded = line.matches("[@]+").count();
            assert_eq!(arrays, guarded, "{name}:{}: an array may be empty", at + 1);
        }
        assert!(runs(&format!("bash -n {}", root().join(name).display())));
    }
}
