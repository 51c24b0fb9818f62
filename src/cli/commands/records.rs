//! Commands about the user's own records: yarns, stock, swatches, patterns.

use crate::{
    app::{self, EntryKind},
    cli::{
        arguments::Once,
        db::Db,
        output::{Failure, Output},
    },
};
use clap::{Args, Subcommand};

/// List, show, add or remove yarns
#[derive(Debug, Args)]
pub(crate) struct YarnArguments {
    #[command(subcommand)]
    action: YarnAction,
}

#[derive(Debug, Subcommand)]
enum YarnAction {
    /// List your yarns, or those with a name like this text
    List {
        /// Some words of the maker or name
        text: Option<String>,
        /// How many to show
        #[arg(long, value_name = "N", default_value_t = 20)]
        top: usize,
    },
    /// Show one yarn
    Show {
        /// Its name or barcode number
        yarn: String,
    },
    /// Add one yarn, from what its label says
    Add {
        #[command(flatten)]
        request: app::AddYarnRequest,
        #[command(flatten)]
        once: Once,
    },
    /// Remove a yarn with no stock and no swatch
    Remove {
        /// Its name or barcode number
        yarn: String,
        #[command(flatten)]
        once: Once,
    },
}

pub(super) fn yarn(arguments: YarnArguments, db: &Db, output: &Output) -> Result<(), Failure> {
    match arguments.action {
        YarnAction::List { text, top } => {
            output.answer(&app::list_yarns(&db.existing()?, text.as_deref(), top)?)
        }
        YarnAction::Show { yarn } => output.answer(&app::show_yarn(&db.existing()?, &yarn)?),
        YarnAction::Add { request, once } => {
            let mut records = db.open()?.once(once.text);
            output.change(&app::add_yarn(&mut records, &request)?)
        }
        YarnAction::Remove { yarn, once } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::remove_yarn(&mut records, &yarn)?)
        }
    }
}

/// List your stash; record what you bought, used, weighed, reserved or released
#[derive(Debug, Args)]
pub(crate) struct StockArguments {
    #[command(subcommand)]
    action: StockAction,
}

#[derive(Debug, Subcommand)]
enum StockAction {
    /// List your lots and what is left of them
    List {
        /// Only this yarn
        yarn: Option<String>,
    },
    /// List every entry of one lot
    Ledger {
        /// Number of the lot, from `stock list`
        lot: i64,
    },
    Buy(Purchase),
    /// Change what you know of a lot: shade, colour, dye lot, place, notes
    ///
    /// What you do not give stays. An empty text takes out what is there, as in
    /// `--colour ""`. The colour is that of the shade: all lots of it change.
    Edit {
        /// Number of the lot, from `stock list`
        #[arg(value_name = "LOT")]
        number: i64,
        #[command(flatten)]
        request: app::LotRequest,
        #[command(flatten)]
        once: Once,
    },
    /// Record yarn you used
    Use(LotEntry),
    /// Record what is left, after weighing it
    Weigh(LotEntry),
    /// Reserve some of a lot
    Reserve(LotEntry),
    /// Release what you reserved
    Release(LotEntry),
}

/// Add yarn you bought: a new lot, or more of one you have
#[derive(Debug, Args)]
struct Purchase {
    #[command(flatten)]
    request: app::BuyRequest,
    #[command(flatten)]
    once: Once,
}

#[derive(Debug, Args)]
struct LotEntry {
    /// Number of the lot, from `stock list`
    lot: i64,
    #[command(flatten)]
    request: app::EntryRequest,
    #[command(flatten)]
    once: Once,
}

pub(super) fn stock(arguments: StockArguments, db: &Db, output: &Output) -> Result<(), Failure> {
    match arguments.action {
        StockAction::List { yarn } => {
            output.answer(&app::list_stock(&db.existing()?, yarn.as_deref())?)
        }
        StockAction::Ledger { lot } => output.answer(&app::ledger(&db.existing()?, lot)?),
        StockAction::Buy(Purchase { request, once }) => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::buy(&mut records, &request)?)
        }
        StockAction::Edit {
            number,
            request,
            once,
        } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::edit_lot(&mut records, number, &request)?)
        }
        StockAction::Use(entry) => enter(EntryKind::Used, entry, db, output),
        StockAction::Weigh(entry) => enter(EntryKind::Weighed, entry, db, output),
        StockAction::Reserve(entry) => enter(EntryKind::Reserved, entry, db, output),
        StockAction::Release(entry) => enter(EntryKind::Released, entry, db, output),
    }
}

