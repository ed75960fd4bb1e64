//! The manual of the checks, made from the register: one by name, or all as Markdown.

use super::{CHECKS, Check, Example};
use crate::record::Rank;
use std::fmt::Write;

/// The check that raises findings of this name. The name may stand as a finding shows it:
/// `error[wrong-unit]` or `[wrong-unit]`.
pub fn explain(name: &str) -> Option<&'static Check> {
    let name = name.trim().trim_end_matches(':');
    let name = match name.split_once('[') {
        Some((_, inside)) => inside.split(']').next().unwrap_or(inside),
        None => name,
    };
    CHECKS.iter().copied().find(|check| check.kind.name == name)
}

/// Every check as Markdown, in the order of the register.
pub fn manual() -> String {
    CHECKS
        .iter()
        .map(|check| entry(check))
        .collect::<Vec<_>>()
        .join("\n")
}

/// One check as Markdown: its name and rank, what it finds, what is wrong and what is right.
pub fn entry(check: &Check) -> String {
    let rank = match check.kind.rank {
        Rank::Error => "error",
        Rank::Warning => "warning",
        Rank::Note => "note",
    };
    let mut text = format!("### {} ({rank})\n\n{}\n", check.kind.name, check.doc);
    for (word, example) in [("Wrong", &check.bad), ("Right", &check.good)] {
        let lines = shown(example);
        if !lines.is_empty() {
            // Writing to a string can not fail.
            let _ = write!(text, "\n{word}:\n\n```\n{lines}```\n");
        }
    }
    text
}

/// The lines of an example that matter, each file under its name where it is not piece.yaml.
fn shown(example: &Example) -> String {
    let mut text = String::new();
    let mut add = |file: &str, lines: &str| {
        if !lines.is_empty() {
            let _ = writeln!(text, "# {}", file.escape_debug());
            let _ = writeln!(text, "{}", lines.trim_end());
        }
    };
    add("studio.yaml", example.studio);
    add("pieces/p/piece.yaml", example.piece);
    add("pieces/q/piece.yaml", example.beside);
    add("pieces/p/notes.md", example.notes);
    for (file, lines) in example.more.iter().chain(example.only) {
        add(file, lines);
    }
    for (file, seen) in example.photos {
        add(&format!("pieces/p/photos/{file}"), &seen.said());
    }
    for file in example.sockets {
        add(file, "(a socket)");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_finding_is_explained_as_it_was_shown() {
        for name in [
            "wrong-unit",
            "error[wrong-unit]",
            "error[wrong-unit]:",
            "[wrong-unit]",
            " [wrong-unit",
        ] {
            assert_eq!(
                explain(name).map(|c| c.kind.name),
                Some("wrong-unit"),
                "{name}"
            );
        }
        assert!(explain("error[]").is_none());
        assert!(explain("[").is_none());
    }
}
