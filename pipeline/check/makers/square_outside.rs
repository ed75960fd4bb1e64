//! A square on the map that the wall does not have.

use super::places::{count, mapped, said};
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("square-outside");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The map names a row or a column that `rows` and `columns` do not have. Either one of the numbers is a slip, or the wall grew and `rows` or `columns` were not changed with it.",
    bad: Example {
        piece: "makers: {roll: [{name: Ada Quill, age: adult, consent: yes}, {name: Rufus Tallow, age: adult, consent: yes}], squares: {rows: 1, columns: 2, map: squares.csv}}",
        more: &[(
            "pieces/p/squares.csv",
            "row,column,maker\n1,1,Ada Quill\n2,1,Rufus Tallow\n",
        )],
        ..Example::PLAIN
    },
    good: Example {
        piece: "makers: {roll: [{name: Ada Quill, age: adult, consent: yes}, {name: Rufus Tallow, age: adult, consent: yes}], squares: {rows: 1, columns: 2, map: squares.csv}}",
        more: &[(
            "pieces/p/squares.csv",
            "row,column,maker\n1,1,Ada Quill\n1,2,Rufus Tallow\n",
        )],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some((_, squares)) = mapped(subject) else {
        return;
    };
    let outside: Vec<_> = squares.made.iter().filter(|s| !squares.has(s)).collect();
    let Some(first) = outside.first() else {
        return;
    };
    let places: Vec<(u32, u32)> = outside.iter().map(|s| (s.row, s.column)).collect();
    findings.push(
        KIND.at(
            &first.place,
            format!(
                "{} on the map lie outside a wall of `{}` rows and `{}` columns: {}",
                count(places.len(), "square"),
                squares.rows.value,
                squares.columns.value,
                said(&places)
            ),
            "mend the row or the column on the map, or `rows` and `columns`",
        )
        .and(&squares.rows.place, "the rows"),
    );
}
