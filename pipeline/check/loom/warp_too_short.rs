//! A warp shorter than what was woven on it.

use crate::check::words::like;
use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::Length;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("warp-too-short");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "`loom.warp_length` is shorter than the woven height with its hems. Each end must reach \
          over all that is woven on it; how much warp went into the piece is reckoned from it.",
    bad: Example {
        piece: "loom: {woven: 124 cm, warp_length: 120 cm, hems: {start: 2.5 cm, finish: 2.5 cm}}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "loom: {woven: 124 cm, warp_length: 180 cm, hems: {start: 2.5 cm, finish: 2.5 cm}}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let l = &subject.piece.loom;
    let (Some(woven), Some(warp)) = (&l.woven, &l.warp_length) else {
        return;
    };
    let hems: Length = l
        .hems
        .iter()
        .flat_map(|h| [&h.start, &h.finish])
        .flatten()
        .map(|r| r.value.value)
        .sum();
    let needed = (woven.value.value + hems).mm();
    let slack = (woven.value.half_place + warp.value.half_place).mm();
    if warp.value.value.mm() + slack < needed {
        findings.push(
            KIND.at(
                &warp.place,
                format!(
                    "a warp of `{}` is shorter than what is woven on it with the hems, {}",
                    warp.value.text,
                    like(&warp.value, needed)
                ),
                "write the length of one end as it was strung, from knot to knot",
            )
            .and(&woven.place, "the woven height"),
        );
    }
}
