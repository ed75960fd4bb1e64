//! Names on the map that the roll does not have.

use super::places::mapped;
use crate::check::{Check, Example, Rule, Subject};
use crate::read::nearest;
use crate::reckon::community::folded;
use crate::record::{At, Finding, FindingKind};
use std::collections::{BTreeMap, BTreeSet};

const KIND: FindingKind = FindingKind::warning("maker-not-on-roll");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The map names somebody who is not on the roll. It is not known whether that person is a minor and may be named, so no paper names them; mostly the name is written in two ways.",
    bad: Example {
        piece: "makers: {roll: [{name: Ada Quill, age: adult, consent: yes}, {name: Rufus Tallow, age: adult, consent: yes}], squares: {rows: 1, columns: 2, map: squares.csv}}",
        more: &[(
            "pieces/p/squares.csv",
            "row,column,maker\n1,1,Ada Quil\n1,2,Rufus Tallow\n",
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

/// Names that are told one by one.
const MOST: usize = 8;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some((makers, squares)) = mapped(subject) else {
        return;
    };
    if makers.roll.is_empty() {
        return;
    }
    let roll: BTreeSet<String> = makers.roll.iter().map(|m| folded(&m.name)).collect();
    let mut strangers: BTreeMap<String, &At<String>> = BTreeMap::new();
    for name in squares.made.iter().flat_map(|s| &s.makers) {
        let key = folded(name);
        if !roll.contains(&key) {
            strangers.entry(key).or_insert(name);
        }
    }
    let mut all: Vec<&At<String>> = strangers.into_values().collect();
    all.sort_by(|a, b| a.place.cmp(&b.place));
    let Some(first) = all.first() else {
        return;
    };
    let known = || makers.roll.iter().map(|m| m.name.value.as_str());
    let told: Vec<String> = all
        .iter()
        .take(MOST)
        .map(|name| match nearest(name, known()) {
            Some(near) => format!(
                "`{}` (line {}; is `{near}` meant?)",
                name.value, name.place.line
            ),
            None => format!("`{}` (line {})", name.value, name.place.line),
        })
        .collect();
    let more = all.len().saturating_sub(MOST);
    let more = if more > 0 {
        format!(", and {more} more")
    } else {
        String::new()
    };
    findings.push(KIND.at(
        &first.place,
        format!("on the map, and not on the roll: {}{more}", told.join(", ")),
        "write the name on the map as on the roll, or put the person on the roll with age and consent",
    ));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn the_nearest_name_of_the_roll_is_told() {
        let said = &found(&CHECK, &CHECK.bad)[0];
        assert!(said.message.contains("is `Ada Quill` meant?"), "{said:?}");
        assert_eq!(
            (&*said.place.file, said.place.line),
            ("pieces/p/squares.csv", 2)
        );
    }
}
