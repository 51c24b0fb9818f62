//! `size`

use crate::{
    app,
    cli::output::{Failure, Output},
};

pub(super) fn run(request: &app::SizeRequest, output: &Output) -> Result<(), Failure> {
    output.answer(&app::size(request)?)
}
