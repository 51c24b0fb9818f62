//! `convert`

use crate::{
    app,
    cli::output::{Failure, Output},
};

pub(super) fn run(request: &app::ConvertRequest, output: &Output) -> Result<(), Failure> {
    output.answer(&app::convert(request)?)
}
