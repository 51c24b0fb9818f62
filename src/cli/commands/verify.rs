//! `verify`

use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};
use clap::Args;

/// Look the records through: is the file sound, do the ledgers add up?
#[derive(Debug, Args)]
pub(crate) struct Arguments {}

pub(super) fn run(db: &Db, output: &Output) -> Result<(), Failure> {
    let found = app::verify(&db.existing()?)?;
    output.answer(&found)?;
    if found.problems.is_empty() {
        Ok(())
    } else {
        Err(Failure::Told)
    }
}
