//! Over many pieces at once: what a show needs, the life's work as pages, the next piece, and taking in lists and
//! photographs that are there already; and over the many people of one piece. It stands on what was finished piece by
//! piece, and changes none of it.

pub mod community;
pub mod estimate;
pub mod intake;
pub mod ledger;
pub mod portfolio;
pub mod show;
mod spreadsheet;
