//! What the weaver wrote, as types: the studio, the piece, its materials, measures, photographs,
//! notes and people. Every value knows its place in her files. Nothing here is computed, except the
//! record number, which names exactly what was declared.

mod exhibition;
mod fibre;
mod fibre_names;
mod fibre_written;
mod finding;
mod hanging;
mod materials;
mod measured;
mod notes;
mod number;
mod packing;
mod papers;
mod people;
mod photo;
mod piece;
mod place;
mod sight;
mod studio;

pub use exhibition::{
    Exhibition, HangFrom, HangingLine, KeepClear, Loan, OpeningHours, Order, Shown, Told, Wall,
};
pub use fibre::{FIBRES, Fibre, WOOL_NAMES, fibre_named};
pub use fibre_names::{LANGUAGES_OF_LAW, Tongue, tongue};
pub use fibre_written::{Make, Past, WrittenFibre, fibre_written};
pub use finding::{Finding, FindingKind, Rank};
pub use hanging::{Bar, BarMaterial, BarSection, BarShape, Hanging, OffCentre, SlitsLeft, Support};
pub use materials::{
    Finishing, Hems, Label, Loom, Part, Share, Skein, Srgb, Used, Warp, WarpCounts, Weft,
};
pub use measured::{Air, Care, Display, Lit, Measured, Show};
pub use notes::{Note, Notes};
pub use number::{RecordNumber, declared, luhn16};
pub use packing::{Face, Opening, Packing, Round};
pub use papers::{Circle, Paper};
pub use people::{Age, Consent, MOST_SQUARES, Maker, Makers, Owner, Square, Squares};
pub use photo::{Corners, Photo, View};
pub use piece::{Credit, Kind, MissingHours, MoneyMatters, Piece, Series, Stage, Top};
pub use place::{At, Place};
pub use sight::{Looks, Shade, Sight, Trouble};
pub use studio::{Measures, PaperSize, RuleSet, SeriesOrder, Studio, Tape};
