//! `check`

use crate::{
    app::{self, CheckRequest},
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};

pub(super) fn run(request: &CheckRequest, db: &Db, output: &Output) -> Result<(), Failure> {
    let records = match request.question.pattern {
        Some(_) => db.existing()?,
        None => db.if_there()?,
    };
    output.answer(&app::check(&records, request)?)
}
