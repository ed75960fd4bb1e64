//! What several tests of bundles share: a small sound bundle, and ways to spoil it.

#![allow(dead_code)] // Each test program uses a part of it.

use std::fs;
use std::io::{Cursor, Write};
use std::path::{Path, PathBuf};

use offloom::audit::{Fault, Kind, Verdict, judge};
use offloom::bundle::{
    BagInfo, BundleName, Contents, Edition, Issued, Item, Source, TagFile, issue,
};
use tempfile::TempDir;
use zip::write::SimpleFileOptions;

pub const FRONT: &str = "data/photos/front.jpg";
pub const NOTES: &str = "data/notes.md";

pub fn bytes(path: &str, octets: &[u8]) -> Item {
    Item {
        path: path.to_owned(),
        from: Source::Bytes(octets.to_vec()),
    }
}

pub fn contents(slug: &str, payload: Vec<Item>) -> Contents {
    Contents {
        name: BundleName::new(slug, 1, Edition::Studio).unwrap(),
        payload,
        info: BagInfo(vec![
            ("Source-Organization".into(), "Brackwater Tapestry".into()),
            ("External-Identifier".into(), "tide-tables".into()),
        ]),
        tags: vec![TagFile {
            name: "about.txt".into(),
            octets: b"A tag file.\n".to_vec(),
        }],
    }
}

/// An invented piece with two files; its octets are different everywhere.
pub fn sound_contents() -> Contents {
    let front: Vec<u8> = (0..600_u32).map(|n| (n * 31 % 251) as u8).collect();
    contents(
        "tide-tables",
        vec![
            bytes("photos/front.jpg", &front),
            bytes(
                "notes.md",
                "## 2026-03-04 · 5.5 h\nLow water green.\n".as_bytes(),
            ),
            bytes("empty.txt", b""),
        ],
    )
}

pub fn issue_in(folder: &Path, contents: &Contents) -> Issued {
    issue(folder, contents, &mut |_| {}, &|| false).unwrap_or_else(|e| panic!("{e}"))
}

/// A folder, and the path of a sound bundle in it.
pub fn sound_bundle() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let issued = issue_in(folder.path(), &sound_contents());
    (folder, issued.path)
}

/// Judges octets as a zip of that name.
pub fn judge_octets(octets: &[u8]) -> Verdict {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tide-tables.r1.zip");
    fs::write(&path, octets).unwrap();
    judge(&path)
}

pub fn has(verdict: &Verdict, kind: Kind, file: &str) -> bool {
    verdict
        .faults
        .iter()
        .any(|fault| fault.kind == kind && fault.file == file)
}

pub fn shown(verdict: &Verdict) -> String {
    let lines: Vec<String> = verdict
        .faults
        .iter()
        .map(|f: &Fault| format!("{:?} {f}", f.kind))
        .collect();
    format!("{}:\n{}", verdict.standing, lines.join("\n"))
}

/// The files of a zip, in the order in which they lie in it.
pub fn unzipped(octets: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut zip = zip::ZipArchive::new(Cursor::new(octets)).unwrap();
    (0..zip.len())
        .map(|at| {
            let mut entry = zip.by_index(at).unwrap();
            let mut content = Vec::new();
            std::io::Read::read_to_end(&mut entry, &mut content).unwrap();
            (entry.name().unwrap().into_owned(), content)
        })
        .collect()
}

/// A zip of these files, written with the general-purpose library alone.
pub fn zipped(files: &[(String, Vec<u8>)], method: zip::CompressionMethod) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, content) in files {
        let options = SimpleFileOptions::default().compression_method(method);
        zip.start_file(name, options).unwrap();
        zip.write_all(content).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// Unpacks a bundle into a folder and gives the bag's own folder.
pub fn unpacked(bundle: &Path) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let mut top = String::new();
    for (name, content) in unzipped(&fs::read(bundle).unwrap()) {
        top = name.split('/').next().unwrap().to_owned();
        let path = folder.path().join(&name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, content).unwrap();
    }
    let bag = folder.path().join(top);
    (folder, bag)
}

/// Where the first occurrence of `part` lies.
pub fn place_of(octets: &[u8], part: &[u8]) -> usize {
    octets
        .windows(part.len())
        .position(|window| window == part)
        .expect("the part is there")
}
