//! Commands about the stash: lots, their ledgers, the shop floor.

use super::import::whole_file;
use crate::{
    app::{self, EntryKind},
    cli::{
        arguments::Once,
        db::Db,
        output::{Failure, Output},
    },
};
use clap::{Args, Subcommand};
use std::path::PathBuf;

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
    /// Move a lot to another place, or a part of it
    Move {
        /// Number of the lot, from `stock list`
        lot: i64,
        /// The new place
        place: String,
        /// How much; without it all of the lot
        amount: Option<String>,
        #[command(flatten)]
        once: Once,
    },
    /// Record a sale; what was reserved for the customer is released with it
    Sell {
        #[command(flatten)]
        lot: app::LotChoice,
        /// How much, as in: 6, or 2 balls
        amount: String,
        /// The customer
        #[arg(id = "for", long = "for", value_name = "WHOM")]
        customer: Option<String>,
        #[command(flatten)]
        once: Once,
    },
    Count(CountArguments),
    /// What is reserved, for whom or what
    Reservations {
        /// Only for this customer or project
        #[arg(value_name = "WHOM")]
        what_for: Option<String>,
        /// Release all of it
        #[arg(long, requires = "what_for")]
        release: bool,
        #[command(flatten)]
        once: Once,
    },
    /// What runs low: shades of which few skeins are free
    Low {
        /// Fewer than so many balls [default: as the yarn says, else 3]
        #[arg(value_name = "N")]
        below: Option<String>,
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

/// Compare a count of your shelves with the records
///
/// Each line of the file is a barcode, which counts one, or a barcode, a name or the
/// number of a lot, then = and how much: `2900328717698 = 6`. A scanner may write the
/// same barcode again and again. `-` reads what you type or scan until its end. You
/// see the differences, and --book records all of them as one change; with --once the
/// same count is never recorded twice, whatever was sold since.
#[derive(Debug, Args)]
struct CountArguments {
    /// The file, or `-`
    file: PathBuf,
    /// Only the shelves of this place
    #[arg(long, value_name = "PLACE")]
    place: Option<String>,
    /// Record what you counted where it differs
    #[arg(long)]
    book: bool,
    #[command(flatten)]
    once: Once,
}

#[derive(Debug, Args)]
struct LotEntry {
    #[command(flatten)]
    lot: app::LotChoice,
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
        StockAction::Move {
            lot,
            place,
            amount,
            once,
        } => {
            let mut records = db.existing()?.once(once.text);
            let moved = app::move_lot(&mut records, lot, &place, amount.as_deref());
            output.change(&moved?)
        }
        StockAction::Sell {
            lot,
            amount,
            customer,
            once,
        } => {
            let mut records = db.existing()?.once(once.text);
            let sold = app::sell(&mut records, &lot, Some(&amount), customer.as_deref());
            output.change(&sold?)
        }
        StockAction::Count(arguments) => count(arguments, db, output),
        StockAction::Reservations {
            what_for,
            release,
            once,
        } => match what_for {
            Some(whom) if release => {
                let mut records = db.existing()?.once(once.text);
                output.change(&app::release_all(&mut records, &whom)?)
            }
            whom => output.answer(&app::list_reservations(&db.existing()?, whom.as_deref())?),
        },
        StockAction::Low { below } => {
            output.answer(&app::low_stock(&db.existing()?, below.as_deref())?)
        }
        StockAction::Use(entry) => enter(EntryKind::Used, entry, db, output),
        StockAction::Weigh(entry) => enter(EntryKind::Weighed, entry, db, output),
        StockAction::Reserve(entry) => enter(EntryKind::Reserved, entry, db, output),
        StockAction::Release(entry) => enter(EntryKind::Released, entry, db, output),
    }
}

fn enter(kind: EntryKind, entry: LotEntry, db: &Db, output: &Output) -> Result<(), Failure> {
    let mut records = db.existing()?.once(entry.once.text);
    output.change(&app::enter_of(
        &mut records,
        kind,
        &entry.lot,
        &entry.request,
    )?)
}

fn count(arguments: CountArguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let CountArguments {
        file,
        place,
        book,
        once,
    } = arguments;
    let read = whole_file(&file)?;
    let text = String::from_utf8_lossy(&read.bytes);
    let mut records = db.existing()?.once(once.text);
    let count = app::count_stock(&mut records, &text, place.as_deref(), book)?;
    match book {
        true => output.change(&count),
        false => output.answer(&count),
    }
}
