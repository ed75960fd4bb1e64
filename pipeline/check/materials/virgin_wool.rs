//! Wool written as virgin that the label may not call so.

use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::{FibreContent, Masses, Size, Web};
use crate::record::{Finding, FindingKind, Past, Piece, RuleSet, Share, fibre_written};

const KIND: FindingKind = FindingKind::note("virgin-wool");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Wool is written as `virgin wool`, but the EU and UK rules do not let this piece's label say so \
          (Regulation (EU) No 1007/2011, article 8): all its wool must be virgin, at least 25 % of the \
          mixture, spun together with no more than one other fibre, and every percentage must be known. \
          The label says wool.",
    bad: Example {
        piece: "\
warp: {yarn: cotton seine twine, count: Ne 12/6, fibre: {cotton: 100}}
loom: {ends: 366, woven: 168 cm}
weft: [{name: sea green, fibre: {virgin wool: 100}, used: 410 g}, {name: foam, fibre: {wool: 100}, used: 90 g}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "\
warp: {yarn: cotton seine twine, count: Ne 12/6, fibre: {cotton: 100}}
loom: {ends: 366, woven: 168 cm}
weft: [{name: sea green, fibre: {virgin wool: 100}, used: 410 g}, {name: foam, fibre: {virgin wool: 100}, used: 90 g}]",
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(studio) = subject.studio else { return };
    let Some(share) = virgin(subject.piece) else {
        return;
    };
    let european = |rule: RuleSet| matches!(rule, RuleSet::Eu | RuleSet::Uk);
    let Some(rule) = studio.rules.iter().find(|r| european(r.value)) else {
        return;
    };
    let piece = subject.piece;
    let size = Size::of(piece);
    let masses = Masses::of(piece, &Web::of(piece, &size), &size);
    if let Some(Err(why)) = FibreContent::of(piece, &masses, rule.value).virgin_wool {
        findings.push(KIND.at(
            &share.fibre.place,
            format!("`{}` can not stand on the label: {why}", share.fibre.value),
            "write `wool`, or write every yarn's wool as it is and how much of each was used",
        ));
    }
}

/// The first share written as virgin wool.
fn virgin(piece: &Piece) -> Option<&Share> {
    let weft = piece.weft.iter().flat_map(|w| &w.fibre);
    piece
        .warp
        .fibre
        .iter()
        .chain(weft)
        .find(|s| fibre_written(&s.fibre).is_some_and(|w| w.past == Past::Virgin))
}
