//! `import`

use crate::{
    app::{self, TableKind},
    cli::{
        arguments::Once,
        db::Db,
        output::{Failure, Output, progress_bar},
    },
};
use clap::{Args, Subcommand, builder::NonEmptyStringValueParser};
use std::{
    io::{self, BufReader, Read},
    path::{Path, PathBuf},
};

/// Import yarns, your stash, swatches, projects, reservations or patterns; a file with faults changes nothing
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    what: Action,
}

#[derive(Debug, Subcommand)]
enum Action {
    /// Import yarns from tables (CSV, or workbooks with the same columns)
    Yarns(Files),
    /// Import your stash from tables (CSV or .xlsx); import its yarns first
    Stock(Files),
    /// Import swatches from tables (CSV or .xlsx); import their yarns first
    Swatches {
        /// Files to read; `-` is standard input
        #[arg(value_name = "FILE", required = true)]
        files: Vec<PathBuf>,
        #[command(flatten)]
        once: Once,
    },
    /// Import projects from tables (CSV or .xlsx), the one that matters most first
    Projects(Files),
    /// Import what is reserved from tables (CSV or .xlsx); import its stock first
    Reservations(Files),
    /// Import yarns and your stash from any table (CSV, .xlsx, .ods), whatever its columns are called
    ///
    /// Shows how the table is read and what would change. With --yes it is imported.
    Table(AnyTable),
    /// List what you said about tables under a name (--layout), or remove one
    Layouts {
        /// Remove the layout of this name
        #[arg(long, value_name = "NAME")]
        remove: Option<String>,
        #[command(flatten)]
        once: Once,
    },
    /// Import patterns from pattern files (TOML)
    Pattern(Files),
}

#[derive(Debug, Args)]
struct Files {
    /// Files to read; `-` is standard input
    #[arg(value_name = "FILE", required = true)]
    files: Vec<PathBuf>,
    /// Replace records that differ from the file
    #[arg(long)]
    update: bool,
    #[command(flatten)]
    once: Once,
}

#[derive(Debug, Args)]
struct AnyTable {
    /// The table; `-` is standard input
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    request: app::TableRequest,
    /// Name of a layout: what you say here is remembered under it, and used the next time
    #[arg(long, value_name = "NAME", value_parser = NonEmptyStringValueParser::new())]
    layout: Option<String>,
    /// Replace what differs in records that you have
    #[arg(long)]
    update: bool,
    /// Import it; without this nothing is changed
    #[arg(long)]
    yes: bool,
    #[command(flatten)]
    once: Once,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    match arguments.what {
        Action::Yarns(files) => tables(TableKind::Yarns, files, db, output),
        Action::Stock(files) => tables(TableKind::Stock, files, db, output),
        Action::Swatches { files, once } => {
            let update = false;
            let files = Files {
                files,
                update,
                once,
            };
            tables(TableKind::Swatches, files, db, output)
        }
        Action::Projects(files) => tables(TableKind::Projects, files, db, output),
        Action::Reservations(files) => tables(TableKind::Reservations, files, db, output),
        Action::Table(table) => any_table(table, db, output),
        Action::Layouts { remove, once } => match remove {
            None => output.answer(&app::list_layouts(&db.if_there()?)?),
            Some(name) => {
                let mut records = db.existing()?.once(once.text);
                output.change(&app::forget_layout(&mut records, &name)?)
            }
        },
        Action::Pattern(files) => patterns(files, db, output),
    }
}

fn tables(kind: TableKind, files: Files, db: &Db, output: &Output) -> Result<(), Failure> {
    let sources = files
        .files
        .iter()
        .map(|path| opened(path))
        .collect::<Result<Vec<_>, Failure>>()?;
    let mut records = db.open()?.once(files.once.text);
    let mut answers = Vec::new();
    for (path, (source, bytes)) in files.files.iter().zip(sources) {
        let bar = progress_bar(bytes, "reading");
        let done = app::import_table(
            &mut records,
            kind,
            &path.display().to_string(),
            source,
            files.update,
            |read| bar.set_position(read),
        );
        bar.finish_and_clear();
        match done {
            Ok(answer) => answers.push(answer),
            Err(error) => return Err(refused_after(&answers, error, output)),
        }
    }
    output.changes(&answers)
}

fn any_table(table: AnyTable, db: &Db, output: &Output) -> Result<(), Failure> {
    let file = whole_file(&table.file)?;
    let mut records = db.open()?.once(table.once.text);
    let layout = table.layout.as_deref();
    if table.yes {
        let done =
            app::import_any_table(&mut records, &file, &table.request, layout, table.update)?;
        return output.changes(&done);
    }
    let look = app::look_at_table(&mut records, &file, &table.request, layout, table.update)?;
    output.answer(&look)?;
    match look.is_good() || output.is_json() {
        true => Ok(()),
        false => Err(Failure::Told),
    }
}

/// Why a file was refused, after those that were imported before it are named: those stay.
fn refused_after(taken: &[app::ImportAnswer], error: app::AppError, output: &Output) -> Failure {
    if !taken.is_empty()
        && let Err(unwritten) = output.changes(taken)
    {
        output.failure(&unwritten);
    }
    error.into()
}

fn patterns(files: Files, db: &Db, output: &Output) -> Result<(), Failure> {
    let read = files
        .files
        .iter()
        .map(|path| whole_file(path).map(|file| (file.name, file.bytes)))
        .collect::<Result<Vec<_>, Failure>>()?;
    output.change(&app::import_patterns(
        &mut db.open()?.once(files.once.text),
        &read,
        files.update,
    )?)
}

/// The most bytes that are read of a file before it is looked at: one more than the kind
/// that may have most, so that its reader refuses it, and a stream without end ends.
const MOST_READ: usize = app::MOST_TABLE_BYTES + 1;

/// The name of a file, as messages call it, and its bytes.
pub(super) fn whole_file(path: &Path) -> Result<app::SourceFile, Failure> {
    let mut bytes = Vec::new();
    opened(path)?
        .0
        .take(u64::try_from(MOST_READ).unwrap_or(u64::MAX))
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(path, &error))?;
    let name = path.display().to_string();
    Ok(app::SourceFile { name, bytes })
}

/// A source and how many bytes it has, 0 where that is not known.
pub(super) fn opened(path: &Path) -> Result<(Box<dyn Read>, u64), Failure> {
    if path == Path::new("-") {
        return Ok((Box::new(io::stdin().lock()), 0));
    }
    let file = app::open_ordinary(path).map_err(|error| unreadable(path, &error))?;
    let about = file.metadata().map_err(|error| unreadable(path, &error))?;
    Ok((Box::new(BufReader::new(file)), about.len()))
}

fn unreadable(path: &Path, error: &io::Error) -> Failure {
    Failure::Refused(format!(
        "{} cannot be read: {}; check its name and permissions",
        path.display(),
        app::SystemRefusal::of(error)
    ))
}
