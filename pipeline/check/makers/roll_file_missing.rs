//! The file of the roll is named but not there.

use super::places::not_there;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("roll-file-missing");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "`makers.roll_file` names a file that does not lie in the piece's folder. Without it nobody on it could be named, or thanked.",
    bad: Example {
        piece: "makers: {roll_file: rol.csv}",
        more: &[(
            "pieces/p/roll.csv",
            "name,age,consent\nAda Quill,adult,yes\n",
        )],
        ..Example::PLAIN
    },
    good: Example {
        piece: "makers: {roll_file: roll.csv}",
        more: &[(
            "pieces/p/roll.csv",
            "name,age,consent\nAda Quill,adult,yes\n",
        )],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(file) = subject
        .piece
        .makers
        .as_ref()
        .and_then(|m| m.roll_file.as_ref())
    else {
        return;
    };
    if let Some(remedy) = not_there(
        subject,
        file,
        "put the roll beside piece.yaml, or leave `roll_file` out",
    ) {
        let message = format!("there is no `{}` in the piece's folder", file.value);
        findings.push(KIND.at(&file.place, message, remedy));
    }
}
