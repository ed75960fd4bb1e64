//! One piece: seen, judged, reckoned, set, written, bundled.

use super::darkroom::{Album, Former, develop_all};
use super::face;
use super::inputs::Inputs;
use super::lacking;
use super::parcel::{self, Parcel};
use super::sheets::{self, Papers};
use super::stamp::{OutputStamp, STAMP, Stamp};
use super::survey::of_piece;
use super::told::inscribed;
use super::{Finished, Sealing, State, Watcher};
use crate::check::has_error;
use crate::disk::{self, DiskError, Lock};
use crate::paper::Press;
use crate::read::{PieceFolder, Sources};
use crate::reckon::Reckoning;
use crate::record::{Finding, Paper, Piece, RecordNumber, Studio, View, declared};
use sha2::{Digest, Sha256};
use std::path::Path;

/// What every piece is finished with.
pub(super) struct Bench<'a> {
    /// The studio; none where studio.yaml needs mending.
    pub studio: Option<&'a Studio>,
    pub press: Press,
    /// The program and the face of its papers, as a stamp names them.
    pub program: String,
    /// The texts that were read, to find a character's place in.
    pub sources: &'a Sources,
    pub out: &'a Path,
    pub bundles: &'a Path,
    /// Only these papers, and no bundle; all of both where empty.
    pub only: &'a [Paper],
    /// Who seals the bundles, if anybody does.
    pub sealing: Option<&'a Sealing>,
    /// The fingerprint of the studio's present key, for the certificate.
    pub seal_key: Option<&'a str>,
    pub lock: &'a Lock,
    pub watcher: &'a dyn Watcher,
}

/// Why a piece went no further.
pub(super) enum Halt {
    Disk(DiskError),
    Words(String),
    /// The weaver can mend it.
    Mend(Box<Finding>),
    Stopped,
}

impl From<DiskError> for Halt {
    fn from(error: DiskError) -> Self {
        match error {
            DiskError::Stopped { .. } => Halt::Stopped,
            error => Halt::Disk(error),
        }
    }
}

