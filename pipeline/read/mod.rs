//! From folders and YAML to the record. Everything that is wrong becomes a finding with its place;
//! nothing is guessed, nothing is written. serde has no part here: a weaver needs every slip of one
//! run with its line and column, and serde stops at the first.

mod archive;
mod exhibition;
mod fields;
mod hanging;
pub mod kinds;
mod makers;
mod materials;
mod measured;
mod names;
mod notes;
mod packing;
mod people;
mod photos;
mod piece;
pub mod sheet;
mod studio;
mod stumble;
mod table;
mod values;
mod yaml;

pub use archive::{Archive, PieceFolder, Sources};
pub use exhibition::{Exhibitions, exhibition_from};
pub use makers::TOGETHER;
pub(crate) use makers::with_tables;
pub use names::same_name;
pub(crate) use values::{nearest, printable};

use crate::record::{Finding, Notes, Piece, Place, Studio};
use std::sync::Arc;
use values::Desk;

/// Reads the text of a studio.yaml.
pub fn studio_from(file: &Arc<str>, text: &str) -> (Option<Studio>, Vec<Finding>) {
    with_tree(file, text, |desk, place, root| {
        studio::studio(desk, place, root)
    })
}

/// Reads the text of a piece.yaml. The notes are read apart.
pub fn piece_from(slug: &str, file: &Arc<str>, text: &str) -> (Option<Piece>, Vec<Finding>) {
    with_tree(file, text, |desk, place, root| {
        piece::piece(desk, slug, place, root)
    })
}

/// Reads the text of a notes.md.
pub fn notes_from(file: &Arc<str>, text: &str) -> (Notes, Vec<Finding>) {
    let desk = Desk::default();
    let notes = notes::notes(&desk, file, text);
    (notes, desk.into_findings())
}

fn with_tree<T>(
    file: &Arc<str>,
    text: &str,
    read: impl FnOnce(&Desk, &Place, &yaml::Node) -> Option<T>,
) -> (Option<T>, Vec<Finding>) {
    let mut findings = Vec::new();
    let place = Place::file(file);
    let Some(root) = yaml::parse(file, text, &mut findings) else {
        if findings.is_empty() {
            findings.push(kinds::NOT_YAML.at(
                &place,
                "the file is empty",
                "`offloom begin` makes one with every field explained",
            ));
        }
        return (None, findings);
    };
    let desk = Desk::default();
    let value = read(&desk, &place, &root);
    findings.extend(desk.into_findings());
    (value, findings)
}
