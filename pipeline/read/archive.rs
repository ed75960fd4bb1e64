//! The whole archive from its folder: studio, pieces, notes, and what lies in each piece's folder.

use super::{kinds, notes_from, piece_from, same_name, studio_from, with_tables};
use crate::disk::{self, DiskError, Listing};
use crate::record::{Finding, FindingKind, Piece, Place, Studio};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The largest YAML file that is read. A piece of 2,000 yarns is under half of it.
const LARGEST_YAML: u64 = 2 * 1024 * 1024;
/// The largest notes.md that is read.
const LARGEST_NOTES: u64 = 16 * 1024 * 1024;

/// The texts that were read, by the name findings use for the file.
pub type Sources = BTreeMap<Arc<str>, String>;

/// An archive as read.
#[derive(Debug)]
pub struct Archive {
    /// Its folder.
    pub root: PathBuf,
    /// The studio, if studio.yaml could be read.
    pub studio: Option<Studio>,
    /// The text of studio.yaml, for the bundle.
    pub studio_file: Option<Vec<u8>>,
    /// Every piece's folder, in the order of their names.
    pub pieces: Vec<PieceFolder>,
    /// What reading found.
    pub findings: Vec<Finding>,
    /// The texts, to show findings in.
    pub sources: Sources,
}

/// One piece's folder.
#[derive(Debug)]
pub struct PieceFolder {
    /// The folder's name.
    pub slug: String,
    /// Where it is.
    pub path: PathBuf,
    /// What piece.yaml and notes.md say, if they could be read.
    pub piece: Option<Piece>,
    /// Every file in it.
    pub listing: Listing,
}

impl PieceFolder {
    /// The name that findings use for a file in this folder.
    pub fn file(&self, relative: &str) -> Arc<str> {
        format!("pieces/{}/{relative}", self.slug).into()
    }

    /// The place of a whole file in this folder.
    pub fn place(&self, relative: &str) -> Place {
        Place::file(&self.file(relative))
    }
}

impl Archive {
    /// Reads an archive. What can not be read is a finding; only a folder that is not there at all is
    /// an error.
    pub fn read(root: &Path) -> Result<Archive, DiskError> {
        let mut archive = Archive {
            root: root.to_path_buf(),
            studio: None,
            studio_file: None,
            pieces: Vec::new(),
            findings: Vec::new(),
            sources: Sources::new(),
        };
        let folders = disk::subfolders(root)?;
        archive.read_studio();
        if let Some(left) = folders.escaping.iter().find(|l| l.relative == "pieces") {
            archive.findings.push(kinds::LEAVES_FOLDER.at(
                &Place::file(&"pieces".into()),
                format!("`pieces` {}", left.reason),
                "put the folder itself here: an archive is complete in its own folder",
            ));
            return Ok(archive);
        }
        if !folders.folders.iter().any(|name| name == "pieces") {
            archive.findings.push(kinds::NO_PIECES.at(
                &Place::file(&"pieces".into()),
                "there is no folder `pieces`",
                remedy_without_pieces(root),
            ));
            return Ok(archive);
        }
        archive.read_pieces(&root.join("pieces"))?;
        Ok(archive)
    }

    fn read_studio(&mut self) {
        let file: Arc<str> = "studio.yaml".into();
        let path = self.root.join("studio.yaml");
        let mut reader = Reader::of(&self.root);
        if let Some(text) = reader.text(&path, &file, LARGEST_YAML, Needed::Yes) {
            let (studio, findings) = studio_from(&file, &text);
            self.studio = studio;
            reader.findings.extend(findings);
            self.studio_file = Some(text.clone().into_bytes());
            reader.sources.insert(file, text);
        }
        self.take(reader);
    }

    /// Takes over what a reader found.
    fn take(&mut self, mut reader: Reader) {
        self.findings.append(&mut reader.findings);
        // Not `append`, which builds the whole map anew each time.
        self.sources.extend(reader.sources);
    }

