//! `find`

use crate::{
    app::{self, FindRequest},
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};

pub(super) fn run(request: &FindRequest, db: &Db, output: &Output) -> Result<(), Failure> {
    output.show_all(&app::find(&db.existing()?, request)?)
}
