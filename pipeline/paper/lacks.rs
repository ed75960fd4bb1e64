//! What each paper leaves out since the record does not say it, without setting the paper: the studio
//! sheet lists it for all of them.

use super::plates::Plates;
use super::{
    CarrierView, InstallerView, KeeperView, OnFile, OwnerView, PublicView, RegistrarView, Wanting,
    catalogue, certificate, drawn, keeping, label,
};
use crate::reckon::Reckoning;
use crate::record::{Paper, Piece, RecordNumber, Studio};

/// What the papers leave out, each thing once, in the order of the papers.
pub fn lacks(
    papers: &[Paper],
    studio: &Studio,
    piece: &Piece,
    reckoning: &Reckoning,
    number: &RecordNumber,
    plates: &Plates,
) -> Vec<&'static str> {
    let public = PublicView::of(studio, piece, reckoning, number);
    let of = |paper: &Paper| -> Vec<Wanting> {
        match paper {
            Paper::CareLabel => label::wanting(&public),
            Paper::Certificate => {
                let owner = OwnerView::of(studio, piece, reckoning, number);
                certificate::wanting(&owner, plates)
            }
            Paper::CataloguePage => catalogue::wanting(&public, plates),
            Paper::OwnerSheet => {
                keeping::wanting(&KeeperView::of(studio, piece, reckoning, number))
            }
            Paper::HangingSheet => {
                drawn::hanging_wants(&InstallerView::of(studio, piece, reckoning, number))
            }
            Paper::PackingSheet => {
                drawn::packing_wants(&CarrierView::of(studio, piece, reckoning, number))
            }
            Paper::ConditionSheet => {
                // What is on file is not known here; what the record lists counts as there.
                let listed = piece.photos.iter().map(OnFile::listed).collect();
                let registrar = RegistrarView::of(studio, piece, reckoning, number, listed, None);
                drawn::condition_wants(&registrar)
            }
            Paper::StudioSheet => Vec::new(),
        }
    };
    let mut out = Vec::new();
    for wanting in papers.iter().flat_map(of) {
        if !out.contains(&wanting.what) {
            out.push(wanting.what);
        }
    }
    out
}
