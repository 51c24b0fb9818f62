//! Tells the program its version: with the commit where an optimised program is built
//! from its own repository, else the number alone.
//!
//! A program for developing is not told: it would be built anew after each commit.

#![allow(
    clippy::print_stdout,
    reason = "cargo reads what a build script prints"
)]

use std::{env, fs, path::Path, process::Command};

/// What the program is made of.
const SOURCES: [&str; 6] = [
    "src",
    "migrations",
    "sample-stash",
    "docs",
    "Cargo.toml",
    "Cargo.lock",
];

/// What `git` answers in the folder of the sources, where all goes well.
fn git(arguments: &[&str]) -> Option<String> {
    let done = Command::new("git").args(arguments).output().ok()?;
    let text = String::from_utf8(done.stdout).ok()?;
    done.status.success().then(|| text.trim().to_owned())
}

/// Whether this folder is the repository itself, and not unpacked in another one.
fn is_own_repository() -> bool {
    let top = git(&["rev-parse", "--show-toplevel"]).and_then(|top| fs::canonicalize(top).ok());
    top.is_some() && top == fs::canonicalize(".").ok()
}

/// The commit, with a word where the sources differ from it.
fn commit() -> Option<String> {
    let commit = git(&["rev-parse", "--short=10", "HEAD"])?;
    let same = git(&[&["diff", "--quiet", "HEAD", "--"], &SOURCES[..]].concat());
    Some(
        commit
            + if same.is_some() {
                ""
            } else {
                ", changed since"
            },
    )
}

/// The files that say which commit it is.
fn watch() {
    let branch = git(&["symbolic-ref", "-q", "HEAD"]);
    let names = ["HEAD", "packed-refs"].into_iter().chain(branch.as_deref());
    for path in names.filter_map(|name| git(&["rev-parse", "--git-path", name])) {
        if Path::new(&path).exists() {
            println!("cargo::rerun-if-changed={path}");
        }
    }
    for path in SOURCES {
        println!("cargo::rerun-if-changed={path}");
    }
}

fn main() {
    println!("cargo::rerun-if-changed=src/build.rs");
    let mut version = env::var("CARGO_PKG_VERSION").unwrap_or_default();
    if env::var("PROFILE").is_ok_and(|profile| profile == "release") && is_own_repository() {
        watch();
        if let Some(commit) = commit() {
            version.push_str(&format!(" ({commit})"));
        }
    }
    println!("cargo::rustc-env=UNDERSTUDY_VERSION={version}");
}
