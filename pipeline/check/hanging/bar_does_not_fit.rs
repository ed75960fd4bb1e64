//! A bar that is seen beside the piece, or leaves its corners without support.

use super::reckoned::reckoned;
use crate::check::words::like;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind, Support};

const KIND: FindingKind = FindingKind::note("bar-does-not-fit");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A batten or a bar in a sleeve is longer than the piece is wide, so that it is seen, or more than \
          10 cm shorter, so that the top corners have nothing to hang from. The sources have it 2 to 5 cm \
          shorter in all. A `support: bar` may be as long as it likes.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, mass: 4.31 kg}\n\
                hanging: {support: hook-and-loop, bar: {material: pine, section: 18 x 70 mm, length: 140 cm}}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, mass: 4.31 kg}\n\
                hanging: {support: hook-and-loop, bar: {material: pine, section: 18 x 70 mm, length: 161 cm}}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// mm in all that a batten may be shorter: own rule, twice what the sources have.
const SHORTER: f64 = 100.0;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some((written, all)) = reckoned(subject) else {
        return;
    };
    let Some(length) = written.bar.as_ref().and_then(|b| b.length.as_ref()) else {
        return;
    };
    let (bar, width) = (length.value.value.mm(), all.load.width.value);
    let seen = bar > width && all.support.support != Some(Support::Bar);
    if !seen && bar >= width - SHORTER {
        return;
    }
    let what = if seen {
        "longer than the piece is wide, and will be seen"
    } else {
        "so short that the top corners have nothing to hang from"
    };
    let advised = all.support.bar_length();
    let advised = advised.map_or(String::new(), |mm| {
        format!("; advised is {}", like(&length.value, mm))
    });
    let meant = if seen {
        ", or write `support: bar` where it is meant to be seen"
    } else {
        ""
    };
    findings.push(KIND.at(
        &length.place,
        format!(
            "a bar of `{}` is {what}: the piece is {} wide",
            length.value.text,
            like(&length.value, width)
        ),
        format!("look at the bar's length{advised}{meant}"),
    ));
}
