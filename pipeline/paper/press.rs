//! The press: sets a template with its data and makes the archival PDF. What stands in the data is
//! decided elsewhere.

use super::face::Face;
use super::letters::Letters;
use super::plates::Plates;
use super::words::Lexicon;
use super::world::{Room, Shop, Supply};
use super::{PaperError, Sheet, Wanting};
use serde::Serialize;
use serde_json::Value;
use typst::WorldExt;
use typst::diag::SourceDiagnostic;
use typst::ecow::EcoVec;
use typst::foundations::{Bytes, Smart};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

/// How many papers a result stays remembered for: long enough for the shared style, short enough
/// that a shelf of pieces fits into memory.
const REMEMBERED: usize = 5;

/// Fonts, library, templates and words, made once and used for every paper.
pub struct Press {
    shop: Shop,
    pub(super) lexicon: Lexicon,
    standards: PdfStandards,
}

impl Default for Press {
    fn default() -> Self {
        Press::new()
    }
}

/// A paper before it is set.
pub(super) struct Draft<'a, D: Serialize> {
    pub template: &'static str,
    /// Stable name of the document: record number and paper.
    pub ident: String,
    pub data: &'a D,
    pub plates: &'a Plates<'a>,
    pub code: Option<String>,
    pub record: Option<&'a [u8]>,
    pub wanting: Vec<Wanting>,
}

impl Press {
    /// The press with the embedded face.
    pub fn new() -> Press {
        Press::with(&Face::default())
            .unwrap_or_else(|_| unreachable!("the embedded words are whole; a test reads each"))
    }

    /// The press with a studio's own face; every fault of its files otherwise.
    pub fn with(face: &Face) -> Result<Press, Vec<PaperError>> {
        let shop = Shop::new(face);
        let lexicon = Lexicon::with(face);
        match (shop, lexicon) {
            (Ok(shop), Ok(lexicon)) => Ok(Press {
                shop,
                lexicon,
                standards: PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1])
                    .expect("PDF/A-3a and PDF/UA-1 both rest on PDF 1.7; a test holds it"),
            }),
            (shop, lexicon) => Err(shop
                .err()
                .into_iter()
                .chain(lexicon.err())
                .flatten()
                .collect()),
        }
    }

    /// Sets a draft.
    pub(super) fn set<D: Serialize>(&self, draft: Draft<D>) -> Result<Sheet, PaperError> {
        self.set_with(draft, Vec::new())
    }

    /// Sets a draft that asks for further files.
    pub(super) fn set_with<D: Serialize>(
        &self,
        draft: Draft<D>,
        more: Vec<(Supply, Bytes)>,
    ) -> Result<Sheet, PaperError> {
        let mut data =
            serde_json::to_value(draft.data).map_err(|e| PaperError::plain(draft.template, e))?;
        let mut letters = Letters::new(|c| self.shop.can_print(c));
        letters.tidy(&mut data);
        // Only the families that this paper needs: a face on the machine changes no other paper.
        let families = self.shop.families_for(&letters.printed());
        if let Some(common) = data.get_mut("common").and_then(Value::as_object_mut) {
            common.insert("faces".to_string(), families.into());
        }
        let mut supplies = supplies(&data, draft.plates, draft.code, draft.record)
            .map_err(|e| PaperError::plain(draft.template, e))?;
        supplies.extend(more);
        let room = Room::new(&self.shop, draft.template, supplies);
        let answer = typst::compile::<PagedDocument>(&room);
        let warnings = answer
            .warnings
            .iter()
            .map(|w| located(&room, draft.template, w).to_string())
            .collect();
        let result = answer
            .output
            .and_then(|document| {
                let options = PdfOptions {
                    ident: Smart::Custom(draft.ident),
                    // Without a version, so that a newer program makes the same bytes where it can.
                    creator: Smart::Custom(Some("offloom".to_string())),
                    timestamp: None,
                    page_ranges: None,
                    standards: self.standards.clone(),
                    tagged: true,
                    pretty: false,
                };
                let pdf = typst_pdf::pdf(&document, &options)?;
                Ok((pdf, document.pages().len()))
            })
            .map_err(|all: EcoVec<SourceDiagnostic>| match all.first() {
                Some(first) => located(&room, draft.template, first),
                None => PaperError::plain(draft.template, "no reason given"),
            });
        typst::comemo::evict(REMEMBERED);
        let (pdf, pages) = result?;
        Ok(Sheet {
            pdf,
            pages,
            missing_glyphs: letters.missing(),
            wanting: draft.wanting,
            warnings,
        })
    }
}

fn supplies(
    data: &Value,
    plates: &Plates,
    code: Option<String>,
    record: Option<&[u8]>,
) -> Result<Vec<(Supply, Bytes)>, serde_json::Error> {
    let mut out = vec![(Supply::Data, Bytes::new(serde_json::to_vec(data)?))];
    let mut add = |what, bytes: Option<Vec<u8>>| {
        if let Some(bytes) = bytes {
            out.push((what, Bytes::new(bytes)));
        }
    };
    let jpeg = |p: &Option<super::Picture>| p.as_ref().map(|p| p.jpeg.to_vec());
    add(Supply::Front, jpeg(&plates.front));
    add(Supply::Second, jpeg(&plates.second));
    add(
        Supply::Ladder,
        plates.ladder_svg.map(|s| s.as_bytes().to_vec()),
    );
    add(Supply::Code, code.map(String::into_bytes));
    add(Supply::Record, record.map(<[u8]>::to_vec));
    Ok(out)
}

/// An error with its place in the template. A diagnostic in a data file has none of ours, so the
/// template's name alone is given.
fn located(room: &Room, template: &'static str, what: &SourceDiagnostic) -> PaperError {
    let at = what
        .span
        .id()
        .zip(room.range(what.span))
        .map(|(id, range)| room.place(id, range.start));
    let (file, line, column) = at.unwrap_or((template.trim_start_matches('/'), 0, 0));
    let mut message = what.message.to_string();
    for hint in &what.hints {
        message.push_str("; ");
        message.push_str(&hint.v);
    }
    PaperError {
        own: room.is_own(file),
        template: file.to_string(),
        line,
        column,
        message,
    }
}
