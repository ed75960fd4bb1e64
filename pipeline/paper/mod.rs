//! The papers: what each one says, in which words, and the press that sets them. A paper is made
//! from a view of the piece that holds only what its reader may know; pictures come as bytes. Typst
//! sets the page from an embedded template, to which the weaver's words are data and never markup.
//!
//! Every paper claims PDF/A-3a and PDF/UA-1, is tagged, and comes out the same to the byte for the
//! same record. Reading folders, making plates and writing files are left to others.

mod caption;
mod catalogue;
mod certificate;
mod common;
mod community;
mod dates;
mod drawn;
mod face;
mod facts;
mod fibres;
mod figures;
mod keeping;
mod label;
mod lacks;
mod ledger;
mod letters;
mod packet;
mod plates;
mod press;
mod proof;
mod qr;
mod quote;
mod read_me;
mod said;
#[cfg(test)]
mod shape;
mod show;
mod views;
mod web;
mod words;
mod world;

pub use caption::Caption;
pub use community::{MadeSquare, MountView, PanelView, Person, RollView};
pub use drawn::{CarrierView, InstallerView, OnFile, RegistrarView};
pub use face::{DATA_SHAPE, Face};
pub use keeping::KeeperView;
pub use lacks::lacks;
pub use ledger::StudioView;
pub use packet::with_work;
pub use plates::{Picture, Plates};
pub use press::Press;
pub use proof::{Leaf, Stack, leaves};
pub use quote::QuoteView;
pub use read_me::FirstWords;
pub use show::{
    HungView, OpeningView, PlanView, RegisteredView, ShowPiece, ShowPlates, ShowView, WallView,
};
pub use views::{OwnerView, PublicView};
pub use web::{PageWords, WebFact, WebPiece, WebPrivate};
pub use words::LANGUAGES;

/// A finished paper.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// The PDF file.
    pub pdf: Vec<u8>,
    /// Its pages.
    pub pages: usize,
    /// Characters in her words that the embedded faces can not print, in the order of Unicode. A
    /// plain mark stands in their place.
    pub missing_glyphs: Vec<char>,
    /// What the record lacks for this paper.
    pub wanting: Vec<Wanting>,
    /// What Typst warned of while setting: a fault of a template, never of a text. Empty as a rule.
    pub warnings: Vec<String>,
}

/// Something a paper would print, had the record told it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Wanting {
    /// The field of piece.yaml that would tell it, such as `measured.mass`.
    pub field: &'static str,
    /// What it is, to be read after "not told:".
    pub what: &'static str,
}

/// A paper that could not be set. It is a fault of a template or of a picture, never of a text.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{template}:{line}:{column}: {message}")]
pub struct PaperError {
    /// Whether the template is the studio's own, which its weaver can mend.
    pub own: bool,
    /// The template.
    pub template: String,
    /// Its line, from 1; 0 where none is known.
    pub line: usize,
    /// Its column, from 1; 0 where none is known.
    pub column: usize,
    /// What Typst says of it.
    pub message: String,
}

impl PaperError {
    /// An error of the program about a paper as a whole.
    pub fn of(paper: &str, message: impl std::fmt::Display) -> PaperError {
        PaperError::plain(paper, message)
    }

    fn plain(template: &str, message: impl std::fmt::Display) -> PaperError {
        PaperError {
            own: false,
            template: template.trim_start_matches('/').to_string(),
            line: 0,
            column: 0,
            message: message.to_string(),
        }
    }
}

/// The digest of every template and every word of the papers, in hexadecimal: two programs with the
/// same one set the same papers.
pub fn templates_digest() -> String {
    use sha2::{Digest, Sha256};
    let mut all = Sha256::new();
    for (name, text) in world::TEMPLATES {
        all.update(format!("{name} {}\n{text}", text.len()));
    }
    for (_, text) in words::FILES {
        all.update(format!("words {}\n{text}", text.len()));
    }
    data_encoding::HEXLOWER.encode(&all.finalize())
}
