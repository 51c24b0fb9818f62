//! `gauge`

use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};

pub(super) fn run(request: &app::GaugeRequest, db: &Db, output: &Output) -> Result<(), Failure> {
    output.answer(&app::gauge(&db.existing()?, request)?)
}
