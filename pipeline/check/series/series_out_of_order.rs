//! Numbers that do not follow the days, where the studio says that they do.

use super::members::{Member, contradictory};
use crate::check::words::numbers;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::series::Statement;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("series-out-of-order");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "studio.yaml says `series_order: by date`, and the numbers of a series can not follow the days on which its \
          pieces were finished, whichever of the choices and days are taken. The fewest statements that contradict each \
          other are named. A date marked with `?` or `~` is not relied on.",
    bad: Example {
        piece: "made: 2026-03/2026-06\nseries: {name: Slack Water, number: 2, of: 9}",
        beside: "title: High Water\nmade: 2025-05\nseries: {name: Slack Water, number: 4, of: 9}",
        studio: "series_order: by date",
        ..Example::PLAIN
    },
    good: Example {
        piece: "made: 2026-03/2026-06\nseries: {name: Slack Water, number: 4, of: 9}",
        beside: "title: High Water\nmade: 2025-05\nseries: {name: Slack Water, number: 2, of: 9}",
        studio: "series_order: by date",
        ..Example::PLAIN
    },
    rule: Rule::Archive(rule),
};

fn rule(subjects: &[Subject], findings: &mut Vec<Finding>) {
    for (members, conflict) in contradictory(subjects) {
        let dated = |s: &Statement| matches!(s, Statement::Finished(_));
        if !conflict.statements.iter().any(dated) {
            continue;
        }
        findings.extend(told(&members, &conflict.statements));
    }
}

fn told(members: &[Member], statements: &[Statement]) -> Option<Finding> {
    let mut said = Vec::new();
    let mut places = Vec::new();
    for statement in statements {
        match statement {
            Statement::Number(i) => {
                let m = members.get(*i)?;
                said.push(format!(
                    "`{}` is number {}",
                    m.piece.title.value,
                    numbers(m.numbers())
                ));
                places.push(m.series.number.as_ref()?.place.clone());
            }
            Statement::Finished(i) => {
                let piece = members.get(*i)?.piece;
                said.push(format!(
                    "`{}` was made {}",
                    piece.title.value,
                    piece.made_text.trim()
                ));
                places.push(piece.made.place.clone());
            }
            Statement::Count => {
                let of = members.iter().find_map(|m| m.series.of.as_ref())?;
                said.push(format!("there are {}", of.value));
                places.push(of.place.clone());
            }
        }
    }
    let mut places = places.into_iter();
    let mut finding = KIND.at(
        &places.next()?,
        format!("these do not go together where numbers follow the days: {}", said.join("; ")),
        "mend the one that is wrong; of a date that is not sure write `2025~` or a span, of a number that is not sure its choices: `number: [2, 3]`",
    );
    for place in places {
        finding = finding.and(&place, "this too");
    }
    Some(finding)
}
