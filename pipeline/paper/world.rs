//! The closed world a paper is set in: embedded templates and faces, those of a studio's own face, and
//! a few in-memory files with fixed names. There is no file system, no network, no package and no clock in it.

use super::PaperError;
use super::face::{self, Face};
use std::collections::{BTreeMap, BTreeSet};
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook, FontStyle, FontWeight};
use typst::utils::LazyHash;
use typst::{Feature, Features, Library, LibraryExt, World};

/// The one family of every paper. Its faces are embedded under the SIL Open Font Licence.
const FAMILY: &str = "Libertinus Serif";

pub(super) const TEMPLATES: &[(&str, &str)] = &[
    ("/style.typ", include_str!("../../templates/style.typ")),
    (
        "/care-label.typ",
        include_str!("../../templates/care-label.typ"),
    ),
    (
        "/certificate.typ",
        include_str!("../../templates/certificate.typ"),
    ),
    (
        "/catalogue-page.typ",
        include_str!("../../templates/catalogue-page.typ"),
    ),
    (
        "/owner-sheet.typ",
        include_str!("../../templates/owner-sheet.typ"),
    ),
    (
        "/studio-sheet.typ",
        include_str!("../../templates/studio-sheet.typ"),
    ),
    ("/proof.typ", include_str!("../../templates/proof.typ")),
    ("/drawing.typ", include_str!("../../templates/drawing.typ")),
    (
        "/hanging-sheet.typ",
        include_str!("../../templates/hanging-sheet.typ"),
    ),
    (
        "/packing-sheet.typ",
        include_str!("../../templates/packing-sheet.typ"),
    ),
    (
        "/catalogue.typ",
        include_str!("../../templates/catalogue.typ"),
    ),
    (
        "/wall-labels.typ",
        include_str!("../../templates/wall-labels.typ"),
    ),
    (
        "/hang-plan.typ",
        include_str!("../../templates/hang-plan.typ"),
    ),
    ("/quote.typ", include_str!("../../templates/quote.typ")),
    (
        "/show-list.typ",
        include_str!("../../templates/show-list.typ"),
    ),
    (
        "/credits-panel.typ",
        include_str!("../../templates/credits-panel.typ"),
    ),
    (
        "/squares-map.typ",
        include_str!("../../templates/squares-map.typ"),
    ),
    (
        "/thanks-sheets.typ",
        include_str!("../../templates/thanks-sheets.typ"),
    ),
    ("/signs.typ", include_str!("../../templates/signs.typ")),
    (
        "/condition-sheet.typ",
        include_str!("../../templates/condition-sheet.typ"),
    ),
];

/// A file a paper may ask for. The names are fixed, since Typst keeps every name it ever heard, and
/// no more than 65,535 of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Supply {
    /// Everything the paper says.
    Data,
    /// The front plate.
    Front,
    /// A second plate.
    Second,
    /// The colour ladder.
    Ladder,
    /// The record number's code.
    Code,
    /// The declared record, to be attached.
    Record,
    /// Pages of other papers as JPEGs, one behind the other.
    Leaves,
}

impl Supply {
    const ALL: &'static [(Supply, &'static str)] = &[
        (Supply::Data, "/data.json"),
        (Supply::Front, "/plate-front.jpg"),
        (Supply::Second, "/plate-second.jpg"),
        (Supply::Ladder, "/ladder.svg"),
        (Supply::Code, "/qr.svg"),
        (Supply::Record, "/record.json"),
        (Supply::Leaves, "/pictures.bin"),
    ];
}

/// What all papers share: made once.
pub(super) struct Shop {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    faces: Vec<Font>,
    /// How many of the faces are embedded; the others serve where those lack a character.
    embedded: usize,
    templates: BTreeMap<&'static str, Source>,
    /// Files of the studio's own face that are no templates.
    more: BTreeMap<&'static str, Bytes>,
    /// Which files are the studio's own.
    own: BTreeSet<&'static str>,
}

/// Typst's own order of file names is not the same from run to run, so files are kept by path.
fn id(path: &str) -> FileId {
    let vpath = VirtualPath::new(path).expect("every path here is a plain constant");
    RootedPath::new(VirtualRoot::Project, vpath).intern()
}

fn path_of(id: FileId) -> &'static str {
    id.get().vpath().get_with_slash()
}

/// Whether a font's table of contents (OpenType 1.9, "Organization of an OpenType font") lists outlines.
fn has_outlines(font: &Font) -> bool {
    let data = font.data().as_slice();
    let number = |at: usize, size: usize| {
        let bytes = data.get(at..at.checked_add(size)?)?;
        Some(bytes.iter().fold(0, |n, b| n << 8 | usize::from(*b)))
    };
    let start = match data.get(..4) {
        Some(b"ttcf") => number(12 + 4 * font.index() as usize, 4),
        _ => Some(0),
    };
    let tables = start.and_then(|at| Some((at + 12, number(at + 4, 2)?)));
    tables.is_some_and(|(first, count)| {
        (0..count)
            .filter_map(|i| data.get(first + 16 * i..first + 16 * i + 4))
            .any(|tag| matches!(tag, b"glyf" | b"CFF " | b"CFF2"))
    })
}

