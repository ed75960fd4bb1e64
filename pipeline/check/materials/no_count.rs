//! Yarns whose count is not known.

use super::yarns::weft_name;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("no-count");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A yarn has no `count`. The papers are made, but how much of it is in the piece can not be \
          reckoned from its length, and the studio sheet can not compare the reckoned mass with the scale.",
    bad: Example {
        piece: "warp: {yarn: cotton seine twine, fibre: {cotton: 100}}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "warp: {yarn: cotton seine twine, count: Ne 12/6, fibre: {cotton: 100}}",
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let warp = piece.warp.count.is_none();
    let warp = warp.then(|| (&piece.warp.place, "the warp".to_string()));
    // A weft yarn that was weighed needs no count: its mass is known.
    let weft = piece
        .weft
        .iter()
        .enumerate()
        .filter(|(_, yarn)| yarn.count.is_none() && yarn.used.is_none())
        .map(|(i, yarn)| (&yarn.place, weft_name(i, yarn.name.as_ref())));
    let bare: Vec<_> = warp.into_iter().chain(weft).collect();
    let Some((place, name)) = bare.first() else {
        return;
    };
    let more = match bare.len() {
        1 => String::new(),
        2 => ", nor does 1 other yarn".to_string(),
        n => format!(", nor do {} other yarns", n - 1),
    };
    findings.push(KIND.at(
        place,
        format!("{name} does not say its `count`{more}, so its mass can not be reckoned"),
        "write what the band says, with its system: `count: NeW 2/8`, `Nm 8/2`, `Ne 12/6`, `250 tex` or `1100 yd/lb`",
    ));
}
