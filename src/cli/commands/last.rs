//! `last`

use crate::{
    app,
    cli::output::{Failure, Output},
};

pub(super) fn run(request: &app::LastRequest, output: &Output) -> Result<(), Failure> {
    output.answer(&app::last(request)?)
}
