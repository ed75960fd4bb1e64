//! x
pub mod quantity;
pub mod record;
