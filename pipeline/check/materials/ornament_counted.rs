//! Decorative yarn that is too much to be left out of the fibre content.

use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::{FibreContent, Masses, Size, Web, significant};
use crate::record::{Finding, FindingKind, RuleSet};

const KIND: FindingKind = FindingKind::note("ornament-counted");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A yarn is marked `decorative`, so that it may stay out of the fibre content; but there is more \
          of it than the law lets out (7 % of the piece in the EU and UK, 5 % of the fibre in the US, \
          under 5 % in Canada), or how much there is can not be told. It is counted in like any other.",
    bad: Example {
        piece: "\
warp: {yarn: cotton seine twine, count: Ne 12/6, fibre: {cotton: 100}}
loom: {ends: 366, woven: 168 cm}
weft: [{name: sea green, fibre: {wool: 100}, used: 410 g}, {name: glint, fibre: {metal: 100}, used: 90 g, decorative: yes}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "\
warp: {yarn: cotton seine twine, count: Ne 12/6, fibre: {cotton: 100}}
loom: {ends: 366, woven: 168 cm}
weft: [{name: sea green, fibre: {wool: 100}, used: 410 g}, {name: glint, fibre: {metal: 100}, used: 9 g, decorative: yes}]",
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let Some(studio) = subject.studio else { return };
    let decorative = piece
        .weft
        .iter()
        .find_map(|w| w.decorative.as_ref().filter(|d| d.value));
    let Some(first) = decorative else { return };
    let size = Size::of(piece);
    let masses = Masses::of(piece, &Web::of(piece, &size), &size);
    for rule in &studio.rules {
        let Some(o) = FibreContent::of(piece, &masses, rule.value).ornament else {
            continue;
        };
        if o.left_out {
            continue;
        }
        let letters = RuleSet::ALL.iter().find(|(_, r)| *r == rule.value);
        let letters = letters.map_or("", |(letters, _)| letters);
        let (message, remedy) = match &o.share {
            Some(share) => (
                format!(
                    "the decorative yarn is {} %; the {letters} rules let {} % out, so it is counted in",
                    significant(share.value, 3),
                    significant(o.limit, 2)
                ),
                "take `decorative` away, or look at how much of it was used",
            ),
            None => (
                format!(
                    "how much decorative yarn there is can not be told, so under the {letters} rules it is \
                     counted in"
                ),
                "write how much of it was used: `used: 9 g`",
            ),
        };
        findings.push(KIND.at(&first.place, message, remedy));
    }
}
