//! Progress: on standard error, only on a terminal, and only once a run takes longer than a blink.

use super::show::Screen;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::IsTerminal;

/// A bar over so many steps; it shows nothing where nobody looks.
pub(super) fn bar(screen: &Screen, steps: u64, what: &'static str) -> ProgressBar {
    let seen = !screen.quiet && !screen.json && std::io::stderr().is_terminal();
    let target = if seen {
        ProgressDrawTarget::stderr_with_hz(8)
    } else {
        ProgressDrawTarget::hidden()
    };
    let bar = ProgressBar::with_draw_target(Some(steps), target);
    if let Ok(style) = ProgressStyle::with_template("{prefix} {bar:24} {pos}/{len}  {msg}") {
        bar.set_style(style.progress_chars("━━ "));
    }
    bar.set_prefix(what);
    bar
}
