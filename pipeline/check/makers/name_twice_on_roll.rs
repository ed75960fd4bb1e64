//! Two people of one name on the roll.

use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::community::folded;
use crate::record::{Finding, FindingKind, Maker};
use std::collections::BTreeMap;

const KIND: FindingKind = FindingKind::warning("name-twice-on-roll");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A name stands on the roll more than once. Either it is the same person, who would be counted twice, or two people share the name: then the map can not tell their squares apart, and the panel would seem to repeat itself. Tell them apart as they agree to be printed: with a middle name, a place, the elder and the younger.",
    bad: Example {
        piece: "makers: {roll: [{name: Ada Quill, age: adult, consent: yes}, {name: ada quill, age: adult, consent: yes}]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "makers: {roll: [{name: Ada Quill the elder, age: adult, consent: yes}, {name: Ada Quill the younger, age: adult, consent: yes}]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(makers) = &subject.piece.makers else {
        return;
    };
    let mut seen: BTreeMap<String, &Maker> = BTreeMap::new();
    let mut again: Vec<(&Maker, &Maker)> = Vec::new();
    for maker in &makers.roll {
        let key = folded(&maker.name);
        if let Some(first) = seen.get(&key) {
            again.push((first, maker));
        } else {
            seen.insert(key, maker);
        }
    }
    let Some((first, second)) = again.first() else {
        return;
    };
    let places: Vec<String> = again
        .iter()
        .take(MOST)
        .map(|(a, b)| format!("lines {} and {}", a.name.place.line, b.name.place.line))
        .collect();
    let more = if again.len() > MOST {
        ", and others"
    } else {
        ""
    };
    // The places are enough to find them by: what the roll says of them is nobody else's business.
    findings.push(
        KIND.at(
            &second.name.place,
            format!("{} on the roll more than once: {}{more}", if again.len() == 1 { "a name stands".to_string() } else { format!("{} names stand", again.len()) }, places.join(", ")),
            "take out the line that is too much, or tell the two people apart as they agree to be printed",
        )
        .and(&first.name.place, "the first of the two"),
    );
}

/// Pairs that are told one by one.
const MOST: usize = 8;
