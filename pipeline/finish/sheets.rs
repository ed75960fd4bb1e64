//! The papers of one piece, from the press.

use super::darkroom::{Album, Print};
use crate::paper::{OwnerView, PaperError, Picture, Plates, Press, PublicView, Sheet};
use crate::reckon::Reckoning;
use crate::record::{Photo, Piece, RecordNumber, Studio, View};

/// The papers as files, and what was learned while setting them.
pub(super) struct Papers {
    /// Name and bytes.
    pub files: Vec<(&'static str, Vec<u8>)>,
    /// What the record does not say and the papers leave out, in words, each once.
    pub wanting: Vec<String>,
    /// Characters that the letters lack.
    pub missing: String,
}

/// Views that may stand beside the front plate on the catalogue page, the best first.
const SECOND: &[View] = &[View::Detail, View::Installed, View::Signature, View::Back];

/// Sets care label, certificate and catalogue page.
pub(super) fn set(
    press: &Press,
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
    let sheets: [(&'static str, Sheet); 4] = [
        ("care-label.pdf", press.care_label(&public, &plates)?),
        (
            "care-label-single.pdf",
            press.single_label(&public, &plates)?,
        ),
        (
            "certificate.pdf",
            press.certificate(&owner, record, &plates)?,
        ),
        (
            "catalogue-page.pdf",
            press.catalogue_page(&public, &plates)?,
        ),
    ];
    let mut papers = Papers {
        files: Vec::new(),
        wanting: Vec::new(),
        missing: String::new(),
    };
    for (name, sheet) in sheets {
        for wanting in &sheet.wanting {
            let words = wanting.what.to_string();
            if !papers.wanting.contains(&words) {
                papers.wanting.push(words);
            }
        }
        for c in &sheet.missing_glyphs {
            if !papers.missing.contains(*c) {
                papers.missing.push(*c);
            }
        }
        papers.files.push((name, sheet.pdf));
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
