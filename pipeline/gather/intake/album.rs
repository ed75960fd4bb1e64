//! Loose photographs to groups: by the day the camera says, and by what they look like.

use super::page::{Line, Page};
use super::row::photo_list;
use super::slug::folded;
use crate::disk::{self, DiskError, Found, Sha256Digest};
use crate::picture::{Fault, Format, Tints, glance};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The largest photograph that is read.
const LARGEST_PHOTO: u64 = 1600 * 1024 * 1024;
/// Bits of likeness that may differ in one picture saved twice (common practice, no source: a hash of 64 bits, a tenth
/// and a little more of them).
const SAME_PICTURE: u32 = 8;
/// How far the colours of two photographs of one day may lie apart in one group. Of the sample archive's photographs
/// 13 of 43 pairs of one piece lie within, and 17 of 282 pairs of two pieces (whose looms and yarn cards are alike): a
/// proposal, which she looks through.
const SAME_COLOURS: f64 = 0.4;
/// The same where a photograph has no date: 4 of those 43, 3 of those 282.
const SAME_COLOURS_UNDATED: f64 = 0.25;

/// One photograph that can be taken in.
#[derive(Debug, Clone, PartialEq)]
pub struct Loose {
    /// Its path in the folder.
    pub relative: String,
    /// Where it is.
    pub path: PathBuf,
    /// Its digest.
    pub digest: Sha256Digest,
    /// When it was taken, as the camera says: `2026-06-21T14:05:09`.
    pub taken: Option<String>,
    likeness: Option<u64>,
    tints: Option<Tints>,
}

impl Loose {
    /// The day it was taken.
    pub fn day(&self) -> Option<&str> {
        self.taken.as_deref().and_then(|t| t.get(..10))
    }

    fn same_picture(&self, other: &Loose) -> bool {
        self.likeness
            .zip(other.likeness)
            .is_some_and(|(a, b)| (a ^ b).count_ones() <= SAME_PICTURE)
    }

    fn colours_apart(&self, other: &Loose) -> f64 {
        let both = self.tints.as_ref().zip(other.tints.as_ref());
        both.map_or(1.0, |(a, b)| a.distance(b))
    }
}

/// What a folder of photographs holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Album {
    /// Those that can be taken in, in the order of their names.
    pub photos: Vec<Loose>,
    /// Files that are left out, and why.
    pub left_out: Vec<(String, String)>,
}

/// A group of photographs as a piece folder to be.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// The folder's name.
    pub slug: String,
    /// The photographs by time and name.
    pub photos: Vec<Loose>,
    /// Their names in the folder `photos`.
    pub names: Vec<String>,
    /// Why they are together.
    pub why: String,
    /// The text of piece.yaml.
    pub piece: String,
}

/// Looks at every file of a folder. Photographs that a piece of the archive has already, by their digest, are left out.
pub fn look_through(
    folder: &Path,
    pieces: &Path,
    told: &(dyn Fn(&str, usize) + Sync),
    stop: &(dyn Fn() -> bool + Sync),
) -> Result<Album, DiskError> {
    let listing = disk::list_folder(folder)?;
    let mut album = Album::default();
    let left = [
        &listing.escaping,
        &listing.unreadable,
        &listing.special,
        &listing.misnamed,
    ];
    for left in left.into_iter().flatten() {
        album
            .left_out
            .push((left.relative.clone(), left.reason.clone()));
    }
    let sizes: BTreeSet<u64> = listing.files.iter().map(|f| f.size).collect();
    let known = known(pieces, &sizes)?;
    let looked: Vec<Result<Loose, String>> = listing
        .files
        .par_iter()
        .map(|file| {
            told(&file.relative, listing.files.len());
            if stop() {
                return Err("the run was stopped".to_string());
            }
            look(file, &known)
        })
        .collect();
    let mut seen: BTreeMap<Sha256Digest, String> = BTreeMap::new();
    for (file, looked) in listing.files.iter().zip(looked) {
        let name = file.relative.clone();
        match looked {
            Ok(photo) => match seen.get(&photo.digest) {
                Some(first) => album
                    .left_out
                    .push((name, format!("the same file as {first}"))),
                None => {
                    seen.insert(photo.digest, name);
                    album.photos.push(photo);
                }
            },
            Err(why) => album.left_out.push((name, why)),
        }
    }
    album.left_out.sort();
    Ok(album)
}

