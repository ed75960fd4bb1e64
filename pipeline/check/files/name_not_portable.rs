//! File names that other computers refuse.

use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind, Place};

const KIND: FindingKind = FindingKind::warning("name-not-portable");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A file's name holds a line end, a character that some computers refuse in names \
          (`< > : \" | ? * \\`), ends with a dot or a blank, or is a word that Windows keeps for itself \
          (`con`, `nul`). It is archived, but the bundle can not be unpacked everywhere.",
    bad: Example {
        more: &[("pieces/p/which way up?.txt", "left")],
        ..Example::PLAIN
    },
    good: Example {
        more: &[("pieces/p/which way up.txt", "left")],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// Characters and names that Windows reserves ("Naming Files, Paths, and Namespaces", from memory).
const REFUSED: &[char] = &['<', '>', ':', '"', '|', '?', '*', '\\'];
const KEPT: &[&str] = &[
    "con", "prn", "aux", "nul", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8",
    "com9", "lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9",
];

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for file in subject.files {
        let Some((part, why)) = file.split('/').find_map(|p| trouble(p).map(|why| (p, why))) else {
            continue;
        };
        let shown = file.escape_debug().to_string();
        let better: String = part
            .trim_end_matches(['.', ' '])
            .chars()
            .map(|c| {
                if c.is_control() || REFUSED.contains(&c) {
                    '-'
                } else {
                    c
                }
            })
            .collect();
        let better = if KEPT.contains(&stem(&better).as_str()) {
            format!("the-{better}")
        } else {
            better
        };
        let path = format!("pieces/{}/{shown}", subject.piece.slug);
        findings.push(KIND.at(
            &Place::file(&path.into()),
            format!("the name `{}` {why}", part.escape_debug()),
            format!("rename it, such as to `{better}`"),
        ));
    }
}

fn stem(part: &str) -> String {
    part.split('.').next().unwrap_or(part).to_lowercase()
}

fn trouble(part: &str) -> Option<String> {
    if part.chars().any(char::is_control) {
        return Some("holds a line end or another control character".to_string());
    }
    if let Some(c) = part.chars().find(|c| REFUSED.contains(c)) {
        return Some(format!("holds `{c}`, which some computers refuse"));
    }
    if part.ends_with(['.', ' ']) {
        return Some("ends with a dot or a blank, which some computers drop".to_string());
    }
    KEPT.contains(&stem(part).as_str())
        .then(|| "is a word that Windows keeps for itself".to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn accents_blanks_hyphens_and_pictographs_are_fine() {
        for name in [
            "d\u{e9}tail 1.jpg",
            "-front.jpg",
            "\u{1f9f6}.jpg",
            "\u{5e9}\u{5dc}\u{5d5}\u{5dd}.jpg",
            "console.txt",
            ".hidden",
        ] {
            assert_eq!(trouble(name), None, "{name}");
        }
        for name in ["a\nb", "a:b", "a.", "NUL", "aux.txt"] {
            assert!(trouble(name).is_some(), "{name:?}");
        }
    }
}
