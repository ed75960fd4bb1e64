//! What goes into a piece's papers and bundle, as digests: every file of its folder and what
//! studio.yaml says. Two runs with the same inputs make the same bytes.

use crate::disk::{self, DiskError};
use crate::read::PieceFolder;
use crate::record::Studio;
use data_encoding::HEXLOWER;
use rayon::prelude::*;
use sha2::{Digest, Sha256};

/// The digests of a piece's inputs.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Inputs {
    /// Path in the piece's folder and SHA-256, in the order of the paths.
    pub files: Vec<(String, String)>,
    /// One digest over all of them and the studio's words.
    pub digest: String,
}

impl Inputs {
    /// Digests every file of the piece's folder, streaming.
    pub fn of(studio: &Studio, folder: &PieceFolder) -> Result<Inputs, DiskError> {
        let files: Vec<(String, String)> = folder
            .listing
            .files
            .par_iter()
            .map(|file| {
                let digests = disk::digest_file(&file.path)?;
                Ok((file.relative.clone(), digests.sha256.to_string()))
            })
            .collect::<Result<_, DiskError>>()?;
        let mut all = Sha256::new();
        for (name, value) in studio.words() {
            all.update(format!("studio {} {name} {value}\n", value.len()));
        }
        for (path, digest) in &files {
            all.update(format!("file {} {path} {digest}\n", path.len()));
        }
        Ok(Inputs {
            digest: HEXLOWER.encode(&all.finalize()),
            files,
        })
    }

    /// The digest of one file of the piece's folder.
    pub fn of_file(&self, path: &str) -> Option<&str> {
        self.files
            .iter()
            .find(|(p, _)| p == path)
            .map(|(_, d)| d.as_str())
    }
}