    fn read_pieces(&mut self, folder: &Path) -> Result<(), DiskError> {
        let inside = disk::subfolders(folder)?;
        for left in inside.escaping {
            let place = Place::file(&format!("pieces/{}", left.relative).into());
            self.findings.push(kinds::LEAVES_FOLDER.at(
                &place,
                format!("`{}` {}", left.relative, left.reason),
                "put the piece's own folder here instead of a link",
            ));
        }
        for left in inside.misnamed {
            let place = Place::file(&format!("pieces/{}", left.relative).into());
            self.findings.push(kinds::AWKWARD_FOLDER.at(
                &place,
                format!("the folder's name {}", left.reason),
                "rename the folder: letters, figures and hyphens serve best",
            ));
        }
        let mut plain = Vec::new();
        for slug in inside.folders {
            if slug.chars().any(char::is_control) || slug.len() > 100 {
                let shown = slug.escape_debug().to_string();
                self.findings.push(kinds::AWKWARD_FOLDER.at(
                    &Place::file(&format!("pieces/{shown}").into()),
                    "the folder's name is too long or holds a line end or another control character",
                    "rename the folder: letters, figures and hyphens serve best",
                ));
                continue;
            }
            plain.push(slug);
        }
        // Each piece by itself, as many at once as there are cores; then in the order of the folders.
        let read: Vec<(Option<PieceFolder>, Reader)> = plain
            .into_par_iter()
            .map(|slug| {
                let mut reader = Reader::of(&self.root);
                (reader.piece(slug, folder), reader)
            })
            .collect();
        for (piece, reader) in read {
            self.pieces.extend(piece);
            self.take(reader);
        }
        if self.pieces.is_empty()
            && self
                .findings
                .iter()
                .all(|f| f.kind != kinds::AWKWARD_FOLDER)
        {
            self.findings.push(kinds::NO_PIECES.at(
                &Place::file(&"pieces".into()),
                "there is no piece in the folder `pieces`",
                format!(
                    "make a first one with `offloom begin {} --piece NAME`",
                    self.root.display()
                ),
            ));
        }
        Ok(())
    }
}

/// Reads files of an archive, and keeps what it found.
struct Reader {
    /// The archive's folder without links, if there is such a way to say it.
    root: Option<PathBuf>,
    findings: Vec<Finding>,
    sources: Sources,
}

impl Reader {
    fn of(root: &Path) -> Reader {
        Reader {
            root: root.canonicalize().ok(),
            findings: Vec::new(),
            sources: Sources::new(),
        }
    }

    /// A piece's folder; nothing where it can not be listed.
    fn piece(&mut self, slug: String, pieces: &Path) -> Option<PieceFolder> {
        let path = pieces.join(&slug);
        let listing = match disk::list_folder(&path) {
            Ok(listing) => listing,
            Err(error) => {
                let place = Place::file(&format!("pieces/{slug}").into());
                self.findings.push(unreadable(&place, &error));
                return None;
            }
        };
        let mut folder = PieceFolder {
            slug,
            path,
            piece: None,
            listing,
        };
        self.findings.extend(left_out(&folder));
        // A link that leads out has its finding already, and is not followed.
        let inside = |name: &str| folder.listing.escaping.iter().all(|l| l.relative != name);
        let (read_piece, read_notes) = (inside("piece.yaml"), inside("notes.md"));
        let file = folder.file("piece.yaml");
        let at = folder.path.join("piece.yaml");
        let text = read_piece.then(|| self.text(&at, &file, LARGEST_YAML, Needed::Yes));
        if let Some(text) = text.flatten() {
            let (mut piece, findings) = piece_from(&folder.slug, &file, &text);
            for photo in piece.iter_mut().flat_map(|p| &mut p.photos) {
                as_stored(&folder.listing, "photos/", &mut photo.file.value);
            }
            for makers in piece.iter_mut().filter_map(|p| p.makers.as_mut()) {
                let map = makers.squares.as_mut().and_then(|s| s.map.as_mut());
                for table in makers.roll_file.as_mut().into_iter().chain(map) {
                    as_stored(&folder.listing, "", &mut table.value);
                }
            }
            self.findings.extend(findings);
            self.sources.insert(file, text);
            if let Some(piece) = &mut piece {
                let found = with_tables(piece, |name| self.table(&folder, name));
                self.findings.extend(found);
            }
            folder.piece = piece;
        }
        let file = folder.file("notes.md");
        let at = folder.path.join("notes.md");
        let text = read_notes.then(|| self.text(&at, &file, LARGEST_NOTES, Needed::No));
        if let Some(text) = text.flatten() {
            let (notes, findings) = notes_from(&file, &text);
            self.findings.extend(findings);
            if let Some(piece) = &mut folder.piece {
                piece.notes = notes;
            }
            self.sources.insert(file, text);
        }
        Some(folder)
    }

