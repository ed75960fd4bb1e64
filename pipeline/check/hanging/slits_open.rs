//! Slits that the weight will open.

use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::hang::Slits;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("slits-open");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The piece hangs on its side, so it hangs by its weft and its slits lie level: the weight draws \
          every slit open that is not sewn. They are said to be open, or the technique has slits and \
          nothing tells what became of them.",
    bad: Example {
        piece: "top: left\ntechnique: slit tapestry",
        ..Example::PLAIN
    },
    good: Example {
        piece: "top: left\ntechnique: slit tapestry\nfinishing: {slits: sewn}",
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let slits = Slits::of(piece, None);
    if !slits.opens {
        return;
    }
    let told = piece
        .hanging
        .as_ref()
        .and_then(|h| h.slits.as_ref())
        .map(|s| &s.place);
    let told = told.or(piece.finishing.slits.as_ref().map(|s| &s.place));
    let place = told
        .or(piece.technique.as_ref().map(|t| &t.place))
        .unwrap_or(&piece.place);
    let message = match (&piece.finishing.slits, told) {
        (Some(words), Some(_)) => format!("the slits are `{}` and the piece hangs on its side: its weight will draw them open", words.value),
        (None, Some(_)) => "the slits are open and the piece hangs on its side: its weight will draw them open".to_string(),
        _ => "slit tapestry that hangs on its side, and nothing tells whether the slits are sewn: the weight draws open ones apart".to_string(),
    };
    let finding = KIND.at(
        place,
        message,
        "sew them before it hangs and write `slits: sewn` under `finishing`",
    );
    findings.push(match &piece.top {
        Some(top) => finding.and(&top.place, "hangs on its side"),
        None => finding,
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn slits_are_asked_about_only_where_the_weight_opens_them() {
        for (piece, count) in [
            ("top: left\ntechnique: slit tapestry", 1),
            ("top: finish\ntechnique: slit tapestry", 0),
            ("top: right\ntechnique: plain weave", 0),
            ("top: right\nfinishing: {slits: left open}", 1),
            (
                "top: right\nfinishing: {slits: left open}\nhanging: {slits: sewn}",
                0,
            ),
            (
                "top: right\ntechnique: slit tapestry\nhanging: {slits: partly}",
                1,
            ),
            (
                "top: left\ntechnique: slit tapestry\nfinishing: {slits: as the cartoon has them}",
                0,
            ),
        ] {
            let example = Example {
                piece,
                ..Example::PLAIN
            };
            assert_eq!(found(&CHECK, &example).len(), count, "{piece}");
        }
    }
}
