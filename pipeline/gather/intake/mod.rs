//! Taking in what she already has: rows of a spreadsheet and loose photographs become drafts of piece folders. Nothing
//! is guessed: what can not be read stays beside its field as a remark, and what is not understood as a note.

mod album;
mod dates;
mod fields;
mod head;
mod make;
mod mapping;
mod page;
mod row;
mod rows;
mod slug;
mod told;
mod values;

pub use album::{Album, Group, Loose, gather, look_through};
pub use fields::{FIELDS, Field};
pub use make::{Made, Outcome, make_album, make_pieces};
pub use mapping::{Column, Mapping, map};
pub use page::{NOTES, PIECE};
pub use rows::{CellFinding, Draft, Intake, Passed, drafts};
pub use slug::serves_as_folder;
pub use told::{album_json, rows_json};
