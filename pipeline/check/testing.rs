//! Runs one rule on an example without touching a disk, for the tests beside each rule.

use super::{Check, Example, Rule, Subject};
use crate::read::{notes_from, piece_from, studio_from, with_tables};
use crate::record::{Finding, Piece};
use std::collections::{BTreeMap, BTreeSet};

/// What the check finds in the example. The example must be readable.
pub(super) fn found(check: &Check, example: &Example) -> Vec<Finding> {
    let files = example.files();
    let (studio, _) = studio_from(&"studio.yaml".into(), &files["studio.yaml"]);
    let mut pieces: Vec<(Piece, BTreeSet<String>, BTreeMap<_, _>)> = Vec::new();
    for (file, text) in &files {
        let folder = file.strip_prefix("pieces/");
        let Some(slug) = folder.and_then(|f| f.strip_suffix("/piece.yaml")) else {
            continue;
        };
        let (piece, slips) = piece_from(slug, &file.as_str().into(), text);
        let mut piece = piece.unwrap_or_else(|| panic!("the example can not be read: {slips:?}"));
        with_tables(&mut piece, |name| {
            let path = format!("pieces/{slug}/{name}");
            files
                .get(&path)
                .map(|text| (path.as_str().into(), text.clone()))
        });
        if let Some(text) = files.get(&format!("pieces/{slug}/notes.md")) {
            piece.notes = notes_from(&format!("pieces/{slug}/notes.md").into(), text).0;
        }
        let sights = example.sights(slug);
        let inside = format!("pieces/{slug}/");
        let listing = files
            .keys()
            .filter_map(|path| path.strip_prefix(&inside).map(str::to_string))
            .chain(sights.keys().map(|photo| format!("photos/{photo}")))
            .collect();
        pieces.push((piece, listing, sights));
    }
    let subjects: Vec<Subject> = pieces
        .iter()
        .map(|(piece, files, sights)| Subject {
            studio: studio.as_ref(),
            piece,
            files,
            sights,
        })
        .collect();
    let mut findings = Vec::new();
    match check.rule {
        Rule::WhileReading | Rule::WhileSetting | Rule::WhileGathering => {}
        Rule::Piece(rule) | Rule::Silence(rule) => {
            subjects.iter().for_each(|s| rule(s, &mut findings))
        }
        Rule::Archive(rule) => rule(&subjects, &mut findings),
    }
    findings
}
