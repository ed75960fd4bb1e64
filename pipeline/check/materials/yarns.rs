//! What has a fibre content: the warp, each weft yarn, each part; with the name a sentence calls it by.

use crate::record::{At, Piece, Share};

/// One thing with a fibre content.
pub(in crate::check) struct Content<'a> {
    /// How a sentence calls it.
    pub name: String,
    /// Its shares.
    pub shares: &'a [Share],
}

/// Everything in the piece that has a fibre content.
pub(in crate::check) fn contents(piece: &Piece) -> Vec<Content<'_>> {
    let warp = Content {
        name: "the warp".to_string(),
        shares: &piece.warp.fibre,
    };
    let weft = piece.weft.iter().enumerate().map(|(i, yarn)| Content {
        name: weft_name(i, yarn.name.as_ref()),
        shares: &yarn.fibre,
    });
    let parts = piece.parts.iter().map(|part| Content {
        name: format!("the {}", part.name.value),
        shares: &part.fibre,
    });
    std::iter::once(warp).chain(weft).chain(parts).collect()
}

/// How a sentence calls a weft yarn.
pub(in crate::check) fn weft_name(index: usize, name: Option<&At<String>>) -> String {
    match name {
        Some(name) => format!("weft yarn `{}`", name.value),
        None => format!("weft yarn {}", index + 1),
    }
}
