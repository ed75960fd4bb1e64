//! Makers whose names are not printed because nobody said that they may be.

use super::places::of_consent;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Age, Consent, Finding, FindingKind, Maker};

const KIND: FindingKind = FindingKind::note("consent-unknown");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Of some makers on the roll it is not known whether their names may be printed. They are \
          counted on the papers, not named. For a child the consent is a parent's or guardian's, and \
          must be asked for in the way the law of the place wants it.",
    bad: Example {
        piece: "makers: {roll: [{name: Peony Farthing, age: minor, consent: unknown}, {name: Rufus Tallow, age: adult, consent: yes}]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "makers: {roll: [{name: Peony Farthing, age: minor, consent: no}, {name: Rufus Tallow, age: adult, consent: yes}]}",
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

/// Nobody has said yes or no.
fn unasked(maker: &Maker) -> bool {
    !matches!(
        maker.consent.as_ref().map(|c| c.value),
        Some(Consent::Yes | Consent::No)
    )
}

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(makers) = &subject.piece.makers else {
        return;
    };
    let waiting: Vec<&Maker> = makers.roll.iter().filter(|m| unasked(m)).collect();
    let Some((place, lines)) = of_consent(makers, &waiting) else {
        return;
    };
    let minors = waiting
        .iter()
        .filter(|m| m.age.as_ref().is_some_and(|a| a.value == Age::Minor))
        .count();
    let minors = match minors {
        0 => String::new(),
        1 => ", 1 of them a minor's".to_string(),
        n => format!(", {n} of them minors'"),
    };
    // Names stay out of the message: it may be read aloud or sent to somebody.
    findings.push(KIND.at(
        place,
        format!(
            "{} of {} names on the roll will not be printed{minors}: nobody said that they may be{lines}",
            waiting.len(),
            makers.roll.len()
        ),
        "ask, and write `consent: yes` or `consent: no`; for a child ask a parent or guardian",
    ));
}
