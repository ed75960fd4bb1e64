//! Over many pieces at once: what a show needs. It stands on what was finished piece by piece, and changes none of it.

pub mod estimate;
pub mod ledger;
pub mod portfolio;
pub mod show;
mod spreadsheet;
