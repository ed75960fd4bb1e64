//! The papers of one piece, from the press.

use super::abreast::abreast;
use super::darkroom::Album;
use super::told;
use crate::paper::{
    CarrierView, InstallerView, KeeperView, OnFile, OwnerView, PaperError, Picture, Plates, Press,
    PublicView, RegistrarView, Sheet, StudioView, lacks, with_work,
};
use crate::picture::of_work;
use crate::reckon::Reckoning;
use crate::record::{Paper, Photo, Piece, RecordNumber, Studio, View};
use std::io::Cursor;

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

/// Views that a registrar compares besides the front, the most telling first.
const BASELINE: &[View] = &[View::Back, View::Detail, View::Signature, View::Installed];

/// Sets the chosen papers.
#[allow(clippy::too_many_arguments)] // Each is one of the things a paper is made from.
pub(super) fn set(
    press: &Press,
    seal_key: Option<&str>,
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
    let small = Plates {
        front: (piece.photo(View::Front)).and_then(|p| small_picture(album, p)),
        second: None,
        ladder_svg: album.ladder.as_deref(),
    };
    let public = PublicView::of(studio, piece, reckoning, number);
    let owner = OwnerView::of(studio, piece, reckoning, number).sealed_by(seal_key);
    let work = of_work(&told::work(&press.caption(studio, piece, number)));
    let mut papers = Papers {
        files: Vec::new(),
        wanting: Vec::new(),
        missing: String::new(),
    };
    let set_one = |paper: &Paper| -> Result<Vec<Sheet>, PaperError> {
        Ok(match paper {
            Paper::CareLabel => vec![
                press.care_label(&public, &plates)?,
                press.single_label(&public, &plates)?,
            ],
            Paper::Certificate => vec![press.certificate(&owner, record, &plates)?],
            Paper::CataloguePage => vec![press.catalogue_page(&public, &plates)?],
            Paper::OwnerSheet => {
                let keeper = KeeperView::of(studio, piece, reckoning, number);
                vec![press.owner_sheet(&keeper, &small)?]
            }
            Paper::HangingSheet => {
                let installer = InstallerView::of(studio, piece, reckoning, number);
                vec![press.hanging_sheet(&installer, &small)?]
            }
            Paper::PackingSheet => {
                let carrier = CarrierView::of(studio, piece, reckoning, number);
                vec![press.packing_sheet(&carrier, &plates)?]
            }
            Paper::ConditionSheet => {
                let on_file = on_file(album, piece);
                let second = BASELINE
                    .iter()
                    .find_map(|view| Some((*view, small_picture(album, piece.photo(*view)?)?)));
                let view = second.as_ref().map(|s| s.0);
                let registrar = RegistrarView::of(studio, piece, reckoning, number, on_file, view);
                let plates = Plates {
                    second: second.map(|s| s.1),
                    ..small.clone()
                };
                vec![press.condition_sheet(&registrar, &plates)?]
            }
            Paper::StudioSheet => {
                let wanting = lacks(&studio.papers(), studio, piece, reckoning, number, &plates);
                let view = StudioView::of(studio, piece, reckoning, number, wanting);
                vec![press.studio_sheet(&view, &plates)?]
            }
        })
    };
    let set = abreast(chosen, set_one);
    for (paper, sheets) in chosen.iter().zip(set) {
        for (file, sheet) in paper.files().iter().zip(sheets?) {
            let wanting: Vec<String> = sheet.wanting.iter().map(|w| w.what.to_string()).collect();
            papers.join(&wanting, &sheet.missing_glyphs.iter().collect::<String>());
            let pdf = with_work(&sheet.pdf, &work).map_err(|why| PaperError::of(file, why))?;
            papers.files.push((file, pdf));
        }
    }
    let mut json = serde_json::to_vec_pretty(&reckoning.to_json()).unwrap_or_default();
    json.push(b'\n');
    papers.files.push(("reckoning.json", json));
    Ok(papers)
}

/// The print plate of a photograph for a paper.
fn picture<'a>(album: &'a Album, photo: &Photo) -> Option<Picture<'a>> {
    let plates = album.print(photo)?.plates.as_ref()?;
    Some(pictured(&plates.print, plates.print_size, photo))
}

/// Its screen plate, for a paper that shows it small.
fn small_picture<'a>(album: &'a Album, photo: &Photo) -> Option<Picture<'a>> {
    let jpeg = &album.print(photo)?.plates.as_ref()?.screen;
    let reader = image::ImageReader::with_format(Cursor::new(jpeg), image::ImageFormat::Jpeg);
    Some(pictured(jpeg, reader.into_dimensions().ok()?, photo))
}

fn pictured<'a>(jpeg: &'a [u8], (width, height): (u32, u32), photo: &Photo) -> Picture<'a> {
    let words = photo.alt.as_ref().map(|a| a.value.clone());
    Picture {
        jpeg,
        width,
        height,
        alt: words.unwrap_or_default(),
        credit: photo.credit.as_ref().map(|c| c.value.clone()),
    }
}

/// The photographs that are there, with what identifies each, in the order of the record.
fn on_file(album: &Album, piece: &Piece) -> Vec<OnFile> {
    let each = |photo: &Photo| {
        let print = album.print(photo)?;
        Some(OnFile {
            taken: print.sight.taken.clone(),
            pixels: print.sight.size,
            sha256: print.sha256.clone(),
            ..OnFile::listed(photo)
        })
    };
    piece.photos.iter().filter_map(each).collect()
}
