//! The house's rules, held by reading the sources: the direction of uses, a header on every file, no file
//! access, clock or environment outside the folders meant for them, nothing left unfinished.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The folders from the top of the stream to its bed. A file may use its own folder and those below.
const ORDER: &[&str] = &[
    "cli", "gather", "finish", "deposit", "bundle", "audit", "bag", "seal", "paper", "picture",
    "check", "reckon", "read", "record", "quantity", "disk",
];
/// What no folder on the left may use, although it lies below.
const NEVER: &[(&str, &str)] = &[
    ("audit", "paper"),
    ("audit", "record"),
    ("deposit", "paper"),
    ("deposit", "record"),
    ("bundle", "paper"),
    ("picture", "reckon"),
    ("picture", "check"),
    ("picture", "read"),
    ("picture", "disk"),
    ("paper", "picture"),
    ("paper", "disk"),
    ("reckon", "read"),
    ("reckon", "disk"),
    ("check", "disk"),
    ("record", "disk"),
    ("quantity", "disk"),
];
/// Who may touch the file system.
const DISK: &[&str] = &["disk", "bundle", "audit", "deposit", "cli"];

fn sources() -> Vec<(PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("pipeline");
    walkdir::WalkDir::new(&root)
        .sort_by_file_name()
        .into_iter()
        .map(Result::unwrap)
        .filter(|e| e.path().extension().is_some_and(|x| x == "rs"))
        .map(|e| {
            let text = std::fs::read_to_string(e.path()).unwrap();
            (e.path().strip_prefix(&root).unwrap().to_path_buf(), text)
        })
        .collect()
}

fn folder(path: &Path) -> &str {
    match path.components().count() {
        1 => "",
        _ => path.iter().next().unwrap().to_str().unwrap(),
    }
}

/// The part of a file before its tests.
fn program(text: &str) -> &str {
    text.split("#[cfg(test)]").next().unwrap()
}

fn uses(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (i, _) in text.match_indices("crate::") {
        let rest = &text[i + 7..];
        if let Some(group) = rest.strip_prefix('{') {
            for part in group.split('}').next().unwrap().split(',') {
                found.push(part.trim().split("::").next().unwrap().to_string());
            }
        } else {
            let name: String = rest
                .chars()
                .take_while(|c| c.is_alphanumeric() || *c == '_')
                .collect();
            found.push(name);
        }
    }
    found
}

#[test]
fn uses_run_only_downwards() {
    let rank: BTreeMap<&str, usize> = ORDER.iter().enumerate().map(|(i, f)| (*f, i)).collect();
    let mut wrong = Vec::new();
    for (path, text) in sources() {
        let own = folder(&path);
        let Some(own_rank) = rank.get(own) else {
            continue;
        };
        for used in uses(program(&text)) {
            let Some(used_rank) = rank.get(used.as_str()) else {
                continue;
            };
            if used_rank < own_rank || NEVER.contains(&(own, used.as_str())) {
                wrong.push(format!("{} uses {used}", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_folder_has_its_place_in_the_stream() {
    for (path, _) in sources() {
        let own = folder(&path);
        assert!(
            own.is_empty() || ORDER.contains(&own),
            "{own} has no place in ORDER"
        );
    }
}

#[test]
fn every_file_opens_by_saying_what_it_is_for() {
    for (path, text) in sources() {
        assert!(text.starts_with("//! "), "{} has no header", path.display());
    }
}

#[test]
fn files_clocks_and_environment_are_reached_through_their_doors_only() {
    let mut wrong = Vec::new();
    for (path, text) in sources() {
        let own = folder(&path);
        let text = program(&text);
        for word in [
            "std::fs",
            "File::open",
            "OpenOptions",
            "std::net",
            "TcpStream",
        ] {
            if text.contains(word)
                && (!DISK.contains(&own) || word.contains("net") || word.contains("Tcp"))
            {
                wrong.push(format!("{}: {word}", path.display()));
            }
        }
        for word in ["SystemTime::now", "Instant::now"] {
            // The log of audits says when; the command line tells it.
            if text.contains(word) && !path.ends_with("cli/clock.rs") {
                wrong.push(format!("{}: {word}", path.display()));
            }
        }
        if text.contains("std::env::") && own != "cli" {
            wrong.push(format!("{}: std::env", path.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn nothing_is_left_unfinished() {
    for (path, text) in sources() {
        for word in ["todo!(", "unimplemented!(", "TODO", "FIXME", "dbg!("] {
            assert!(!text.contains(word), "{}: {word}", path.display());
        }
    }
}

#[test]
fn a_file_can_be_read_in_one_sitting() {
    for (path, text) in sources() {
        let lines = program(&text).lines().count();
        assert!(
            lines <= 400,
            "{} has {lines} lines before its tests",
            path.display()
        );
    }
}

#[test]
fn the_readme_names_every_command() {
    let readme =
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    for command in [
        "begin",
        "check",
        "finish",
        "audit",
        "deposit",
        "exhibit",
        "portfolio",
        "ledger",
        "estimate",
        "merge",
        "community",
        "explain",
        "completions",
        "man",
    ] {
        assert!(readme.contains(&format!("offloom {command}")), "{command}");
    }
}
