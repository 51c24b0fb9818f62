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
    /// Enter a purchase: a new lot, or more of one that is kept
    Buy(Buy),
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
struct Buy {
    /// The yarn: its name or article number
    yarn: String,
    /// How much, as in "3 skeins" or "2 + 60 g"
    amount: String,
    /// Shade
    #[arg(long, default_value = "")]
    shade: String,
    /// Dye lot
    #[arg(long)]
    lot: Option<String>,
    /// Where it is kept
    #[arg(long, default_value = "")]
    place: String,
    /// One full skein of this lot as weighed, as in "48.5 g" or "48 g = 121 m"
    #[arg(long, value_name = "PUTUP")]
    weighed: Option<String>,
    /// What was paid, as in "6.50 GBP"
    #[arg(long)]
    price: Option<String>,
    /// Anything else
    #[arg(long, default_value = "")]
    notes: String,
}

#[derive(Debug, Args)]
struct Entry {
    /// Number of the lot, as `stock list` shows it
    lot: i64,
    /// How much, as in "3 skeins", "2 + 60 g" or "73.5 g"
    amount: String,
    /// What for
    #[arg(long = "for", value_name = "WHAT", default_value = "")]
    notes: String,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    match arguments.what {
        What::List { yarn } => output.show(&app::list_stock(&db.existing()?, yarn.as_deref())?),
        What::Ledger { lot } => output.show(&app::ledger(&db.existing()?, lot)?),
        What::Buy(buy) => output.show(&app::buy(&mut db.existing()?, &bought(buy))?),
        What::Use(entry) => enter(EntryKind::Used, &entry, db, output),
        What::Weigh(entry) => enter(EntryKind::Weighed, &entry, db, output),
        What::Reserve(entry) => enter(EntryKind::Reserved, &entry, db, output),
        What::Release(entry) => enter(EntryKind::Released, &entry, db, output),
    }
}

fn enter(kind: EntryKind, entry: &Entry, db: &Db, output: &Output) -> Result<(), Failure> {
    output.show(&app::enter(
        &mut db.existing()?,
        kind,
        entry.lot,
        &entry.amount,
        &entry.notes,
    )?)
}

fn bought(buy: Buy) -> app::Bought {
    app::Bought {
        yarn: buy.yarn,
        amount: buy.amount,
        shade: buy.shade,
        lot: buy.lot,
        place: buy.place,
        weighed: buy.weighed,
        price: buy.price,
        notes: buy.notes,
    }
}
