//! tests/SOURCES.md: what every check against something outside the project rests on, generated from
//! the comments beside the checks (`// Source, KIND: what`), so that the list can not drift.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

/// The kinds, in the order of the list, with what they mean.
const KINDS: &[(&str, &str)] = &[
    (
        "published",
        "a standard, a law, a handbook, a worked example in print",
    ),
    (
        "reference library",
        "a general-purpose library of other people gives the same figure",
    ),
    (
        "exact case",
        "arithmetic or geometry whose answer is known without a source",
    ),
    ("common practice", "a fact of the trade; no source"),
    ("from memory", "known, but not seen while this was written"),
];

/// A check's source: where it stands, and what it says.
struct Source {
    file: String,
    kind: String,
    text: String,
}

/// The text after `// Source, ` with the comment lines that continue it, up to a line that is none.
fn sources(file: &str, text: &str) -> Vec<Source> {
    let mut found = Vec::new();
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    for (i, line) in lines.iter().enumerate() {
        let comment = |line: &str| {
            let plain = line.strip_prefix("//").or_else(|| line.strip_prefix('#'))?;
            (!plain.starts_with(['/', '!'])).then(|| plain.trim().to_string())
        };
        let Some(first) =
            comment(line).and_then(|c| c.strip_prefix("Source, ").map(str::to_string))
        else {
            continue;
        };
        let mut whole = first;
        for next in &lines[i + 1..] {
            match comment(next) {
                Some(more) if !more.is_empty() && !more.starts_with("Source, ") => {
                    whole.push(' ');
                    whole.push_str(&more);
                }
                _ => break,
            }
        }
        let (kind, text) = whole
            .split_once(": ")
            .unwrap_or_else(|| panic!("{file}:{}: `Source, KIND: what` is the form", i + 1));
        found.push(Source {
            file: file.to_string(),
            kind: kind.to_string(),
            text: text.to_string(),
        });
    }
    found
}

fn all() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    for folder in ["pipeline", "tests"] {
        for entry in walkdir::WalkDir::new(root.join(folder)).sort_by_file_name() {
            let entry = entry.unwrap();
            let path = entry.path();
            let is_source = path.extension().is_some_and(|x| x == "rs" || x == "py");
            if !is_source || path.ends_with("tests/sources.rs") {
                continue;
            }
            let name = path
                .strip_prefix(root)
                .unwrap()
                .to_str()
                .unwrap()
                .to_string();
            found.extend(sources(&name, &std::fs::read_to_string(path).unwrap()));
        }
    }
    found
}

fn page(all: &[Source]) -> String {
    let mut out = String::from(
        "# What the checks rest on\n\nGenerated from the comments beside the checks: `ACCEPT=1 cargo test --release --test sources` writes it\nanew.\n\n| kind | checks | what it means |\n|---|---|---|\n",
    );
    for (kind, meaning) in KINDS {
        let n = all.iter().filter(|s| s.kind == *kind).count();
        writeln!(out, "| {kind} | {n} | {meaning} |").unwrap();
    }
    writeln!(out, "| all | {} | |", all.len()).unwrap();
    for (kind, _) in KINDS {
        let mut by_file: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        for source in all.iter().filter(|s| s.kind == *kind) {
            by_file.entry(&source.file).or_default().push(&source.text);
        }
        if by_file.is_empty() {
            continue;
        }
        writeln!(out, "\n## {kind}\n").unwrap();
        for (file, texts) in by_file {
            for text in texts {
                writeln!(out, "- `{file}`: {text}").unwrap();
            }
        }
    }
    out
}

#[test]
fn every_source_is_of_a_known_kind() {
    for source in all() {
        assert!(
            KINDS.iter().any(|(kind, _)| *kind == source.kind),
            "{}: `{}` is none of the kinds",
            source.file,
            source.kind
        );
    }
}

#[test]
fn the_list_of_sources_is_that_of_the_checks() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/SOURCES.md");
    let page = page(&all());
    #[allow(clippy::disallowed_methods)] // The one who tests may ask for the list to be written.
    if std::env::var_os("ACCEPT").is_some() {
        std::fs::write(&path, &page).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == page,
        "tests/SOURCES.md is not that of the checks; write it with ACCEPT=1 and look at it"
    );
}

#[test]
fn few_checks_rest_on_memory_alone() {
    let all = all();
    let of = |kind: &str| all.iter().filter(|s| s.kind == kind).count();
    let outside =
        of("published") + of("reference library") + of("common practice") + of("from memory");
    assert!(outside >= 60, "{outside} checks against something outside");
    assert!(
        of("from memory") * 10 < outside,
        "{} of {outside}",
        of("from memory")
    );
}
