//! The main job: from the folders of finished pieces to their papers, plates and bundles. It brings
//! the stages together, piece by piece, and does nothing that a stage does itself. A fault in one
//! piece does not stop the others; a stop is heard between steps.

mod abreast;
mod corners;
mod darkroom;
mod described;
mod face;
mod inputs;
mod kept;
mod lacking;
mod merge;
mod palette;
mod parcel;
mod part;
mod piece;
mod proof;
mod sheets;
mod sights;
mod stamp;
mod survey;
mod time_stamp;
mod told;

pub use corners::{Proposal, propose};
pub use face::{Letters, press_of};
pub use kept::{Kept, KeptPlate};
pub use merge::{MergeError, Merged, merge};
pub use parcel::BundleState;
pub use part::Part;
pub use proof::PROOF;
pub use survey::{Survey, survey};

use crate::check::ranked;
use crate::check::while_setting::OWN_FACE;
use crate::disk::{self, DiskError, Lock};
use crate::read::{Archive, PieceFolder, Sources};
use crate::record::{Finding, Paper, Place, Rank};
use crate::seal::{SealKey, Signers};
use abreast::abreast;
use piece::Bench;
use std::path::Path;

/// What is to be finished, and where to.
pub struct Order<'a> {
    /// The output folder.
    pub out: &'a Path,
    /// Only these pieces; all where empty.
    pub only: &'a [String],
    /// Only the pieces of this part.
    pub part: Option<Part>,
    /// Pieces whose bundle gets a new revision even if nothing changed.
    pub reissue: &'a [String],
    /// Where to find letters for scripts that the papers' own lack.
    pub fonts: Option<&'a Letters>,
    /// Only these papers, and no bundle; all of both where empty.
    pub papers: &'a [Paper],
    /// Whether every page goes on one contact sheet as well.
    pub proof: bool,
    /// Who seals the bundles, if anybody does.
    pub sealing: Option<&'a Sealing>,
    /// The fingerprint of the studio's present key, for the certificate.
    pub seal_key: Option<&'a str>,
}

/// The studio's key, opened, and the list of its keys over the years.
pub struct Sealing {
    /// The key.
    pub key: SealKey,
    /// All the studio's keys with their days.
    pub signers: Signers,
}

/// Who is told how it goes.
pub trait Watcher: Sync {
    /// A piece is done, one way or the other.
    fn done(&self, slug: &str);
    /// Whether to stop.
    fn stop(&self) -> bool;
    /// Another run holds the output folder; this one waits for it.
    fn waiting(&self);
}

/// What came of an order.
pub struct Outcome {
    /// Every piece of the order, by name.
    pub pieces: Vec<Finished>,
    /// Every finding about them, the gravest first.
    pub findings: Vec<Finding>,
    /// The texts of the studio's own face, to show findings in.
    pub texts: Sources,
    /// Pages on the contact sheet; `None` where none was asked for or nothing was made, else why there is
    /// no sheet.
    pub proof: Option<Result<usize, String>>,
}

/// What came of one piece.
#[derive(Debug)]
pub struct Finished {
    /// The piece's folder name.
    pub slug: String,
    /// Its title, if it could be read.
    pub title: Option<String>,
    /// How it ended.
    pub state: State,
    /// Files made or still there, by their path in the piece's output folder.
    pub files: Vec<String>,
    /// The record number to read aloud, with its check digit.
    pub record_number: Option<String>,
    /// The bundle.
    pub bundle: Option<BundleState>,
    /// The owner's edition of it, where the piece has an owner.
    pub owner_bundle: Option<BundleState>,
    /// What the record does not say and the papers therefore leave out.
    pub wanting: Vec<String>,
}

/// How a piece ended.
#[derive(Debug, PartialEq)]
pub enum State {
    /// Papers or bundle were made.
    Made,
    /// Nothing had changed.
    Unchanged,
    /// It has findings of rank error, or could not be read.
    NeedsMending,
    /// The machine failed; why.
    Failed(String),
    /// A stop was asked for before it was done.
    Stopped,
}

impl Finished {
    fn unmade(slug: &str, title: Option<String>, state: State) -> Finished {
        Finished {
            slug: slug.to_string(),
            title,
            state,
            files: Vec::new(),
            record_number: None,
            bundle: None,
            owner_bundle: None,
            wanting: Vec::new(),
        }
    }
}

