//! A progress bar on long work, gone when it is not on a terminal.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::time::Duration;

/// A bar over `total` of `what`; drawn on standard error, only on a terminal.
pub(super) fn bar(total: u64, what: &str) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(Some(total), ProgressDrawTarget::stderr_with_hz(10));
    let form = format!("{what} {{bar:30}} {{percent}} % ({{elapsed}})");
    let style = ProgressStyle::with_template(&form).map(|style| style.progress_chars("=>-"));
    bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
    bar.enable_steady_tick(Duration::from_millis(250));
    bar
}