fn enter(kind: EntryKind, entry: LotEntry, db: &Db, output: &Output) -> Result<(), Failure> {
    let mut records = db.existing()?.once(entry.once.text);
    output.change(&app::enter(&mut records, kind, entry.lot, &entry.request)?)
}

/// List, save or remove swatches; answers trust your swatches before any label
#[derive(Debug, Args)]
pub(crate) struct SwatchArguments {
    #[command(subcommand)]
    action: SwatchAction,
}

#[derive(Debug, Subcommand)]
enum SwatchAction {
    /// Save a swatch
    Add {
        /// The yarn: its name or barcode number
        yarn: String,
        #[command(flatten)]
        swatch: app::SwatchRequest,
        #[command(flatten)]
        once: Once,
    },
    /// List the swatches of a yarn
    List {
        /// The yarn: its name or barcode number
        yarn: String,
    },
    /// Remove a swatch
    Remove {
        /// Its number, from `swatch list`
        number: i64,
        #[command(flatten)]
        once: Once,
    },
}

pub(super) fn swatch(arguments: SwatchArguments, db: &Db, output: &Output) -> Result<(), Failure> {
    match arguments.action {
        SwatchAction::Add { yarn, swatch, once } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::add_swatch(&mut records, &yarn, &swatch)?)
        }
        SwatchAction::List { yarn } => output.answer(&app::list_swatches(&db.existing()?, &yarn)?),
        SwatchAction::Remove { number, once } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::remove_swatch(&mut records, number)?)
        }
    }
}

/// Add, list, show or remove patterns
#[derive(Debug, Args)]
pub(crate) struct PatternArguments {
    #[command(subcommand)]
    action: PatternAction,
}

#[derive(Debug, Subcommand)]
enum PatternAction {
    /// Add a pattern from what it says about its yarn
    Add {
        #[command(flatten)]
        request: app::AddPatternRequest,
        #[command(flatten)]
        once: Once,
    },
    /// List your patterns
    List,
    /// Show one pattern
    Show {
        /// Its name
        name: String,
    },
    /// Remove a pattern
    Remove {
        /// Its name
        name: String,
        #[command(flatten)]
        once: Once,
    },
}

pub(super) fn pattern(
    arguments: PatternArguments,
    db: &Db,
    output: &Output,
) -> Result<(), Failure> {
    match arguments.action {
        PatternAction::Add { request, once } => {
            let mut records = db.open()?.once(once.text);
            output.change(&app::add_pattern(&mut records, &request)?)
        }
        PatternAction::List => output.answer(&app::list_patterns(&db.existing()?)?),
        PatternAction::Show { name } => output.answer(&app::show_pattern(&db.existing()?, &name)?),
        PatternAction::Remove { name, once } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::remove_pattern(&mut records, &name)?)
        }
    }
}

/// Undo the last change of yarns, stash, swatches, patterns or projects
///
/// A purchase or a use gets one more line in the ledger of its lot, which cancels it.
/// What you edited or removed comes back. A table you imported goes as one change. If
/// a later change depends on the one you mean, undo the later one first.
#[derive(Debug, Args)]
pub(crate) struct UndoArguments {
    /// Number of the change, as `--list` shows it; without it the last one
    number: Option<i64>,
    /// Show the last ten changes that you can undo, and undo none
    #[arg(long, conflicts_with_all = ["number", "dry_run", "once"])]
    list: bool,
    /// Say what would be undone, and undo nothing
    #[arg(long, conflicts_with = "once")]
    dry_run: bool,
    #[command(flatten)]
    once: Once,
}

pub(super) fn undo(arguments: UndoArguments, db: &Db, output: &Output) -> Result<(), Failure> {
    if arguments.list {
        return output.answer(&app::list_undo(&db.existing()?)?);
    }
    let mut records = db.existing()?.once(arguments.once.text);
    match arguments.dry_run {
        true => output.answer(&app::preview_undo(&mut records, arguments.number)?),
        false => output.change(&app::undo(&mut records, arguments.number)?),
    }
}
