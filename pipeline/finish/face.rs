//! The studio's own face: what lies in `papers/` of the archive, and letters that were asked for. A file
//! of hers takes the place of the embedded one of the same name. What leads out of that folder is not
//! followed but named.

use crate::check::while_setting::OWN_FACE;
use crate::disk::{self, DiskError, Found, list_folder};
use crate::paper::{self, Face, PaperError, Press};
use crate::read::{Archive, Sources};
use crate::record::{Finding, Place};
use std::path::{Path, PathBuf};

/// The folder of the face in the archive.
const FOLDER: &str = "papers";
/// No file of a face is larger: a template with its pictures is far smaller.
const LARGEST_FILE: u64 = 16 * 1024 * 1024;
/// No more files than this: each name is remembered by the typesetter until the program ends.
const MOST_FILES: usize = 500;
/// A font file that is larger is passed over on the machine, and refused where it was given.
const LARGEST_LETTERS: u64 = 64 * 1024 * 1024;

/// Where letters come from that the papers' own lack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Letters {
    /// The font files of a folder, in the order of their paths.
    Folder(PathBuf),
    /// Those that are installed on this machine for everybody. The same order may give other bytes on
    /// another machine, so nobody gets them without asking.
    System,
}

impl From<PathBuf> for Letters {
    /// `system` is the machine; a folder of that name is `./system`.
    fn from(path: PathBuf) -> Letters {
        if path.as_os_str() == "system" {
            Letters::System
        } else {
            Letters::Folder(path)
        }
    }
}

/// Where machines keep fonts for everybody. A user's own folders are not looked into: their place is
/// told only by the environment.
const MACHINE: &[&str] = &[
    "/usr/share/fonts",
    "/usr/local/share/fonts",
    "/System/Library/Fonts",
    "/Library/Fonts",
    "C:\\Windows\\Fonts",
];

/// The face of an archive, the press that sets it, and what is wrong with it. With a finding the press is
/// the embedded one, and no paper is to be made on it.
pub(super) fn press(
    archive: &Archive,
    letters: Option<&Letters>,
) -> Result<(Face, Press, Vec<Finding>), DiskError> {
    let mut face = Face::default();
    let mut findings = Vec::new();
    read_own(&archive.root, &mut face, &mut findings)?;
    match letters {
        None => {}
        Some(Letters::Folder(folder)) => {
            for file in fonts(folder)? {
                face.add_letters(disk::read_limited(&file.path, LARGEST_LETTERS)?);
            }
        }
        Some(Letters::System) => {
            for file in MACHINE
                .iter()
                .filter_map(|folder| fonts(Path::new(folder)).ok())
                .flatten()
            {
                if let Ok(bytes) = disk::read_limited(&file.path, LARGEST_LETTERS) {
                    face.add_letters(bytes);
                }
            }
        }
    }
    match Press::with(&face) {
        Ok(press) => Ok((face, press, findings)),
        Err(faults) => {
            findings.extend(faults.iter().map(broken));
            Ok((face, Press::new(), findings))
        }
    }
}

/// The press of an archive for papers over many pieces, what is wrong with its face, and the face's texts to show it
/// in.
///
/// # Errors
/// Where a folder of letters can not be read.
pub fn press_of(
    archive: &Archive,
    letters: Option<&Letters>,
) -> Result<(Press, Vec<Finding>, Sources), DiskError> {
    let (face, press, findings) = press(archive, letters)?;
    Ok((press, findings, texts(&face)))
}

/// The program as a stamp names it: another version, other templates, another face or another key
/// on the certificate make everything anew.
pub(super) fn program(face: &Face, seal_key: Option<&str>) -> String {
    let mut name = format!(
        "offloom {} {}",
        env!("CARGO_PKG_VERSION"),
        paper::templates_digest()
    );
    if !face.is_plain() {
        name.push(' ');
        name.push_str(&face.digest());
    }
    if let Some(key) = seal_key {
        name.push(' ');
        name.push_str(key);
    }
    name
}

/// The texts of the face, by the names that findings use.
pub(super) fn texts(face: &Face) -> Sources {
    face.texts()
        .map(|(path, text)| (format!("{FOLDER}/{path}").into(), text.to_string()))
        .collect()
}

/// A fault in the face as a finding with its place.
pub(super) fn broken(error: &PaperError) -> Finding {
    let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let place = Place {
        file: format!("{FOLDER}/{}", error.template).into(),
        line: number(error.line),
        column: number(error.column),
        length: u32::from(error.line > 0),
    };
    OWN_FACE.at(
        &place,
        error.message.clone(),
        "mend it there, or take the file away: then the program's own serves",
    )
}

fn read_own(root: &Path, face: &mut Face, findings: &mut Vec<Finding>) -> Result<(), DiskError> {
    let inside = disk::subfolders(root)?;
    let outside = "put the file itself there: a template sees nothing outside its folder";
    if let Some(left) = inside.escaping.iter().find(|l| l.relative == FOLDER) {
        let place = Place::file(&FOLDER.into());
        findings.push(OWN_FACE.at(&place, format!("`{FOLDER}` {}", left.reason), outside));
        return Ok(());
    }
    if !inside.folders.iter().any(|name| name == FOLDER) {
        return Ok(());
    }
    let listing = list_folder(&root.join(FOLDER))?;
    let lost = [&listing.escaping, &listing.unreadable, &listing.misnamed];
    for left in lost.into_iter().flatten() {
        let place = Place::file(&format!("{FOLDER}/{}", left.relative).into());
        findings.push(OWN_FACE.at(&place, format!("it {}", left.reason), outside));
    }
    for (count, file) in listing.files.iter().enumerate() {
        let place = Place::file(&format!("{FOLDER}/{}", file.relative).into());
        if file.size > LARGEST_FILE || count >= MOST_FILES {
            findings.push(OWN_FACE.at(
                &place,
                format!("`{FOLDER}` holds more than a face needs"),
                format!(
                    "keep to {MOST_FILES} files of {} MB each at most",
                    LARGEST_FILE >> 20
                ),
            ));
            return Ok(());
        }
        face.add_file(
            &file.relative,
            disk::read_limited(&file.path, LARGEST_FILE)?,
        );
    }
    Ok(())
}

/// The font files of a folder, by path.
fn fonts(folder: &Path) -> Result<Vec<Found>, DiskError> {
    let mut files = list_folder(folder)?.files;
    files.retain(|file| {
        let name = file.relative.to_ascii_lowercase();
        [".otf", ".ttf", ".ttc", ".otc"]
            .iter()
            .any(|end| name.ends_with(end))
    });
    Ok(files)
}
