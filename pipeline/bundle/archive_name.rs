//! Names under which files can be kept for a long time, on any system and by any tool for bags.
//!
//! A name that is safe everywhere is kept exactly as it is, accents as they are stored. Any other gets
//! a stand-in, made from the name alone: each offending character becomes `_` and its octets in
//! hexadecimal, a device's name gets a `_` in front, and what is too long is cut and marked with part of
//! its digest. Of names that some disk would take for one, the first in byte order stays, and the others
//! are marked with part of their digest. The bundle lists every stand-in with the name it stands for.

use std::collections::BTreeSet;
use std::fmt::Write;

use crate::bag::{LONGEST_PART, folded, is_directional, is_reserved};
use crate::disk::Sha256Digest;

/// Octets a whole path may have below `data/`; longer ones are filed flat. Far below every limit of
/// zip (65 535) and of the common systems (4 096, with room for where it is unpacked).
const LONGEST_PATH: usize = 1024;
/// Octets kept of a part that is too long.
const KEPT: usize = 180;
/// Hexadecimal digits of a name's digest that mark a stand-in.
const MARK: usize = 8;

/// A file's name, and the name under which it is archived.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ArchiveName {
    /// The path as it was, with `/`.
    pub original: String,
    /// The path in the archive, with `/`. Often the same.
    pub archived: String,
}

impl ArchiveName {
    /// Whether the archived name is a stand-in.
    pub fn is_renamed(&self) -> bool {
        self.original != self.archived
    }
}

/// The safe name of one path by itself. Use [`archive_names`] for files that lie together.
pub fn archive_name(original: &str) -> ArchiveName {
    let mut archived = original
        .split('/')
        .map(safe_part)
        .collect::<Vec<_>>()
        .join("/");
    if archived.len() > LONGEST_PATH {
        let digest = Sha256Digest::of(original.as_bytes()).to_string();
        archived = format!("long-names/{digest}{}", extension(&archived));
    }
    ArchiveName {
        original: original.to_owned(),
        archived,
    }
}

/// The safe names of files that lie together, in the order given. No two of them, and none of
/// `taken`, are names that some disk would take for one.
pub fn archive_names<'a>(
    originals: impl IntoIterator<Item = &'a str>,
    taken: &[&str],
) -> Vec<ArchiveName> {
    let mut names: Vec<ArchiveName> = originals.into_iter().map(archive_name).collect();
    // Kept names come first, so that a stand-in never pushes one of them away.
    let mut order: Vec<usize> = (0..names.len()).collect();
    order.sort_by(|a, b| {
        let key = |name: &ArchiveName| (name.is_renamed(), name.original.clone().into_bytes());
        key(&names[*a]).cmp(&key(&names[*b])).then(a.cmp(b))
    });
    let mut files: BTreeSet<String> = taken.iter().map(|path| folded(path)).collect();
    let mut folders: BTreeSet<String> = BTreeSet::new();
    for at in order {
        let name = &mut names[at];
        let plain = name.archived.clone();
        let mut round: u32 = 0;
        loop {
            let key = folded(&name.archived);
            let clash = files.contains(&key)
                || folders.contains(&key)
                || parents(&key).any(|folder| files.contains(folder));
            if !clash {
                folders.extend(parents(&key).map(str::to_owned));
                files.insert(key);
                break;
            }
            name.archived = marked(&plain, &name.original, round);
            round += 1;
        }
    }
    names
}

fn parents(path: &str) -> impl Iterator<Item = &str> {
    path.match_indices('/').map(|(at, _)| &path[..at])
}

fn safe_part(part: &str) -> String {
    let mut safe = String::with_capacity(part.len());
    let trailing = part
        .trim_end_matches(|c: char| c == '.' || c.is_whitespace())
        .len();
    for (at, c) in part.char_indices() {
        let unsafe_here = c.is_control()
            || matches!(c, '<' | '>' | ':' | '"' | '|' | '?' | '*' | '\\' | '%')
            || matches!(c, '\u{2028}' | '\u{2029}')
            || is_directional(c)
            || at >= trailing;
        if unsafe_here {
            escape(c, &mut safe);
        } else {
            safe.push(c);
        }
    }
    if safe.is_empty() || is_reserved(&safe) || safe.starts_with('~') {
        safe.insert(0, '_');
    }
    if safe.len() > LONGEST_PART {
        shortened(&safe, part)
    } else {
        safe
    }
}

fn escape(c: char, into: &mut String) {
    into.push('_');
    for octet in c.encode_utf8(&mut [0; 4]).bytes() {
        write!(into, "{octet:02X}").expect("a String takes any text");
    }
}

fn shortened(safe: &str, original: &str) -> String {
    let mut cut = KEPT;
    while !safe.is_char_boundary(cut) {
        cut -= 1;
    }
    let kept = safe[..cut].trim_end_matches(|c: char| c == '.' || c.is_whitespace());
    format!("{kept}-{}{}", mark(original, 0), extension(safe))
}

