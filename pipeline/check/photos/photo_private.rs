//! Private facts in the originals.

use super::listed::seen;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind};
use std::collections::BTreeSet;

const KIND: FindingKind = FindingKind::note("photo-private");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Photographs carry private facts that cameras write into them, such as the place or the \
          camera's serial number. They stay in your own archive; every published plate is made \
          without them. Think of it before you hand out an original.",
    bad: Example {
        photos: &[("front.jpg", Seen::Private(&["the place it was taken"]))],
        ..Example::PLAIN
    },
    good: Example {
        photos: &[("front.jpg", Seen::Upright(4980, 3642))],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let carrying: Vec<_> = seen(subject)
        .filter(|(_, sight)| !sight.private.is_empty())
        .collect();
    let Some((first, _)) = carrying.first() else {
        return;
    };
    let facts: BTreeSet<&str> = carrying
        .iter()
        .flat_map(|(_, sight)| sight.private.iter().map(String::as_str))
        .collect();
    let facts: Vec<&str> = facts.into_iter().collect();
    let who = match carrying.len() {
        1 => format!("`{}` carries", first.file.value),
        n => format!("{n} photographs carry"),
    };
    findings.push(KIND.at(
        &first.file.place,
        format!("{who} private facts: {}", facts.join(", ")),
        "nothing to do: published plates are made without them; hand out plates, not originals",
    ));
}