impl Bench<'_> {
    /// Finishes one piece; `earlier` are the findings of reading and across pieces.
    pub fn finish(
        &self,
        folder: &PieceFolder,
        earlier: &[&Finding],
        reissue: bool,
    ) -> (Finished, Vec<Finding>) {
        let title = folder.piece.as_ref().map(|p| p.title.value.clone());
        let unmade = |state| Finished::unmade(&folder.slug, title.clone(), state);
        if self.watcher.stop() {
            return (unmade(State::Stopped), Vec::new());
        }
        let (Some(studio), Some(piece)) = (self.studio, folder.piece.as_ref()) else {
            return (unmade(State::NeedsMending), Vec::new());
        };
        let mut findings = Vec::new();
        let blocked = earlier
            .iter()
            .any(|f| f.kind.rank == crate::record::Rank::Error);
        match self.try_finish(studio, folder, piece, blocked, reissue, &mut findings) {
            Ok(finished) => (finished, findings),
            Err(Halt::Stopped) => (unmade(State::Stopped), findings),
            Err(Halt::Disk(error)) => (unmade(State::Failed(error.to_string())), findings),
            Err(Halt::Mend(finding)) => {
                findings.push(*finding);
                (unmade(State::NeedsMending), findings)
            }
            Err(Halt::Words(words)) => (unmade(State::Failed(words)), findings),
        }
    }

    fn try_finish(
        &self,
        studio: &Studio,
        folder: &PieceFolder,
        piece: &Piece,
        blocked: bool,
        reissue: bool,
        findings: &mut Vec<Finding>,
    ) -> Result<Finished, Halt> {
        let inputs = Inputs::of(studio, folder)?;
        let home = self.out.join(&folder.slug);
        let program = self.program.as_str();
        let stamp = Stamp::read(&home).filter(|s| s.program == program);
        let former = stamp.as_ref().map(|stamp| Former {
            folder: &home,
            stamp,
        });
        let stop = || self.watcher.stop();
        let mut album = develop_all(folder, piece, Some(&inputs), former.as_ref(), &stop)?;
        if self.watcher.stop() {
            return Err(Halt::Stopped);
        }
        findings.extend(of_piece(Some(studio), folder, piece, &album));
        let title = Some(piece.title.value.clone());
        if blocked || has_error(findings) {
            return Ok(Finished::unmade(&folder.slug, title, State::NeedsMending));
        }

        let front = piece.photo(View::Front).and_then(|p| album.print(p));
        let record = declared(studio, piece, front.map(|p| p.sha256.as_str()));
        let number = RecordNumber::of(&record);
        let unchanged = stamp
            .filter(|s| s.inputs == inputs.digest && s.whole(&home) && self.has_chosen(studio, s))
            .map(|s| (s.outputs, s.wanting, s.missing_characters));
        let fresh = unchanged.is_none();
        let (outputs, wanting, missing) = match unchanged {
            Some(kept) => kept,
            None => {
                let papers = self.papers(studio, piece, &number, &record, &mut album)?;
                self.write(&home, program, &inputs, &record, &album, papers)?
            }
        };
        findings.extend(lacking::findings(&missing, folder, piece, self.sources));
        let paths: Vec<String> = outputs.iter().map(|o| o.path.clone()).collect();
        // A bundle holds every paper, so a run for some of them issues none.
        let (mut bundle, mut owner_bundle) = (None, None);
        if self.only.is_empty() {
            let parcel = Parcel {
                studio,
                piece,
                folder,
                inputs: &inputs,
                number: &number,
                record: &record,
                home: &home,
                outputs: &outputs,
                bundles: self.bundles,
                reissue,
                sealing: self.sealing,
                press: &self.press,
                plates: album.plate_names(),
                stop: &stop,
            };
            let studio_bundle = parcel::issue(&parcel)?;
            owner_bundle = parcel::issue_owner(&parcel, studio_bundle.revision())?;
            bundle = Some(studio_bundle);
        }
        let new_bundle = [&bundle, &owner_bundle]
            .iter()
            .any(|b| matches!(b, Some(parcel::BundleState::Issued { .. })));
        Ok(Finished {
            slug: folder.slug.clone(),
            title,
            state: if fresh || new_bundle {
                State::Made
            } else {
                State::Unchanged
            },
            files: paths,
            record_number: Some(number.nih()),
            bundle,
            owner_bundle,
            wanting,
        })
    }

    /// The papers of this run: those asked for, else those that the studio makes.
    fn chosen(&self, studio: &Studio) -> Vec<Paper> {
        if self.only.is_empty() {
            studio.papers()
        } else {
            self.only.to_vec()
        }
    }

    /// Whether every paper of this run is among what was made.
    fn has_chosen(&self, studio: &Studio, stamp: &Stamp) -> bool {
        let made = |file: &&str| stamp.outputs.iter().any(|o| o.path == *file);
        self.chosen(studio)
            .iter()
            .all(|p| p.files().iter().all(made))
    }

    /// Writes the words into the plates and sets the papers. That a paper can not be set is the program's fault or a template's, never the
    /// record's.
    fn papers(
        &self,
        studio: &Studio,
        piece: &Piece,
        number: &RecordNumber,
        record: &[u8],
        album: &mut Album,
    ) -> Result<Papers, Halt> {
        let reckoning = Reckoning::of(studio, piece);
        let press = &self.press;
        inscribed(album, piece, &press.caption(studio, piece, number));
        sheets::set(press, self.seal_key, &self.chosen(studio), studio, piece, &reckoning, number, record, album).map_err(|error| {
            if error.own {
                return Halt::Mend(Box::new(face::broken(&error)));
            }
            Halt::Words(format!(
                "a paper could not be set, which is a fault of the program and not of the record; please report it: {error}"
            ))
        })
    }

    /// Writes everything, each file whole or not at all, the stamp last; takes away what an earlier
    /// run made and this one does not.
    fn write(
        &self,
        home: &Path,
        program: &str,
        inputs: &Inputs,
        record: &[u8],
        album: &Album,
        mut papers: Papers,
    ) -> Result<(Vec<OutputStamp>, Vec<String>, String), Halt> {
        disk::make_folder(home)?;
        disk::make_folder(&home.join("plates"))?;
        disk::sweep_leftovers(home, self.lock)?;
        disk::sweep_leftovers(&home.join("plates"), self.lock)?;
        let mut files: Vec<(String, &[u8])> = album.files();
        files.push(("record.json".to_string(), record));
        for (name, bytes) in &papers.files {
            files.push((name.to_string(), bytes));
        }
        files.sort_by(|a, b| a.0.cmp(&b.0));
        let old = Stamp::read(home);
        let mut outputs = Vec::new();
        for (path, bytes) in files {
            if self.watcher.stop() {
                return Err(Halt::Stopped);
            }
            disk::write_whole(&home.join(&path), bytes)?;
            outputs.push(OutputStamp {
                path,
                sha256: data_encoding::HEXLOWER.encode(&Sha256::digest(bytes)),
            });
        }
        let (mut kept, mut left) = (Vec::new(), Vec::new());
        if let Some(old) = old {
            let same = old.program == program && old.inputs == inputs.digest;
            if same && !self.only.is_empty() {
                papers.join(&old.wanting, &old.missing_characters);
            }
            for out in old
                .outputs
                .iter()
                .chain(&old.left)
                .filter(|o| !outputs.iter().any(|n| n.path == o.path))
            {
                if !old.holds(home, &out.path) {
                    continue;
                }
                if self.only.is_empty() {
                    disk::remove(&home.join(&out.path))?;
                } else if same && old.outputs.contains(out) {
                    kept.push(out.clone());
                } else {
                    left.push(out.clone());
                }
            }
        }
        outputs.extend(kept);
        outputs.sort_by(|a, b| a.path.cmp(&b.path));
        let stamp = Stamp {
            program: program.to_string(),
            inputs: inputs.digest.clone(),
            photos: album.stamps(),
            outputs,
            left,
            wanting: papers.wanting,
            missing_characters: papers.missing,
        };
        disk::write_whole(&home.join(STAMP), &stamp.to_bytes())?;
        Ok((stamp.outputs, stamp.wanting, stamp.missing_characters))
    }
}
