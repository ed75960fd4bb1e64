//! Yarns whose amount is not known while that of others is.

use super::yarns::weft_name;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind, Used, Weft};

const KIND: FindingKind = FindingKind::note("no-amount");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "How much of a yarn is in the piece is not known, though it is of others. Then the fibre content \
          has no percentages, and the yarns can not be held against the scale.",
    bad: Example {
        piece: "weft: [{name: sea green, count: NeW 2/8, fibre: {wool: 100}, used: 410 g}, {name: weed, count: NeW 2/8, fibre: {wool: 100}}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "weft: [{name: sea green, count: NeW 2/8, fibre: {wool: 100}, used: 410 g}, {name: weed, count: NeW 2/8, fibre: {wool: 100}, used: 90 g}]",
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let weft = &subject.piece.weft;
    let known = |w: &Weft| match &w.used {
        None => false,
        Some(Used::Reeled(_)) => w.count.is_some(),
        Some(Used::Given(_) | Used::Weighed(_)) => true,
    };
    let without: Vec<(usize, &Weft)> = weft.iter().enumerate().filter(|(_, w)| !known(w)).collect();
    let Some((i, first)) = without.first() else {
        return;
    };
    if without.len() == weft.len() {
        return;
    }
    let name = weft_name(*i, first.name.as_ref());
    let more = match without.len() {
        1 => String::new(),
        2 => " and of 1 other yarn".to_string(),
        n => format!(" and of {} other yarns", n - 1),
    };
    let remedy = if first.used.is_some() {
        "a length tells a weight only with the yarn's `count`: write it, or weigh the yarn"
    } else {
        "write what was used: `used: 410 g`, `weighed: {before: 520 g, after: 198 g}`, or the length reeled off, `used: 1640 m`"
    };
    findings.push(KIND.at(
        &first.place,
        format!(
            "how much of {name}{more} is in the piece is not known, so neither percentages nor the weight of the yarns can be reckoned"
        ),
        remedy,
    ));
}
