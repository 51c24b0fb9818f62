//! `unlabelled`

use crate::{
    app,
    cli::output::{Failure, Output},
};

pub(super) fn run(request: &app::UnlabelledRequest, output: &Output) -> Result<(), Failure> {
    output.answer(&app::unlabelled(request)?)
}
