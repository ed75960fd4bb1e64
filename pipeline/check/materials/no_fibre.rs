//! Yarns whose fibre is not declared.

use super::yarns::weft_name;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("no-fibre");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A yarn has no `fibre`. The papers are made, but the label can not state the fibre content \
          of the piece: it leaves a line for it.",
    bad: Example {
        piece: "warp: {yarn: twine from the net loft, count: Ne 12/6}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "warp: {yarn: twine from the net loft, count: Ne 12/6, fibre: {cotton: 100}}",
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let warp = (&piece.warp.place, "the warp".to_string(), &piece.warp.fibre);
    let weft = piece.weft.iter().enumerate().map(|(i, yarn)| {
        let name = weft_name(i, yarn.name.as_ref());
        (&yarn.place, name, &yarn.fibre)
    });
    let bare: Vec<_> = std::iter::once(warp)
        .chain(weft)
        .filter(|(.., shares)| shares.is_empty())
        .collect();
    let Some((place, name, _)) = bare.first() else {
        return;
    };
    let more = match bare.len() {
        1 => String::new(),
        n => format!(", nor do {} other yarns", n - 1),
    };
    let more = more.replace("do 1 other yarns", "does 1 other yarn");
    findings.push(KIND.at(
        place,
        format!("{name} does not say its `fibre`{more}, so the fibre content can not be stated"),
        "write what the band says, such as `fibre: {wool: 100}`",
    ));
}
