//! The papers of one piece, from the press.

use super::darkroom::{Album, Print};
use crate::paper::{
    CarrierView, InstallerView, KeeperView, OwnerView, PaperError, Picture, Plates, Press,
    PublicView, Sheet, StudioView, lacks,
};
use crate::reckon::Reckoning;
use crate::record::{Paper, Photo, Piece, RecordNumber, Studio, View};

/// The papers as files, and what was learned while setting them.
pub(super) struct Papers {
    /// Name and bytes.
    pub files: Vec<(&'static str, Vec<u8>)>,
    /// What the record does not say and the papers leave out, in words, each once.
    pub wanting: Vec<String>,
    /// Characters that the letters lack.
    pub missing: String,
}

impl Papers {
    /// Adds what was learned when the papers that stay were set.
    pub fn join(&mut self, wanting: &[String], missing: &str) {
        for words in wanting {
            if !self.wanting.contains(words) {
                self.wanting.push(words.clone());
            }
        }
        for c in missing.chars() {
            if !self.missing.contains(c) {
                self.missing.push(c);
            }
        }
    }
}

/// Views that may stand beside the front plate on the catalogue page, the best first.
const SECOND: &[View] = &[View::Detail, View::Installed, View::Signature, View::Back];

/// Sets the chosen papers.
#[allow(clippy::too_many_arguments)] // Each is one of the things a paper is made from.
pub(super) fn set(
    press: &Press,
    chosen: &[Paper],
    studio: &Studio,
    piece: &Piece,
    reckoning: &Reckoning,
    number: &RecordNumber,
    record: &[u8],
    album: &Album,
) -> Result<Papers, PaperError> {
    let plates = Plates {
        front: piece.photo(View::Front).and_then(|p| picture(album, p)),
        second: SECOND
            .iter()
            .find_map(|view| picture(album, piece.photo(*view)?)),
        ladder_svg: album.ladder.as_deref(),
    };
    let public = PublicView::of(studio, piece, reckoning, number);
    let owner = OwnerView::of(studio, piece, reckoning, number);
    let mut papers = Papers {
        files: Vec::new(),
        wanting: Vec::new(),
        missing: String::new(),
    };
    for paper in chosen {
        let sheets: Vec<Sheet> = match paper {
            Paper::CareLabel => vec![
                press.care_label(&public, &plates)?,
                press.single_label(&public, &plates)?,
            ],
            Paper::Certificate => vec![press.certificate(&owner, record, &plates)?],
            Paper::CataloguePage => vec![press.catalogue_page(&public, &plates)?],
            Paper::OwnerSheet => {
                let keeper = KeeperView::of(studio, piece, reckoning, number);
                vec![press.owner_sheet(&keeper, &plates)?]
            }
            Paper::HangingSheet => {
                let installer = InstallerView::of(studio, piece, reckoning, number);
                vec![press.hanging_sheet(&installer, &plates)?]
            }
            Paper::PackingSheet => {
                let carrier = CarrierView::of(studio, piece, reckoning, number);
                vec![press.packing_sheet(&carrier, &plates)?]
            }
            Paper::StudioSheet => {
                let wanting = lacks(&studio.papers(), studio, piece, reckoning, number, &plates);
                let view = StudioView::of(studio, piece, reckoning, number, wanting);
                vec![press.studio_sheet(&view, &plates)?]
            }
        };
        for (file, sheet) in paper.files().iter().zip(sheets) {
            let wanting: Vec<String> = sheet.wanting.iter().map(|w| w.what.to_string()).collect();
            papers.join(&wanting, &sheet.missing_glyphs.iter().collect::<String>());
            papers.files.push((file, sheet.pdf));
        }
    }
    let mut json = serde_json::to_vec_pretty(&reckoning.to_json()).unwrap_or_default();
    json.push(b'\n');
    papers.files.push(("reckoning.json", json));
    Ok(papers)
}

/// The print plate of a photograph for a paper.
fn picture<'a>(album: &'a Album, photo: &Photo) -> Option<Picture<'a>> {
    let print: &Print = album.print(photo)?;
    let plates = print.plates.as_ref()?;
    let words = photo.alt.as_ref().map(|a| a.value.clone());
    Some(Picture {
        jpeg: &plates.print,
        width: plates.print_size.0,
        height: plates.print_size.1,
        alt: words.unwrap_or_default(),
        credit: photo.credit.as_ref().map(|c| c.value.clone()),
    })
}
