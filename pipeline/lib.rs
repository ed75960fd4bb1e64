//! x
pub mod quantity;
pub mod reckon;
pub mod record;
