//! Questions that need more on the command line than their request: records only
//! where they are asked about, files in and out.

use super::import::whole_file;
use crate::{
    app::{self, CheckRequest, SheetRequest},
    cli::{
        arguments::Once,
        db::Db,
        output::{Failure, Output, remark},
    },
    report::{Render, Style, WorkingCopy, html_page, needs_note, sheet_cells, sheet_notes},
};
use clap::Args;
use std::path::PathBuf;

pub(super) fn check(request: &CheckRequest, db: &Db, output: &Output) -> Result<(), Failure> {
    let records = match request.question.of.pattern {
        Some(_) => db.existing()?,
        None => db.if_there()?,
    };
    output.answer(&app::check(&records, request)?)
}

/// What can you make from your stash, and what is there to buy?
#[derive(Debug, Args)]
pub(crate) struct PlanArguments {
    #[command(flatten)]
    request: app::PlanRequest,
    /// Reserve the yarn of this plan for your projects
    ///
    /// What was reserved for them before and is no longer needed is free again.
    #[arg(long, conflicts_with_all = ["projects", "with_reserved", "from"])]
    reserve: bool,
    #[command(flatten)]
    once: Once,
}

pub(super) fn plan(arguments: PlanArguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let PlanArguments {
        request,
        reserve,
        once,
    } = arguments;
    if !reserve {
        return output.answer(&app::plan(&db.existing()?, &request)?);
    }
    let mut records = db.existing()?.once(once.text);
    output.change(&app::reserve_plan(&mut records, &request, None)?)
}

/// Check a pattern or a materials sheet for mistakes
#[derive(Debug, Args)]
pub(crate) struct LintArguments {
    /// A pattern file (TOML), or a sheet as text, Markdown or CSV
    #[arg(value_name = "FILE", required_unless_present = "pattern")]
    file: Option<PathBuf>,
    #[command(flatten)]
    request: app::LintRequest,
}

pub(super) fn lint(arguments: LintArguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let mut request = arguments.request;
    let records = match request.pattern {
        Some(_) => db.existing()?,
        None => db.if_there()?,
    };
    request.file = arguments.file.as_deref().map(whole_file).transpose()?;
    let answer = app::lint(&records, &request)?;
    output.answer(&answer)?;
    if answer.findings.is_empty() {
        Ok(())
    } else {
        Err(Failure::Told)
    }
}

/// How far will the rest of the yarn go, and where should I stop?
#[derive(Debug, Args)]
pub(crate) struct LastArguments {
    #[command(flatten)]
    request: app::LastRequest,
    /// File with samples and the pieces of every size (TOML), as for `needs`
    ///
    /// Answers which of the pieces still to knit the yarn makes. --left may name
    /// several yarns then, as in: A 180 g, B 50 g
    #[arg(
        long,
        value_name = "FILE",
        help_heading = "Or by the pieces of a size",
        conflicts_with_all = [
            "before", "rows", "rows_left", "shape", "rows_done", "stitches", "each", "label",
            "row_takes", "tare", "keep", "put_up", "scale", "damp",
        ]
    )]
    pieces: Option<PathBuf>,
    #[command(flatten)]
    by_pieces: app::LastPiecesRequest,
}

pub(super) fn last(arguments: &LastArguments, output: &Output) -> Result<(), Failure> {
    let Some(path) = &arguments.pieces else {
        return output.answer(&app::last(&arguments.request)?);
    };
    let left = arguments.request.left.as_deref();
    let file = whole_file(path)?;
    output.answer(&app::last_pieces(file, left, &arguments.by_pieces)?)
}

/// A ball without a label: how long it is, and what it may be
#[derive(Debug, Args)]
pub(crate) struct UnlabelledArguments {
    #[command(flatten)]
    request: app::UnlabelledRequest,
    #[command(flatten)]
    keep: app::KeepBallRequest,
    #[command(flatten)]
    once: Once,
}

pub(super) fn unlabelled(
    arguments: UnlabelledArguments,
    db: &Db,
    output: &Output,
) -> Result<(), Failure> {
    let UnlabelledArguments {
        request,
        keep,
        once,
    } = arguments;
    if keep.keep.is_none() {
        return output.answer(&app::unlabelled(&db.if_there()?, &request)?);
    }
    let mut records = db.open()?.once(once.text);
    output.change(&app::keep_ball(&mut records, &request, &keep)?)
}

/// Yarn needed for every size, from what you knitted and weighed
#[derive(Debug, Args)]
pub(crate) struct NeedsArguments {
    /// File with samples and the pieces of every size (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    request: app::NeedsRequest,
    #[command(flatten)]
    progress: app::NeedsProgressRequest,
    /// Also write a pattern file (TOML) with the yarn needed
    #[arg(long, value_name = "FILE")]
    pattern: Option<PathBuf>,
    #[command(flatten)]
    stated: app::NeedsPatternRequest,
    /// Replace the pattern file if it exists
    #[arg(long, requires = "pattern")]
    replace: bool,
}

pub(super) fn needs(arguments: NeedsArguments, output: &Output) -> Result<(), Failure> {
    let mut request = arguments.request;
    request.file = whole_file(&arguments.file)?;
    let Some(path) = &arguments.pattern else {
        arguments.stated.refuse_unused()?;
        return output.answer(&app::needs_in_progress(&request, &arguments.progress)?);
    };
    let (text, answer) = app::needs_pattern(&request, &arguments.stated, needs_note)?;
    app::text_to_file(path, arguments.replace, &text)?;
    output.change(&answer)?;
    remark(&format!("the yarn needed is written to {}", path.display()));
    Ok(())
}

/// A materials sheet: the yarn, how much each size needs, and what could replace it
#[derive(Debug, Args)]
pub(crate) struct SheetArguments {
    #[command(flatten)]
    request: SheetRequest,
    /// Your own copy: what the sheet says, and all that it rests on
    #[arg(long)]
    working: bool,
    /// As an HTML page, to print on one side of paper
    #[arg(long, conflicts_with_all = ["json", "markdown"])]
    html: bool,
    /// The alternatives as a table (CSV)
    #[arg(long, conflicts_with_all = ["json", "markdown", "html"])]
    csv: bool,
}

pub(super) fn sheet(arguments: &SheetArguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let sheet = app::sheet(&db.existing()?, &arguments.request)?;
    if arguments.csv {
        let mut table = Vec::new();
        app::sheet_table(&sheet_cells(&sheet), "standard output", &mut table)?;
        return output.bytes(&table);
    }
    if arguments.working || output.has_details() {
        return written(&WorkingCopy(sheet), arguments.html, output);
    }
    written(&sheet, arguments.html, output)?;
    if !output.is_json() {
        let notes = sheet_notes(&sheet, &Style::default());
        notes.iter().for_each(|note| remark(note));
    }
    Ok(())
}

fn written(sheet: &impl Render, as_html: bool, output: &Output) -> Result<(), Failure> {
    if as_html {
        output.text(&html_page(&sheet.page(&Style::default())))
    } else {
        output.answer(sheet)
    }
}