impl Shop {
    pub(super) fn new(face: &Face) -> Result<Shop, Vec<PaperError>> {
        let mut faces: Vec<Font> = typst_assets::fonts()
            .flat_map(|data| Font::iter(Bytes::new(data)))
            .filter(|face| {
                let info = face.info();
                info.family == FAMILY
                    && info.variant.weight == FontWeight::REGULAR
                    && matches!(info.variant.style, FontStyle::Normal | FontStyle::Italic)
            })
            .collect();
        let embedded = faces.len();
        // Letters that are pictures have no outlines to be set with.
        faces.extend(
            face.letters()
                .iter()
                .flat_map(|bytes| Font::iter(Bytes::new(bytes.clone())))
                .filter(|face| face.info().family != FAMILY && has_outlines(face)),
        );
        let mut templates: BTreeMap<&'static str, Source> = TEMPLATES
            .iter()
            .map(|(path, text)| (*path, Source::new(id(path), (*text).to_string())))
            .collect();
        let (mut more, mut own) = (BTreeMap::new(), BTreeSet::new());
        let mut faults = Vec::new();
        for (path, bytes) in face.files() {
            let id = match VirtualPath::new(path) {
                Ok(vpath) => RootedPath::new(VirtualRoot::Project, vpath).intern(),
                Err(_) => {
                    faults.push(PaperError {
                        own: true,
                        ..PaperError::plain(path, "a file of this name can not be used")
                    });
                    continue;
                }
            };
            own.insert(path_of(id));
            if !path.ends_with(".typ") {
                more.insert(path_of(id), Bytes::new(bytes.to_vec()));
                continue;
            }
            match face::text(path, bytes) {
                Ok(text) => {
                    templates.insert(path_of(id), Source::new(id, text.to_string()));
                }
                Err(fault) => faults.push(fault),
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        // Cells that head a row can be marked as such in the tags only with this feature.
        let features: Features = [Feature::A11yExtras].into_iter().collect();
        Ok(Shop {
            library: LazyHash::new(Library::builder().with_features(features).build()),
            book: LazyHash::new(FontBook::from_fonts(&faces)),
            faces,
            embedded,
            templates,
            more,
            own,
        })
    }

    /// Whether every embedded face can print the character, or a further one.
    pub(super) fn can_print(&self, c: char) -> bool {
        self.embedded_prints(c) || self.further(c).is_some()
    }

    /// The families of the further faces that these characters need, in the order they were given.
    pub(super) fn families_for(&self, printed: &BTreeSet<char>) -> Vec<String> {
        let needed: BTreeSet<usize> = printed
            .iter()
            .filter(|c| !self.embedded_prints(**c))
            .filter_map(|c| self.further(*c))
            .collect();
        let mut names: Vec<String> = Vec::new();
        for face in needed.into_iter().filter_map(|i| self.faces.get(i)) {
            if !names.contains(&face.info().family) {
                names.push(face.info().family.clone());
            }
        }
        names
    }

    fn embedded_prints(&self, c: char) -> bool {
        let mut embedded = self.faces.iter().take(self.embedded);
        embedded.all(|face| face.info().coverage.contains(u32::from(c)))
    }

    /// The first further face that has the character.
    fn further(&self, c: char) -> Option<usize> {
        (self.embedded..self.faces.len()).find(|i| {
            let face = self.faces.get(*i);
            face.is_some_and(|face| face.info().coverage.contains(u32::from(c)))
        })
    }
}

/// One paper's world.
pub(super) struct Room<'a> {
    shop: &'a Shop,
    main: FileId,
    files: BTreeMap<&'static str, Bytes>,
}

impl<'a> Room<'a> {
    /// A world in which `template` is set with these supplies.
    pub(super) fn new(
        shop: &'a Shop,
        template: &'static str,
        supplies: Vec<(Supply, Bytes)>,
    ) -> Room<'a> {
        let files = supplies
            .into_iter()
            .filter_map(|(what, bytes)| {
                let (_, path) = Supply::ALL.iter().find(|(s, _)| *s == what)?;
                Some((*path, bytes))
            })
            .collect();
        Room {
            shop,
            main: id(template),
            files,
        }
    }

    /// Whether a file, by its name without the first stroke, is the studio's own.
    pub(super) fn is_own(&self, file: &str) -> bool {
        self.shop
            .own
            .iter()
            .any(|path| path.trim_start_matches('/') == file)
    }

    /// File, line and column of a byte in a template, from 1.
    pub(super) fn place(&self, id: FileId, byte: usize) -> (&'static str, usize, usize) {
        let path = path_of(id);
        let at = self.shop.templates.get(path).and_then(|source| {
            let lines = source.lines();
            Some((lines.byte_to_line(byte)?, lines.byte_to_column(byte)?))
        });
        let (line, column) = at.map_or((0, 0), |(l, c)| (l + 1, c + 1));
        (path.trim_start_matches('/'), line, column)
    }
}

impl World for Room<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &self.shop.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.shop.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let found = self.shop.templates.get(path_of(id)).cloned();
        found.ok_or_else(|| FileError::NotFound(path_of(id).into()))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let path = path_of(id);
        if let Some(bytes) = self.files.get(path) {
            return Ok(bytes.clone());
        }
        if let Some(bytes) = self.shop.more.get(path) {
            return Ok(bytes.clone());
        }
        let source = self.source(id)?;
        Ok(Bytes::from_string(source.text().to_string()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.shop.faces.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}
