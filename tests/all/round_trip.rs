//! What is exported can be imported again and is the same, through the program.

use assert_cmd::Command;
use std::path::Path;

/// Runs the program on the records of `folder`; what it prints.
fn run(folder: &Path, arguments: &[&str]) -> String {
    let done = Command::cargo_bin("understudy")
        .unwrap()
        .env("UNDERSTUDY_DB", folder.join("records.db"))
        .current_dir(folder)
        .args(arguments)
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{arguments:?}: {told}");
    String::from_utf8(done.stdout).unwrap()
}

fn import(folder: &Path, from: &Path) {
    let file = |name: &str| from.join(name).to_str().unwrap().to_owned();
    run(folder, &["import", "yarns", &file("yarns.csv")]);
    run(folder, &["import", "stock", &file("stock.csv")]);
    let patterns = std::fs::read_dir(from.join("patterns")).unwrap();
    for pattern in patterns {
        let path = pattern.unwrap().path();
        run(folder, &["import", "pattern", path.to_str().unwrap()]);
    }
}

const PATTERNS: [&str; 4] = ["Skerrablet", "Jotterhelm", "Hobplate", "Mirrowhist"];

/// Exports everything into `folder`; all of it as one text.
fn export(folder: &Path) -> String {
    std::fs::create_dir(folder.join("patterns")).unwrap();
    for what in ["yarns", "stock"] {
        run(folder, &["export", what, &format!("{what}.csv")]);
    }
    for name in PATTERNS {
        let file = format!("patterns/{name}.toml");
        run(folder, &["export", "pattern", name, &file]);
    }
    let read = |file: &String| std::fs::read_to_string(folder.join(file)).unwrap();
    let files = ["yarns.csv", "stock.csv"].map(str::to_owned).into_iter();
    let files = files.chain(PATTERNS.map(|name| format!("patterns/{name}.toml")));
    files.collect::<Vec<_>>().iter().map(read).collect()
}

#[test]
fn what_is_exported_imports_again_and_exports_the_same() {
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-stash");
    let (first, second) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    import(first.path(), &sample);
    let once = export(first.path());
    import(second.path(), first.path());
    assert_eq!(once, export(second.path()));
}
