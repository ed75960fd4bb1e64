//! Squares whose makers are not named.

use super::places::{count, mapped};
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::community::folded;
use crate::record::{Consent, Finding, FindingKind, Maker};
use std::collections::BTreeSet;

const KIND: FindingKind = FindingKind::note("consent-withheld");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Some squares were made by people who do not wish to be named. The papers for the public count them and name nobody; the list of squares, which stays in the studio, has them all. Nothing is to be done: this is told so that nobody writes a name into a text, a caption or the name of a file.",
    bad: Example {
        piece: "makers: {roll: [{name: Ada Quill, age: adult, consent: yes}, {name: Rufus Tallow, age: adult, consent: no}], squares: {rows: 1, columns: 2, map: squares.csv}}",
        more: &[(
            "pieces/p/squares.csv",
            "row,column,maker\n1,1,Ada Quill\n1,2,Rufus Tallow\n",
        )],
        ..Example::PLAIN
    },
    good: Example {
        piece: "makers: {roll: [{name: Ada Quill, age: adult, consent: yes}, {name: Rufus Tallow, age: adult, consent: yes}], squares: {rows: 1, columns: 2, map: squares.csv}}",
        more: &[(
            "pieces/p/squares.csv",
            "row,column,maker\n1,1,Ada Quill\n1,2,Rufus Tallow\n",
        )],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some((makers, squares)) = mapped(subject) else {
        return;
    };
    let refused = |m: &&Maker| m.consent.as_ref().is_some_and(|c| c.value == Consent::No);
    let withheld: BTreeSet<String> = makers
        .roll
        .iter()
        .filter(refused)
        .map(|m| folded(&m.name))
        .collect();
    let theirs = squares
        .made
        .iter()
        .filter(|s| s.makers.iter().any(|m| withheld.contains(&folded(m))))
        .count();
    let (Some(map), true) = (&squares.map, theirs > 0) else {
        return;
    };
    // Counts alone: the message may be read aloud or sent to somebody.
    findings.push(KIND.at(
        &map.place,
        format!(
            "{} of {} on the map {} by people who do not wish to be named",
            theirs,
            count(squares.made.len(), "square"),
            if theirs == 1 { "was made" } else { "were made" }
        ),
        "nothing is to be done; keep their names out of statement, captions and file names",
    ));
}
