//! A piece made by many: the papers that name, place and thank its makers.

mod made;
mod table;

pub use made::{CommunityError, Made, Order, community};