    /// A table in a piece's folder: a file of its own, never what a link leads to.
    fn table(&mut self, folder: &PieceFolder, name: &str) -> Option<(Arc<str>, String)> {
        let mut files = folder.listing.files.iter();
        files.find(|file| file.relative == name)?;
        let file = folder.file(name);
        let text = self.text(&folder.path.join(name), &file, LARGEST_YAML, Needed::No)?;
        self.sources.insert(file.clone(), text.clone());
        Some((file, text))
    }

    /// A text file's content, without a byte order mark. That it is not there is a finding only where
    /// it is needed.
    fn text(&mut self, path: &Path, file: &Arc<str>, limit: u64, needed: Needed) -> Option<String> {
        let place = Place::file(file);
        let stays = path
            .canonicalize()
            .ok()
            .zip(self.root.as_ref())
            .is_none_or(|(path, root)| path.starts_with(root));
        if !stays {
            self.findings.push(kinds::LEAVES_FOLDER.at(
                &place,
                "this is a link to a file outside the archive",
                "put the file itself here: an archive is complete in its own folder",
            ));
            return None;
        }
        match disk::read_text_limited(path, limit) {
            Ok(text) => Some(
                text.strip_prefix('\u{feff}')
                    .map_or(text.clone(), str::to_string),
            ),
            Err(error) if error.is_missing() => {
                if needed == Needed::Yes {
                    self.findings.push(kinds::UNREADABLE_FILE.at(
                        &place,
                        "this file is not there",
                        "`offloom begin` makes one with every field explained",
                    ));
                }
                None
            }
            Err(error) => {
                self.findings.push(unreadable(&place, &error));
                None
            }
        }
    }
}

/// Replaces a written file name by the stored one where they differ in their normal form alone, so
/// that everybody after this can open it.
fn as_stored(listing: &Listing, folder: &str, written: &mut String) {
    let names = listing
        .files
        .iter()
        .filter_map(|file| file.relative.strip_prefix(folder));
    if let Some(stored) = same_name(names, written) {
        *written = stored.to_string();
    }
}

/// What to do where there is no folder `pieces`: perhaps one piece's own folder was named.
fn remedy_without_pieces(root: &Path) -> String {
    if disk::open_file(&root.join("piece.yaml")).is_ok() {
        let name = root
            .file_name()
            .map_or("NAME".into(), |n| n.to_string_lossy());
        return format!(
            "this is the folder of one piece: name the archive it lies in, which holds studio.yaml and `pieces`, and the piece with `--piece {name}`"
        );
    }
    format!(
        "make a first piece with `offloom begin {} --piece NAME`",
        root.display()
    )
}

#[derive(Clone, Copy, PartialEq)]
enum Needed {
    Yes,
    No,
}

fn unreadable(place: &Place, error: &DiskError) -> Finding {
    // The place says which file it is; the sentence need not.
    let path = format!("{}: ", error.path().display());
    let complaint = error.complaint();
    let complaint = complaint.strip_prefix(&path).unwrap_or(&complaint);
    let remedy = error.remedy();
    let mut rest = remedy.trim_end_matches('.').chars();
    let first = rest.next().into_iter().flat_map(char::to_lowercase);
    let remedy: String = first.chain(rest).collect();
    kinds::UNREADABLE_FILE.at(place, complaint, remedy)
}

/// Findings about entries that can not be archived as they are.
fn left_out(folder: &PieceFolder) -> Vec<Finding> {
    let l = &folder.listing;
    let mut findings = Vec::new();
    let mut tell = |kind: FindingKind, all: &[disk::LeftOut], remedy: &str| {
        for left in all {
            let shown = left.relative.escape_debug().to_string();
            let place = folder.place(&shown);
            findings.push(kind.at(&place, format!("`{shown}`: {}", left.reason), remedy));
        }
    };
    tell(
        kinds::LEAVES_FOLDER,
        &l.escaping,
        "put the file itself into the piece's folder: a bundle holds no links",
    );
    tell(
        kinds::UNREADABLE_FILE,
        &l.unreadable,
        "mend or remove the link, or give yourself leave to read the file",
    );
    tell(
        kinds::NOT_ARCHIVED,
        &l.special,
        "take it out of the folder: only files can be archived",
    );
    tell(
        kinds::NOT_ARCHIVED,
        &l.misnamed,
        "rename it with letters of this system's encoding (UTF-8)",
    );
    findings
}
