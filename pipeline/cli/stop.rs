//! Ctrl-C: work stops at the next safe place, what is half written is swept away, and the program
//! ends with 130. A second Ctrl-C ends it at once.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Whether to stop.
#[derive(Clone)]
pub(super) struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Listens for Ctrl-C and a request to end.
    pub fn on_ctrl_c() -> Stop {
        let stop = Stop(Arc::new(AtomicBool::new(false)));
        let flag = stop.0.clone();
        // Without a handler the system's own habit stays, which loses nothing either: files get
        // their names only when they are whole.
        let _ = ctrlc::set_handler(move || {
            if flag.swap(true, Ordering::SeqCst) {
                std::process::exit(130);
            }
        });
        stop
    }

    /// Whether a stop was asked for.
    pub fn asked(&self) -> bool {
        self.0.load(Ordering::SeqCst)
    }
}
