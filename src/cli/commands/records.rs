//! Commands about the user's own records: yarns, stock, swatches, patterns.

use crate::{
    app,
    cli::{
        arguments::Once,
        db::Db,
        output::{Failure, Output},
    },
};
use clap::{Args, Subcommand};

/// List, show, add, edit, merge or remove yarns
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
    /// Show one yarn, what you have of it and your swatches
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
    /// Change what you know of a yarn, its name too
    ///
    /// What you do not give stays. An empty text takes out what is there, as in
    /// `--price ""`. Patterns and projects that name the yarn get its new name.
    Edit {
        /// Its name or barcode number
        yarn: String,
        #[command(flatten)]
        request: Box<app::EditYarnRequest>,
        #[command(flatten)]
        once: Once,
    },
    /// Merge a yarn you entered twice into the other entry
    ///
    /// Lots, swatches, choices for projects and what patterns call for go to the entry
    /// that stays, and so does what only the other said. Where both say something, the
    /// one that stays is right; what the other said stays in the history.
    Merge {
        /// The entry that goes: its name or barcode number
        yarn: String,
        /// The entry that stays
        into: String,
        #[command(flatten)]
        once: Once,
    },
    /// Give a shade of a yarn another name, in all its lots
    Shade {
        /// The yarn: its name or barcode number
        yarn: String,
        /// The name of the shade now
        #[arg(value_name = "SHADE")]
        from: String,
        /// Its new name
        #[arg(value_name = "NEW")]
        to: String,
        #[command(flatten)]
        once: Once,
    },
    /// Remove a yarn with no lot and no swatch
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
        YarnAction::Edit {
            yarn,
            request,
            once,
        } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::edit_yarn(&mut records, &yarn, &request)?)
        }
        YarnAction::Merge { yarn, into, once } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::merge_yarns(&mut records, &yarn, &into)?)
        }
        YarnAction::Shade {
            yarn,
            from,
            to,
            once,
        } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::rename_shade(&mut records, &yarn, &from, &to)?)
        }
        YarnAction::Remove { yarn, once } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::remove_yarn(&mut records, &yarn)?)
        }
    }
}

/// List, save, edit or remove swatches; answers trust your swatches before any label
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
    /// Change what you know of a swatch
    ///
    /// What you do not give stays. An empty text takes out what is there.
    #[command(mut_arg("needle", |needle| needle.required(false)))]
    Edit {
        /// Its number, from `swatch list`
        number: i64,
        #[command(flatten)]
        swatch: app::SwatchRequest,
        #[command(flatten)]
        once: Once,
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
        SwatchAction::Edit {
            number,
            swatch,
            once,
        } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::edit_swatch(&mut records, number, &swatch)?)
        }
        SwatchAction::Remove { number, once } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::remove_swatch(&mut records, number)?)
        }
    }
}

/// Add, list, show, rename or remove patterns
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
    /// Give a pattern another name
    ///
    /// To change anything else of it, run `export pattern`, change the file, and run
    /// `import pattern --update`.
    Rename {
        /// Its name
        name: String,
        /// Its new name
        #[arg(value_name = "NEW")]
        to: String,
        #[command(flatten)]
        once: Once,
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
        PatternAction::Rename { name, to, once } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::rename_pattern(&mut records, &name, &to)?)
        }
        PatternAction::Remove { name, once } => {
            let mut records = db.existing()?.once(once.text);
            output.change(&app::remove_pattern(&mut records, &name)?)
        }
    }
}