/// The digests of files in the archive's pieces that have one of these sizes, and where they are.
fn known(
    pieces: &Path,
    sizes: &BTreeSet<u64>,
) -> Result<BTreeMap<Sha256Digest, String>, DiskError> {
    let mut files: Vec<(String, Found)> = Vec::new();
    if pieces.is_dir() {
        for slug in disk::subfolders(pieces)?.folders {
            let listing = disk::list_folder(&pieces.join(&slug))?;
            let same = listing
                .files
                .into_iter()
                .filter(|f| sizes.contains(&f.size));
            files.extend(same.map(|file| (slug.clone(), file)));
        }
    }
    let digests: Vec<Result<_, DiskError>> = files
        .par_iter()
        .map(|(slug, file)| {
            let digest = disk::digest_file(&file.path)?.sha256;
            Ok((digest, format!("pieces/{slug}/{}", file.relative)))
        })
        .collect();
    let mut out = BTreeMap::new();
    for found in digests {
        let (digest, place) = found?;
        out.entry(digest).or_insert(place);
    }
    Ok(out)
}

fn look(file: &Found, known: &BTreeMap<Sha256Digest, String>) -> Result<Loose, String> {
    let octets = disk::read_limited(&file.path, LARGEST_PHOTO).map_err(|e| e.to_string())?;
    let digest = Sha256Digest::of(&octets);
    if let Some(place) = known.get(&digest) {
        return Err(format!("is in the archive already, as {place}"));
    }
    let seen = glance(&octets);
    if let Some(fault) = &seen.facts.fault {
        return Err(match fault {
            Fault::NotReadHere {
                format: format @ (Format::Heic | Format::Avif),
                ..
            } => format!(
                "{format} is not read here: let the camera or a picture program save a JPEG of it"
            ),
            fault => fault.to_string(),
        });
    }
    Ok(Loose {
        relative: file.relative.clone(),
        path: file.path.clone(),
        digest,
        taken: seen.facts.taken,
        likeness: seen.likeness,
        tints: seen.tints,
    })
}

/// Puts photographs into groups. `there` holds the names of the folders that are there already.
pub fn gather(album: &Album, there: &BTreeSet<String>) -> Vec<Group> {
    let mut photos: Vec<&Loose> = album.photos.iter().collect();
    // Without a date last; then by time and name, so that the order on the disk does not matter.
    photos.sort_by_key(|p| (p.taken.is_none(), p.taken.clone(), p.relative.clone()));
    let mut groups: Vec<Vec<&Loose>> = Vec::new();
    for photo in photos {
        let joins: Vec<usize> = match photo.day() {
            Some(_) => (0..groups.len())
                .filter(|at| belongs(photo, &groups[*at]))
                .collect(),
            None => nearest(photo, &groups).into_iter().collect(),
        };
        let mut joined = vec![photo];
        for at in joins.iter().rev() {
            joined.extend(groups.remove(*at));
        }
        joined.sort_by_key(|p| (p.taken.is_none(), p.taken.clone(), p.relative.clone()));
        groups.push(joined);
    }
    groups.sort_by_key(|g| {
        (
            g[0].taken.is_none(),
            g[0].taken.clone(),
            g[0].relative.clone(),
        )
    });
    let mut taken: BTreeSet<String> = there.iter().map(|name| folded(name)).collect();
    groups
        .into_iter()
        .map(|photos| group(photos, &mut taken))
        .collect()
}

/// Whether a dated photograph belongs to a group: of the same day and colours, or the same picture as one in it.
fn belongs(photo: &Loose, group: &[&Loose]) -> bool {
    group.iter().any(|other| {
        photo.same_picture(other)
            || photo.day() == other.day() && photo.colours_apart(other) <= SAME_COLOURS
    })
}

