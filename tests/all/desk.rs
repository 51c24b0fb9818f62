//! The program as a person or a script starts it: a folder with records of its
//! own, what is asked there and what is answered.

use serde_json::Value;
use std::{
    fs,
    io::{BufRead, BufReader},
    os::unix::process::CommandExt,
    path::{Path, PathBuf},
    process::{Child, Command, Stdio},
};
use tempfile::TempDir;

/// The program that was built for these tests.
pub const PROGRAM: &str = env!("CARGO_BIN_EXE_understudy");

/// The folder of the sources.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// A file of the sample stash, as an argument.
pub fn sample(name: &str) -> String {
    let file = root().join("sample-stash").join(name);
    file.display().to_string()
}

/// A folder with records of its own.
pub struct Desk {
    folder: TempDir,
}

impl Desk {
    pub fn empty() -> Self {
        Self {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    /// With the sample stash taken in.
    pub fn with_sample() -> Self {
        let desk = Self::empty();
        desk.text(&["import", "yarns", &sample("yarns.csv")]);
        desk.text(&["import", "stock", &sample("stock.csv")]);
        let patterns = ["skerrablet", "jotterhelm", "mirrowhist", "hobplate"]
            .map(|name| sample(&format!("patterns/{name}.toml")));
        let mut arguments = vec!["import", "pattern"];
        arguments.extend(patterns.iter().map(String::as_str));
        desk.text(&arguments);
        desk
    }

    pub fn db(&self) -> PathBuf {
        self.path("records.db")
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Writes a file, and gives its path as an argument.
    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) -> String {
        fs::write(self.path(name), text).unwrap();
        self.path(name).display().to_string()
    }

    /// Any command in this folder, on these records.
    pub fn here(&self, program: impl AsRef<Path>) -> Command {
        let mut command = Command::new(program.as_ref());
        command
            .current_dir(self.folder.path())
            .env("UNDERSTUDY_DB", self.db())
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped());
        command
    }

    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = self.here(PROGRAM);
        command.args(arguments);
        command
    }

    pub fn run(&self, arguments: &[&str]) -> Outcome {
        Outcome::of(&mut self.command(arguments))
    }

    /// What is printed, where all went well.
    pub fn text(&self, arguments: &[&str]) -> String {
        self.run(arguments).success().out
    }

    pub fn json(&self, arguments: &[&str]) -> Value {
        self.run(&[arguments, &["--json"]].concat())
            .success()
            .json()
    }

    /// The pages of these records, on a port that is free, and their address.
    pub fn serve(&self, arguments: &[&str]) -> (Running, String) {
        let mut serve = self.command(&["serve"]);
        let (running, line) = Running::start(serve.args(arguments), "Open http");
        (running, line.split(' ').nth(1).unwrap().to_owned())
    }
}

/// The answer, in JSON, to a person who has no records yet.
pub fn ask(arguments: &[&str]) -> Value {
    Desk::empty().json(arguments)
}

pub fn as_number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}

/// The fields of an answer, as programs get them.
pub fn fields(answer: &impl understudy::report::Render) -> Value {
    understudy::report::fields(answer).unwrap()
}

/// The number at a JSON pointer.
pub fn number(answer: &Value, pointer: &str) -> f64 {
    let found = answer.pointer(pointer).and_then(Value::as_f64);
    found.unwrap_or_else(|| panic!("no number at {pointer} in {answer:#}"))
}

/// How the program ended and what it said.
pub struct Outcome {
    pub status: i32,
    pub out: String,
    pub err: String,
    asked: String,
}

impl Outcome {
    pub fn of(command: &mut Command) -> Self {
        let done = command.output().unwrap();
        let out = String::from_utf8(done.stdout).unwrap();
        let arguments = command
            .get_args()
            .map(|it| it.to_string_lossy().into_owned());
        crate::schema::check(&arguments.collect::<Vec<_>>(), &out);
        Self {
            status: done.status.code().unwrap(),
            out,
            err: String::from_utf8(done.stderr).unwrap(),
            asked: format!("{:?}", command.get_args().collect::<Vec<_>>()),
        }
    }

    pub fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap()
    }

    #[track_caller]
    pub fn success(self) -> Self {
        self.code(0)
    }

    #[track_caller]
    pub fn code(self, expected: i32) -> Self {
        assert_eq!(self.status, expected, "{}: {}", self.asked, self.err);
        self
    }

    /// Something that it must have said.
    #[track_caller]
    pub fn stdout(self, part: &str) -> Self {
        assert!(self.out.contains(part), "{}: {}", self.asked, self.out);
        self
    }

    /// Something that it must have complained of.
    #[track_caller]
    pub fn stderr(self, part: &str) -> Self {
        assert!(self.err.contains(part), "{}: {}", self.asked, self.err);
        self
    }
}

/// A process that ends with its test, and those that it started: a driver that
/// is killed alone would leave its browser behind.
pub struct Running(pub Child);

impl Running {
    /// Starts a program and waits for the line that tells where it listens.
    pub fn start(command: &mut Command, tells: &str) -> (Self, String) {
        let mut child = command
            .process_group(0)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let out = BufReader::new(child.stdout.take().unwrap());
        let running = Self(child);
        let line = out
            .lines()
            .map(Result::unwrap)
            .find(|line| line.contains(tells))
            .unwrap();
        (running, line)
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // They may have ended by themselves.
        let group = format!("-{}", self.0.id());
        let mut kill = Command::new("kill");
        kill.args(["-KILL", "--", &group]).stderr(Stdio::null());
        drop(kill.status());
        drop(self.0.kill());
        drop(self.0.wait());
    }
}
