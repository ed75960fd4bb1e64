//! The proof: what was made, read back and laid out on one contact sheet.

use super::{Finished, State};
use crate::disk::{self, DiskError};
use crate::paper::{Press, Stack, leaves};
use crate::record::Paper;
use rayon::prelude::*;
use std::path::Path;

/// The contact sheet's file in the output folder.
pub const PROOF: &str = "proof.pdf";
/// The largest paper that is read back.
const LARGEST: u64 = 256 * 1024 * 1024;

/// Lays out every page of the pieces, of the papers asked for or of all, and writes the sheet. `None`
/// where there is no page.
pub(super) fn write(
    press: &Press,
    studio: &str,
    pieces: &[Finished],
    papers: &[Paper],
    out: &Path,
) -> Result<Option<usize>, ProofError> {
    let made = |p: &&Finished| matches!(p.state, State::Made | State::Unchanged);
    let pieces: Vec<&Finished> = pieces.iter().filter(made).collect();
    let stacks: Vec<Stack> = pieces
        .par_iter()
        .map(|piece| stack(piece, papers, out))
        .collect::<Result<_, _>>()?;
    let stacks: Vec<Stack> = (stacks.into_iter())
        .filter(|s| !s.leaves.is_empty())
        .collect();
    let count = stacks.iter().map(|s| s.leaves.len()).sum();
    if count == 0 {
        return Ok(None);
    }
    let sheet = press
        .proof(studio, &stacks)
        .map_err(|e| ProofError::Words(format!("the proof could not be set: {e}")))?;
    disk::write_whole(&out.join(PROOF), &sheet.pdf)?;
    Ok(Some(count))
}

/// Why there is no proof.
#[derive(Debug, thiserror::Error)]
pub(super) enum ProofError {
    /// The disk failed.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// A paper could not be shown.
    #[error("{0}")]
    Words(String),
}

fn stack(piece: &Finished, papers: &[Paper], out: &Path) -> Result<Stack, ProofError> {
    let asked = |p: &&Paper| papers.is_empty() || papers.contains(p);
    let mut all = Vec::new();
    for file in Paper::ALL.iter().filter(asked).flat_map(|p| p.files()) {
        if !piece.files.iter().any(|made| made == file) {
            continue;
        }
        let path = out.join(&piece.slug).join(file);
        let pages = leaves(disk::read_limited(&path, LARGEST)?)
            .map_err(|why| ProofError::Words(format!("{}/{file}: {why}", piece.slug)))?;
        let of = pages.len();
        let name = file.trim_end_matches(".pdf");
        for (i, leaf) in pages.into_iter().enumerate() {
            let caption = if of == 1 {
                name.to_string()
            } else {
                format!("{name}, {} of {of}", i + 1)
            };
            all.push((caption, leaf));
        }
    }
    let head = match &piece.title {
        Some(title) => format!("{} · {title}", piece.slug),
        None => piece.slug.clone(),
    };
    Ok(Stack { head, leaves: all })
}