/// The group that one without a date is most like, if it is like any.
fn nearest(photo: &Loose, groups: &[Vec<&Loose>]) -> Option<usize> {
    let apart = |group: &[&Loose]| {
        let all = group.iter().map(|other| match photo.same_picture(other) {
            true => 0.0,
            false => photo.colours_apart(other),
        });
        all.fold(f64::INFINITY, f64::min)
    };
    (0..groups.len())
        .map(|at| (apart(&groups[at]), at))
        .filter(|(apart, _)| *apart <= SAME_COLOURS_UNDATED)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, at)| at)
}

fn group(photos: Vec<&Loose>, taken: &mut BTreeSet<String>) -> Group {
    let day = photos.iter().find_map(|p| p.day());
    let base = format!("draft-{}", day.unwrap_or("undated"));
    let mut number = 0;
    let slug = loop {
        let slug = format!(
            "{base}-{}",
            crate::read::sheet::letters(number).to_lowercase()
        );
        if taken.insert(slug.clone()) {
            break slug;
        }
        number += 1;
    };
    let mut used = BTreeSet::new();
    let names: Vec<String> = photos
        .iter()
        .map(|p| file_name(&p.relative, &mut used))
        .collect();
    let why = why(&photos);
    let mut page = Page::default();
    if let Some(day) = day {
        page.say(
            Line::Made,
            format!("# Its photographs were taken from {day} on."),
        );
    }
    photo_list(&mut page, names.iter().map(String::as_str));
    Group {
        slug,
        names,
        why,
        piece: page.render(),
        photos: photos.into_iter().cloned().collect(),
    }
}

/// The name of the copy: the last part of the path, without signs that some systems do not have in names, and with a
/// number where another has it.
fn file_name(relative: &str, used: &mut BTreeSet<String>) -> String {
    let name: String = relative
        .rsplit('/')
        .next()
        .unwrap_or(relative)
        .chars()
        .map(|c| match c {
            c if c.is_control() || "\\:*?\"<>|".contains(c) => '-',
            c => c,
        })
        .collect();
    let (stem, ending) = match name.rfind('.').filter(|at| *at > 0) {
        Some(at) => name.split_at(at),
        None => (name.as_str(), ""),
    };
    let mut out = name.clone();
    let mut number = 2;
    while !used.insert(folded(&out)) {
        out = format!("{stem}-{number}{ending}");
        number += 1;
    }
    out
}

fn why(photos: &[&Loose]) -> String {
    let days: BTreeSet<&str> = photos.iter().filter_map(|p| p.day()).collect();
    let undated = photos.iter().filter(|p| p.taken.is_none()).count();
    let (first, rest) = match photos {
        [] => return String::new(),
        [one] if one.taken.is_none() => return "no date in it, and like no other".to_string(),
        [_] => return "the only one of its day with these colours".to_string(),
        [first, rest @ ..] => (first, rest),
    };
    let copies = rest
        .iter()
        .filter(|p| {
            photos
                .iter()
                .any(|o| o.relative != p.relative && o.same_picture(p))
        })
        .count();
    let mut words = Vec::new();
    let clock = |photo: &Loose| {
        photo
            .taken
            .as_deref()
            .and_then(|t| t.get(11..16))
            .map(str::to_string)
    };
    let last = photos.iter().rev().find(|p| p.taken.is_some());
    match (days.len(), clock(first), last.and_then(|p| clock(p))) {
        (0, ..) => {}
        (1, Some(from), Some(to)) if from != to => words.push(format!("same day, {from} to {to}")),
        (1, ..) => words.push("same day".to_string()),
        (n, ..) => words.push(format!("{n} days")),
    }
    let widest = rest
        .iter()
        .map(|p| {
            let others = photos.iter().filter(|o| o.relative != p.relative);
            others.map(|o| p.colours_apart(o)).fold(1.0, f64::min)
        })
        .fold(0.0, f64::max);
    words.push(format!(
        "colours alike ({:.0} % apart at most)",
        widest * 100.0
    ));
    if copies > 0 {
        words.push(format!("{copies} nearly the same picture as another"));
    }
    if undated > 0 {
        words.push(format!("{undated} without a date, by the colours"));
    }
    words.join("; ")
}
