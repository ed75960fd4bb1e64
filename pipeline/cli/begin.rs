//! `offloom begin`: a new archive, or a folder for a piece in it. What comes from lists and photographs stands in
//! `intake.rs`.

use super::Exit;
use super::args::Begin;
use super::show::Screen;
use super::stop::Stop;
use crate::disk::{self, DiskError};
use crate::gather::intake::{NOTES, PIECE, serves_as_folder};
use serde_json::json;
use std::path::{Path, PathBuf};

const STUDIO: &str = include_str!("../../templates/begin/studio.yaml");

pub(super) fn run(screen: &Screen, asked: &Begin, stop: &Stop) -> Exit {
    if let Some(from) = &asked.from {
        return super::intake::run(screen, asked, from, stop);
    }
    let made = match &asked.piece {
        None => new_archive(&asked.archive),
        Some(slug) => new_piece(&asked.archive, slug, asked.title.as_deref()),
    };
    match made {
        Ok(made) => {
            if screen.json {
                let made: Vec<String> = made.iter().map(|p| p.display().to_string()).collect();
                screen.document(&json!({ "made": made }));
            } else if made.is_empty() {
                screen.tell("everything is there already; nothing was changed");
            } else {
                for path in &made {
                    screen.tell(&format!("made {}", path.display()));
                }
                screen.tell(&next(asked, &made));
            }
            Exit::Done
        }
        Err(message) => {
            screen.refuse(&message);
            Exit::Failed
        }
    }
}

fn next(asked: &Begin, made: &[PathBuf]) -> String {
    let archive = asked.archive.display();
    match &asked.piece {
        None => format!(
            "next: fill in {archive}/studio.yaml, then: offloom begin {archive} --piece NAME"
        ),
        Some(_) => {
            let file = made.iter().find(|p| p.ends_with("piece.yaml"));
            let file = file.map_or(archive.to_string(), |p| p.display().to_string());
            format!(
                "next: fill in {file}, put photographs into its folder photos, then: offloom check {archive}"
            )
        }
    }
}

pub(super) fn new_archive(archive: &Path) -> Result<Vec<PathBuf>, String> {
    let pieces = archive.join("pieces");
    let mut made = Vec::new();
    if !pieces.is_dir() {
        disk::make_folder(&pieces).map_err(told)?;
        made.push(pieces);
    }
    put(&archive.join("studio.yaml"), STUDIO, &mut made)?;
    Ok(made)
}

fn new_piece(archive: &Path, slug: &str, title: Option<&str>) -> Result<Vec<PathBuf>, String> {
    if !archive.join("studio.yaml").is_file() {
        return Err(format!(
            "{}: there is no studio.yaml here; make the archive first with `offloom begin {}`",
            archive.display(),
            archive.display()
        ));
    }
    if !serves_as_folder(slug) {
        return Err(format!(
            "`{}` does not serve as a folder's name; write letters, figures and hyphens, such as `sea-door`",
            slug.escape_debug()
        ));
    }
    let folder = archive.join("pieces").join(slug);
    let title = match title {
        None => String::new(),
        Some(title) => format!(" {}", as_yaml(title)?),
    };
    let mut made = Vec::new();
    let photos = folder.join("photos");
    if !photos.is_dir() {
        disk::make_folder(&photos).map_err(told)?;
        made.push(photos);
    }
    put(
        &folder.join("piece.yaml"),
        &PIECE.replace("{{title}}", &title),
        &mut made,
    )?;
    put(&folder.join("notes.md"), NOTES, &mut made)?;
    Ok(made)
}

/// A text as YAML on one line, quoted where it must be. JSON strings are YAML too, and never break
/// over lines.
fn as_yaml(text: &str) -> Result<String, String> {
    let plain = serde_yaml::to_string(text).map_err(|e| e.to_string())?;
    let plain = plain.trim_end();
    if plain.contains('\n') {
        return serde_json::to_string(text).map_err(|e| e.to_string());
    }
    Ok(plain.to_string())
}

/// Writes a file that is not there yet.
fn put(path: &Path, text: &str, made: &mut Vec<PathBuf>) -> Result<(), String> {
    match disk::write_new(path, text.as_bytes()) {
        Ok(()) => made.push(path.to_path_buf()),
        Err(DiskError::AlreadyThere { .. }) => {}
        Err(error) => return Err(told(error)),
    }
    Ok(())
}

fn told(error: DiskError) -> String {
    error.to_string()
}
