//! The closed world a paper is set in: embedded templates and faces, and a few in-memory files with
//! fixed names. There is no file system, no network, no package and no clock in it.

use std::collections::BTreeMap;
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
    ("/drawing.typ", include_str!("../../templates/drawing.typ")),
    (
        "/hanging-sheet.typ",
        include_str!("../../templates/hanging-sheet.typ"),
    ),
    (
        "/packing-sheet.typ",
        include_str!("../../templates/packing-sheet.typ"),
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
}

impl Supply {
    const ALL: &'static [(Supply, &'static str)] = &[
        (Supply::Data, "/data.json"),
        (Supply::Front, "/plate-front.jpg"),
        (Supply::Second, "/plate-second.jpg"),
        (Supply::Ladder, "/ladder.svg"),
        (Supply::Code, "/qr.svg"),
        (Supply::Record, "/record.json"),
    ];
}

/// What all papers share: made once.
pub(super) struct Shop {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    faces: Vec<Font>,
    templates: BTreeMap<&'static str, Source>,
}

/// Typst's own order of file names is not the same from run to run, so files are kept by path.
fn id(path: &str) -> FileId {
    let vpath = VirtualPath::new(path).expect("every path here is a plain constant");
    RootedPath::new(VirtualRoot::Project, vpath).intern()
}

fn path_of(id: FileId) -> &'static str {
    id.get().vpath().get_with_slash()
}

impl Shop {
    pub(super) fn new() -> Shop {
        let faces: Vec<Font> = typst_assets::fonts()
            .flat_map(|data| Font::iter(Bytes::new(data)))
            .filter(|face| {
                let info = face.info();
                info.family == FAMILY
                    && info.variant.weight == FontWeight::REGULAR
                    && matches!(info.variant.style, FontStyle::Normal | FontStyle::Italic)
            })
            .collect();
        let templates = TEMPLATES
            .iter()
            .map(|(path, text)| (*path, Source::new(id(path), (*text).to_string())))
            .collect();
        // Cells that head a row can be marked as such in the tags only with this feature.
        let features: Features = [Feature::A11yExtras].into_iter().collect();
        Shop {
            library: LazyHash::new(Library::builder().with_features(features).build()),
            book: LazyHash::new(FontBook::from_fonts(&faces)),
            faces,
            templates,
        }
    }

    /// Whether every face in use can print the character.
    pub(super) fn can_print(&self, c: char) -> bool {
        self.faces
            .iter()
            .all(|face| face.info().coverage.contains(u32::from(c)))
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
