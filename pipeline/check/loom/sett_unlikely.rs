//! Setts that tapestry is not woven at.

use crate::check::words::{other_unit, plain};
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("sett-unlikely");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The sett is under 1 or over 20 ends a centimetre. The finest workshops wove at up to 16, \
          most weave at 2 to 8. Mostly the unit is a slip.",
    bad: Example {
        piece: "loom: {sett: 30 ends/cm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "loom: {sett: 3.0 ends/cm}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// Ends/cm. Published setts reach from 5 (Angers) to 16 (Beauvais, 19th century; Encyclopaedia
/// Britannica, "Tapestry"); coarser modern work is common practice, no source.
const WOVEN: std::ops::RangeInclusive<f64> = 1.0..=20.0;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(sett) = &subject.piece.loom.sett else {
        return;
    };
    let per_cm = sett.value.value.per_cm();
    if WOVEN.contains(&per_cm) {
        return;
    }
    let remedy = match other_unit(&sett.value, |base| (1.5..=16.0).contains(&(base / 100.0))) {
        Some(text) => format!("did you mean `{text}`?"),
        None => "count the ends over 10 cm and divide by ten".to_string(),
    };
    findings.push(KIND.at(
        &sett.place,
        format!(
            "`{}` is {} ends/cm: tapestry is not woven at that",
            sett.value.text,
            plain(per_cm)
        ),
        remedy,
    ));
}
