//! x
pub mod paper;
pub mod quantity;
pub mod reckon;
pub mod record;