/// The path with a mark before the extension of its last part.
fn marked(path: &str, original: &str, round: u32) -> String {
    let (folder, part) = match path.rfind('/') {
        Some(at) => path.split_at(at + 1),
        None => ("", path),
    };
    let ending = extension(part);
    let mut cut = part.len() - ending.len();
    cut = cut.min(KEPT);
    while !part.is_char_boundary(cut) {
        cut -= 1;
    }
    format!("{folder}{}-{}{ending}", &part[..cut], mark(original, round))
}

fn mark(original: &str, round: u32) -> String {
    let text = if round == 0 {
        original.to_owned()
    } else {
        format!("{original}\n{round}")
    };
    Sha256Digest::of(text.as_bytes()).to_string()[..MARK].to_owned()
}

/// A short extension with its dot, or nothing.
fn extension(path: &str) -> &str {
    let part = path.rsplit('/').next().unwrap_or(path);
    match part.rfind('.') {
        Some(at) if at > 0 && part.len() - at <= 16 => &part[at..],
        _ => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bag::{check_path, unportable};

    fn archived(names: &[&str]) -> Vec<String> {
        archive_names(names.iter().copied(), &[])
            .into_iter()
            .map(|n| n.archived)
            .collect()
    }

    #[test]
    fn safe_names_are_kept_exactly_accents_as_they_are_stored() {
        for name in [
            "photos/front.jpg",
            "Notes (2).md",
            "cafe\u{301}.txt",
            "caf\u{e9}.txt",
            ".keep",
        ] {
            assert_eq!(archive_name(name).archived, name);
            assert!(!archive_name(name).is_renamed());
        }
    }

    #[test]
    fn unsafe_names_get_a_stand_in_that_can_be_read() {
        for (name, stand_in) in [
            ("100%.txt", "100_25.txt"),
            ("Icon\r", "Icon_0D"),
            ("a\nb.txt", "a_0Ab.txt"),
            ("why?/is: it.txt", "why_3F/is_3A it.txt"),
            ("trailing .", "trailing_20_2E"),
            ("aux.jpg", "_aux.jpg"),
            ("~x", "_~x"),
            ("a\u{2028}b", "a_E280A8b"),
        ] {
            assert_eq!(archive_name(name).archived, stand_in, "{name:?}");
        }
    }

    #[test]
    fn every_stand_in_is_itself_safe_and_stays_as_it_is() {
        let long = "é".repeat(200) + ".jpeg";
        let deep = "very long folder name, once more/".repeat(60) + "x.jpg";
        let dots = format!("{}. . .{}", "x".repeat(178), "y".repeat(100));
        for name in [
            "%",
            "CON",
            "con .txt",
            " ",
            "...",
            "a*b?",
            "\u{202e}x",
            &long,
            &deep,
            &dots,
        ] {
            let safe = archive_name(name).archived;
            assert_eq!(check_path(&safe), Ok(()), "{safe:?}");
            assert!(
                safe.split('/').all(|part| unportable(part).is_none()),
                "{safe:?}"
            );
            assert!(safe.len() <= LONGEST_PATH);
            assert_eq!(archive_name(&safe).archived, safe);
        }
        assert!(archive_name(&long).archived.ends_with(".jpeg"));
        assert!(archive_name(&deep).archived.ends_with(".jpg"));
    }

    #[test]
    fn names_a_disk_would_take_for_one_are_told_apart() {
        let names = [
            "b/Front.jpg",
            "b/front.jpg",
            "cafe\u{301}",
            "caf\u{e9}",
            "a",
            "A/x",
        ];
        let safe = archived(&names);
        let keys: BTreeSet<String> = safe.iter().map(|name| folded(name)).collect();
        assert_eq!(keys.len(), names.len());
        assert_eq!(safe[0], "b/Front.jpg");
        assert!(
            safe[1].starts_with("b/front-") && safe[1].ends_with(".jpg"),
            "{}",
            safe[1]
        );
        assert_eq!(safe[2], "cafe\u{301}");
        // `A/x` comes first in byte order; the file `a` would lie where its folder does.
        assert_eq!(safe[5], "A/x");
        assert!(safe[4].starts_with("a-"), "{}", safe[4]);
    }

    #[test]
    fn a_stand_in_does_not_push_a_kept_name_away() {
        assert_eq!(archived(&["100%.txt", "100_25.txt"])[1], "100_25.txt");
        assert_ne!(archived(&["100%.txt", "100_25.txt"])[0], "100_25.txt");
        let taken = archive_names(["renamed-files.json"], &["renamed-files.json"]);
        assert!(taken[0].is_renamed());
    }

    #[test]
    fn the_order_given_does_not_matter() {
        let one = archived(&["a", "A", "%"]);
        let other = archived(&["%", "A", "a"]);
        assert_eq!(one, [other[2].clone(), other[1].clone(), other[0].clone()]);
    }
}
