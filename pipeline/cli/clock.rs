//! The one look at the clock: for the log of audits. Nothing that is issued depends on it.

use crate::audit::Instant;
use std::time::{SystemTime, UNIX_EPOCH};

/// This second; nothing when the clock stands before 1970.
#[allow(clippy::disallowed_methods)] // The log of audits says when; nothing that is issued does.
pub(super) fn now() -> Option<Instant> {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).ok()?;
    Instant::from_seconds(i64::try_from(since.as_secs()).ok()?)
}
