//! The next piece, estimated from the archive: which pieces it leans on, what comes of it in words and as JSON, and the
//! quote for the client.

mod lean;
mod quote;
mod table;
mod told;

pub use lean::{Aside, Leaning, lean};
pub use quote::{QuoteOrder, write_quote};
pub use table::{coverage, json};
pub use told::sentences;
