//! `find`

use crate::{
    app::{self, FindRequest},
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};

pub(super) fn run(request: &FindRequest, db: &Db, output: &Output) -> Result<(), Failure> {
    output.answers(&app::find(&db.existing()?, request)?)
}
