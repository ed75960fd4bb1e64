//! A show: the pieces of an exhibition in their order, each with what is reckoned for it there, the plan of the
//! walls, and what is in the way of any of it.

mod arrange;
mod as_written;
mod budget;
mod conflicts;
mod fixings;
mod made;
mod pictures;
mod table;
mod told;
mod walls;

pub use arrange::{Arranged, Entry};
pub use as_written::written;
pub use made::{Made, Order, ShowError, exhibit};
pub use walls::sentences;
