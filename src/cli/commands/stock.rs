//! `stock`

use crate::{
    app::{self, EntryKind},
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};
use clap::{Args, Subcommand};

/// List stock, and enter what was bought, used, weighed, reserved or released
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Lots and what is left of them
    List {
        /// Only this yarn
        yarn: Option<String>,
    },
    /// Every entry of one lot
    Ledger {
        /// Number of the lot, as `stock list` shows it
        lot: i64,
    },
    Buy(app::BuyRequest),
    /// Enter what was used
    Use(Entry),
    /// Enter what is there, once weighed
    Weigh(Entry),
    /// Promise some of a lot
    Reserve(Entry),
    /// Take a promise back
    Release(Entry),
}

#[derive(Debug, Args)]
struct Entry {
    /// Number of the lot, as `stock list` shows it
    lot: i64,
    #[command(flatten)]
    request: app::EntryRequest,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    match arguments.what {
        What::List { yarn } => output.answer(&app::list_stock(&db.existing()?, yarn.as_deref())?),
        What::Ledger { lot } => output.answer(&app::ledger(&db.existing()?, lot)?),
        What::Buy(buy) => output.answer(&app::buy(&mut db.existing()?, &buy)?),
        What::Use(entry) => enter(EntryKind::Used, &entry, db, output),
        What::Weigh(entry) => enter(EntryKind::Weighed, &entry, db, output),
        What::Reserve(entry) => enter(EntryKind::Reserved, &entry, db, output),
        What::Release(entry) => enter(EntryKind::Released, &entry, db, output),
    }
}

fn enter(kind: EntryKind, entry: &Entry, db: &Db, output: &Output) -> Result<(), Failure> {
    let mut records = db.existing()?;
    output.answer(&app::enter(&mut records, kind, entry.lot, &entry.request)?)
}
