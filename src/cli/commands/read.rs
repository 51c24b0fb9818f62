//! `read`

use crate::{
    app,
    cli::output::{Failure, Output},
};

pub(super) fn run(request: &app::ReadRequest, output: &Output) -> Result<(), Failure> {
    output.answer(&app::read(request))
}
