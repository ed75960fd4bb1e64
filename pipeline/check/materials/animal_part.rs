//! Parts of horn, leather, bone or feather that nobody marked as such.

use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind, Part};

const KIND: FindingKind = FindingKind::note("animal-part");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A part sounds as if it came from an animal and were no textile: horn, leather, bone, fur, feather, \
          pearl. In the EU and UK the label must then say so in set words, whatever it weighs (Regulation \
          (EU) No 1007/2011, article 12). The label says it only where the part is marked.",
    bad: Example {
        piece: "parts: {leather tabs: {used: 12 g}}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "parts: {leather tabs: {used: 12 g, animal_origin: yes}}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// What article 12 means, as the trade calls it (examples of common practice, no source).
const STUFFS: &[&str] = &[
    "leather",
    "suede",
    "rawhide",
    "hide",
    "fur",
    "sheepskin",
    "horn",
    "antler",
    "bone",
    "ivory",
    "feather",
    "feathers",
    "quill",
    "quills",
    "down",
    "pearl",
    "pearls",
    "shell",
    "shells",
    "tooth",
    "teeth",
];

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for part in &subject.piece.parts {
        // A part with a fibre is a textile, and one that says no has been thought of.
        if part.animal_origin.is_some() || !part.fibre.is_empty() {
            continue;
        }
        if let Some(stuff) = stuff_of(part) {
            findings.push(KIND.at(
                &part.name.place,
                format!("the part `{}` sounds like {stuff}, which comes from an animal", part.name.value),
                "write `animal_origin: yes` with it, so that the label says so, or `animal_origin: no`",
            ));
        }
    }
}

fn stuff_of(part: &Part) -> Option<&'static str> {
    let low = part.name.value.to_lowercase();
    let words: Vec<&str> = low.split(|c: char| !c.is_alphanumeric()).collect();
    STUFFS.iter().copied().find(|stuff| words.contains(stuff))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    fn with(part: &str) -> usize {
        let piece = format!("parts: {{{part}}}").leak();
        let example = Example {
            piece,
            ..Example::PLAIN
        };
        found(&CHECK, &example).len()
    }

    #[test]
    fn only_what_is_neither_marked_nor_a_textile_is_asked_about() {
        assert_eq!(with("Horn toggles: {used: 9 g}"), 1);
        assert_eq!(with("horn toggles: {used: 9 g, animal_origin: no}"), 0);
        assert_eq!(with("feather border: {fibre: {wool: 100}}"), 0);
        assert_eq!(with("hornbeam batten: {used: 200 g}"), 0);
        assert_eq!(with("lining: {fibre: {cotton: 100}}"), 0);
    }
}