/// Finishes the pieces of an order.
pub fn finish(
    archive: &Archive,
    order: &Order,
    watcher: &dyn Watcher,
) -> Result<Outcome, DiskError> {
    // Whatever folder was named, it is no archive: nothing is made in it.
    if archive.pieces.is_empty() {
        return Ok(Outcome {
            pieces: Vec::new(),
            findings: ranked(archive.findings.clone()),
            texts: Sources::new(),
            proof: None,
        });
    }
    disk::make_folder(order.out)?;
    let (mut waiting, stop) = (|| watcher.waiting(), || watcher.stop());
    let lock = match order.part {
        None => Lock::take(order.out, &mut waiting, &stop)?,
        Some(part) => Lock::share(order.out, part.of(), &mut waiting, &stop)?,
    };
    let bundles = order.out.join("bundles");
    disk::make_folder(&bundles)?;
    // What looks left over may be another part's, still being written.
    if lock.is_alone() {
        disk::sweep_leftovers(order.out, &lock)?;
        disk::sweep_leftovers(&bundles, &lock)?;
    }

    let (own, press, mut of_face) = face::press(archive, order.fonts)?;
    let across = survey::across(archive);
    let studio_fails =
        |f: &Finding| f.kind.rank == Rank::Error && !f.place.file.starts_with("pieces/");
    let stuck = archive.findings.iter().any(studio_fails);
    let bench = Bench {
        studio: archive
            .studio
            .as_ref()
            .filter(|_| !stuck && of_face.is_empty()),
        press,
        program: face::program(&own, order.seal_key),
        sources: &archive.sources,
        out: order.out,
        bundles: &bundles,
        only: order.papers,
        sealing: order.sealing,
        seal_key: order.seal_key,
        lock: &lock,
        watcher,
    };
    let chosen: Vec<&PieceFolder> = archive
        .pieces
        .iter()
        .filter(|folder| order.only.is_empty() || order.only.contains(&folder.slug))
        .filter(|folder| order.part.is_none_or(|part| part.holds(&folder.slug)))
        .collect();
    let results = abreast(&chosen, |folder| {
        let earlier: Vec<&Finding> = archive
            .findings
            .iter()
            .chain(&across)
            .filter(|f| belongs(&f.place, &folder.slug))
            .collect();
        let reissue = order.reissue.contains(&folder.slug);
        let result = bench.finish(folder, &earlier, reissue);
        watcher.done(&folder.slug);
        result
    });
    let slugs: Vec<String> = results.iter().map(|(f, _)| f.slug.clone()).collect();
    let mut findings: Vec<Finding> = archive
        .findings
        .iter()
        .chain(&across)
        .filter(|f| {
            of_interest(
                &f.place,
                &slugs,
                order.only.is_empty() && order.part.is_none(),
            )
        })
        .cloned()
        .collect();
    findings.append(&mut of_face);
    let mut pieces = Vec::new();
    for (piece, found) in results {
        pieces.push(piece);
        for finding in found {
            // A fault in a template of hers meets every piece, and is told once.
            if finding.kind != OWN_FACE || !findings.contains(&finding) {
                findings.push(finding);
            }
        }
    }
    let proof = match (order.proof, bench.studio) {
        (true, Some(studio)) => proof::write(
            &bench.press,
            &studio.studio,
            &pieces,
            order.papers,
            order.out,
        )
        .map_err(|e| e.to_string())
        .transpose(),
        _ => None,
    };
    Ok(Outcome {
        pieces,
        findings: ranked(findings),
        texts: face::texts(&own),
        proof,
    })
}

/// Whether a place lies in a piece's folder.
fn belongs(place: &Place, slug: &str) -> bool {
    place
        .file
        .strip_prefix("pieces/")
        .and_then(|rest| rest.strip_prefix(slug))
        .is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
}

/// Whether a finding is shown: of the pieces asked for, and of what is nobody's own.
fn of_interest(place: &Place, slugs: &[String], all: bool) -> bool {
    all || !place.file.starts_with("pieces/") || slugs.iter().any(|slug| belongs(place, slug))
}
