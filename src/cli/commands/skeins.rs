//! `skeins`

use crate::{
    app,
    cli::output::{Failure, Output},
};

pub(super) fn run(request: &app::SkeinsRequest, output: &Output) -> Result<(), Failure> {
    output.answer(&app::skeins(request)?)
}
