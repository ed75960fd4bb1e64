//! Two pieces of one series with the same number.

use super::members::{Member, all_series, assigned};
use crate::check::words::numbers;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("series-number-taken");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Two pieces of a series have the same number, or a piece of uncertain number has none left: \
          every one it might have belongs to another piece. Two certificates would say the same.",
    bad: Example {
        piece: "series: {name: Slack Water, number: 4, of: 9}",
        beside: "title: High Water\nseries: {name: Slack Water, number: 4, of: 9}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "series: {name: Slack Water, number: 4, of: 9}",
        beside: "title: High Water\nseries: {name: Slack Water, number: 5, of: 9}",
        ..Example::PLAIN
    },
    rule: Rule::Archive(rule),
};

fn rule(subjects: &[Subject], findings: &mut Vec<Finding>) {
    for members in all_series(subjects) {
        let given = assigned(&members);
        for (member, _) in members.iter().zip(&given).filter(|(_, n)| n.is_none()) {
            findings.extend(taken(member, &members, &given));
        }
    }
}

fn taken(member: &Member, members: &[Member], given: &[Option<u32>]) -> Option<Finding> {
    let place = &member.series.number.as_ref()?.place;
    let wanted = member.numbers();
    let name = &member.series.name.value;
    let (_, holder) = given
        .iter()
        .zip(members)
        .find(|(number, _)| number.is_some_and(|n| wanted.contains(&n)))?;
    let message = match member.certain() {
        Some(number) => format!(
            "`{number}` of `{name}` is the number of `{}` already",
            holder.piece.title.value
        ),
        None => format!(
            "every number this piece may have in `{name}` ({}) belongs to another piece",
            numbers(wanted)
        ),
    };
    let everyone: Vec<u32> = members.iter().flat_map(|m| m.numbers().to_vec()).collect();
    let most = member.series.of.as_ref().map(|of| of.value);
    let free = (1..=most.unwrap_or(1000)).find(|n| !everyone.contains(n));
    let remedy = match free {
        Some(free) => format!(
            "look at both pieces; {free} is free. Of a number that is not sure write the choices, such as `number: [{}, {free}]`",
            wanted.first().copied().unwrap_or(1)
        ),
        None => "look at both pieces; no number of the series is free".to_string(),
    };
    let other = holder.series.number.as_ref().map(|n| &n.place);
    let finding = KIND.at(place, message, remedy);
    Some(match other {
        Some(other) => finding.and(other, "the other piece"),
        None => finding,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    fn count(p: &str, q: &str) -> usize {
        let line = |n: &str| -> &'static str {
            format!("series: {{name: Slack Water, number: {n}}}").leak()
        };
        let example = Example {
            piece: line(p),
            beside: line(q),
            ..Example::PLAIN
        };
        found(&CHECK, &example).len()
    }

    #[test]
    fn uncertain_numbers_make_room_for_each_other() {
        assert_eq!(count("[2, 3]", "2"), 0);
        assert_eq!(count("[2, 3]", "[2, 3]"), 0);
        assert_eq!(count("2", "2"), 1);
        assert_eq!(count("[2]", "[2]"), 1);
    }

    #[test]
    fn three_pieces_can_not_share_two_numbers() {
        let more = "title: Ebb\nmade: 2026\nwarp: {yarn: twine}\nweft: [{name: green}]\nmeasured: {height: 1 m, width: 1 m}\nseries: {name: slack water, number: [2, 3]}\n";
        let example = Example {
            piece: "series: {name: Slack Water, number: [2, 3]}",
            beside: "series: {name: Slack Water, number: [3, 2]}",
            more: vec![("pieces/r/piece.yaml", more)].leak(),
            ..Example::PLAIN
        };
        let findings = found(&CHECK, &example);
        assert_eq!(findings.len(), 1);
        assert!(findings[0].message.contains("every number"), "{findings:?}");
    }
}
