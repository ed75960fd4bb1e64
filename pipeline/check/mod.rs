//! The checks: rules over the record that find the weaver's slips. Each has a file of its own with
//! its documentation, a bad and a good example, and its rule; this file is their register. What
//! reading finds by itself is documented here too, in `while_reading/`.
//!
//! A check never writes, never guesses a value into the record, and knows nothing of papers.

mod example;

pub use example::Example;

use crate::record::{Finding, FindingKind, Piece, Rank, Sight, Studio};
use std::collections::{BTreeMap, BTreeSet};

/// One check.
pub struct Check {
    /// The kind of finding it raises.
    pub kind: FindingKind,
    /// What it finds and why that matters, in a few sentences for the weaver.
    pub doc: &'static str,
    /// An archive that it finds fault with.
    pub bad: Example,
    /// The same mended.
    pub good: Example,
    /// The rule.
    pub rule: Rule,
}

/// How a check looks.
pub enum Rule {
    /// Reading raises the finding; nothing is left to do here.
    WhileReading,
    /// Looks at one piece.
    Piece(fn(&Subject, &mut Vec<Finding>)),
    /// Looks across all pieces.
    Archive(fn(&[Subject], &mut Vec<Finding>)),
}

/// All that a rule may look at for one piece.
pub struct Subject<'a> {
    /// The studio, if it could be read.
    pub studio: Option<&'a Studio>,
    /// The piece.
    pub piece: &'a Piece,
    /// Every file in the piece's folder, by its path in it.
    pub files: &'a BTreeSet<String>,
    /// What was seen in each file of `photos/`, by its path below it.
    pub sights: &'a BTreeMap<String, Sight>,
}

/// Every check, in the order of the manual.
pub const CHECKS: &[&Check] = &[];

/// Runs the rules that look at one piece.
pub fn check_piece(subject: &Subject) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in CHECKS {
        if let Rule::Piece(rule) = check.rule {
            rule(subject, &mut findings);
        }
    }
    findings
}

/// Runs the rules that look across pieces. They do not look at photographs, so the subjects' sights
/// may be empty.
pub fn check_archive(subjects: &[Subject]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in CHECKS {
        if let Rule::Archive(rule) = check.rule {
            rule(subjects, &mut findings);
        }
    }
    findings
}

/// Puts findings in the order they are shown: gravest first, then by place.
pub fn ranked(mut findings: Vec<Finding>) -> Vec<Finding> {
    findings.sort_by(|a, b| {
        let key = |f: &Finding| (f.kind.rank, f.place.clone(), f.kind.name);
        key(a).cmp(&key(b))
    });
    findings.dedup();
    findings
}

/// Whether any finding is an error.
pub fn has_error(findings: &[Finding]) -> bool {
    findings.iter().any(|f| f.kind.rank == Rank::Error)
}
