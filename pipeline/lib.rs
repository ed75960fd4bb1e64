//! offloom: from a tapestry cut off the loom to its papers and an archived bundle with checksums.
//!
//! The folders are the stages a piece passes through. Uses run only downwards in this list: `cli`,
//! `gather`, `finish`, `deposit`, `bundle`, `audit`, `paper`, `picture`, `check`, `reckon`, `read`, `record`,
//! `quantity`; `bag` and `seal` hold the grammar that `bundle` and `audit` share, and `disk` is the one door
//! to the file system.

pub mod audit;
pub mod bag;
pub mod bundle;
pub mod check;
pub mod cli;
pub mod deposit;
pub mod disk;
pub mod finish;
pub mod gather;
pub mod paper;
pub mod picture;
pub mod quantity;
pub mod read;
pub mod reckon;
pub mod record;
pub mod seal;
