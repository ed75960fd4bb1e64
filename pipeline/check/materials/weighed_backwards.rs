//! A skein that is heavier after the weaving than before.

use super::yarns::weft_name;
use crate::check::words::other_unit;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind, Skein, Used};

const KIND: FindingKind = FindingKind::error("weighed-backwards");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A yarn weighs more after the weaving than before, so less than nothing of it would be in \
          the piece. Mostly the two figures are swapped, or one has the wrong unit.",
    bad: Example {
        piece: "weft: [{name: buoy red, fibre: {wool: 100}, weighed: {before: 198 g, after: 520 g}}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "weft: [{name: buoy red, fibre: {wool: 100}, weighed: {before: 520 g, after: 198 g}}]",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for (i, yarn) in subject.piece.weft.iter().enumerate() {
        let Some(Used::Weighed(skein)) = &yarn.used else {
            continue;
        };
        if skein.after.value.value > skein.before.value.value {
            let message = format!(
                "{} weighs more after the weaving (`{}`) than before (`{}`)",
                weft_name(i, yarn.name.as_ref()),
                skein.after.value.text,
                skein.before.value.text
            );
            findings.push(
                KIND.at(&skein.after.place, message, remedy(skein))
                    .and(&skein.before.place, "before the weaving"),
            );
        }
    }
}

fn remedy(skein: &Skein) -> String {
    let (before, after) = (&skein.before.value, &skein.after.value);
    // A thousand times too much is a unit, not a swap.
    let (b, a) = (before.value.g(), after.value.g());
    if a > 100.0 * b {
        let less = other_unit(after, |g| g < b && g > b / 100.0);
        let more = other_unit(before, |g| g > a && g < a * 100.0);
        match (less, more) {
            (Some(after), _) => return format!("did you mean `after: {after}`?"),
            (None, Some(before)) => return format!("did you mean `before: {before}`?"),
            (None, None) => {}
        }
    }
    format!(
        "if they are swapped, write `weighed: {{before: {}, after: {}}}`",
        after.text, before.text
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn a_unit_slip_and_a_swap_are_told_apart() {
        let remedy = |weighed: &str| {
            let piece = format!("weft: [{{weighed: {{{weighed}}}}}]").leak();
            let example = Example {
                piece,
                ..Example::PLAIN
            };
            found(&CHECK, &example).remove(0).remedy
        };
        assert!(remedy("before: 520 g, after: 198 kg").contains("`after: 198 g`"));
        assert!(remedy("before: 198 g, after: 520 g").contains("before: 520 g, after: 198 g"));
    }

    #[test]
    fn a_skein_all_used_up_is_no_slip() {
        let example = Example {
            piece: "weft: [{weighed: {before: 520 g, after: 0 g}}]",
            ..Example::PLAIN
        };
        assert!(found(&CHECK, &example).is_empty());
    }
}
