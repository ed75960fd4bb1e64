//! A piece woven on its side whose top is not said.

use super::turned::Laid;
use crate::check::photos::photo_shape::{Verdict, verdict};
use crate::check::words::like;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("top-not-set");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The figures on the loom fit the finished piece only when it is turned on its side, and \
          `top` is not written. Without it a piece counts as hung the way it was woven: way up, \
          draw-in and the direction for rolling would be wrong on the papers.",
    bad: Example {
        piece: "loom: {width: 122 cm, woven: 168 cm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "top: left\nloom: {width: 122 cm, woven: 168 cm}",
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

/// Whether the loom's figures ask for a turn that is not written. Where the front photograph says
/// that height and width are swapped, that is the likelier slip.
pub(in crate::check) fn asks_for_a_turn(subject: &Subject) -> bool {
    let piece = subject.piece;
    let laid = Laid::of(piece, false).zip(Laid::of(piece, true));
    piece.top.is_none()
        && laid.is_some_and(|(upright, sideways)| !upright.fits() && sideways.fits())
        && verdict(subject) != Verdict::Swapped
}

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    if !asks_for_a_turn(subject) {
        return;
    }
    let piece = subject.piece;
    let Some(laid) = Laid::of(piece, true) else {
        return;
    };
    let (what, reading, finished, now) = match (&piece.loom.width, &piece.loom.woven) {
        (Some(width), _) => ("width in the loom", width, laid.across, "height"),
        (None, Some(woven)) => ("woven height", woven, laid.along, "width"),
        (None, None) => return,
    };
    findings.push(KIND.at(
        &reading.place,
        format!(
            "the {what}, `{}`, fits the {now} of the finished piece ({}): it seems to hang on its side, but `top` is not written",
            reading.value.text,
            like(&reading.value, finished)
        ),
        "write `top: left` or `top: right`: the selvedge that hangs at the top, seen from the front; if it hangs as woven, look at the measured height and width",
    ));
}
