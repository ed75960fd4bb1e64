//! A photograph as it is listed in piece.yaml. What is in the file itself is not known here.

use super::place::At;

/// One listed photograph.
#[derive(Debug, Clone, PartialEq)]
pub struct Photo {
    /// File name below `photos/`, with `/` between folders.
    pub file: At<String>,
    /// What it shows.
    pub view: At<View>,
    /// In words, for those who can not see it.
    pub alt: Option<At<String>>,
    /// The corners of the piece in it.
    pub corners: Option<At<Corners>>,
    /// Who took it.
    pub credit: Option<At<String>>,
    /// Who holds the rights.
    pub rights: Option<At<String>>,
}

/// Four points in pixels of the upright photograph, in any order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corners(pub [[f64; 2]; 4]);

/// What a photograph shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum View {
    /// The whole front.
    Front,
    /// The whole back.
    Back,
    /// A part, close.
    Detail,
    /// The woven or sewn signature.
    Signature,
    /// On the loom.
    Loom,
    /// Hanging where it lives.
    Installed,
    /// Yarns and dyes.
    Material,
}

impl View {
    /// Every view with the word it is written with.
    pub const ALL: &'static [(&'static str, View)] = &[
        ("front", View::Front),
        ("back", View::Back),
        ("detail", View::Detail),
        ("signature", View::Signature),
        ("loom", View::Loom),
        ("installed", View::Installed),
        ("material", View::Material),
    ];

    /// The word it is written with.
    pub fn word(self) -> &'static str {
        View::ALL
            .iter()
            .find(|(_, v)| *v == self)
            .map_or("", |(w, _)| w)
    }
}
