//! Stages in another currency than the price.

use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("currency-mixed");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A payment in stages is in another currency than the price, so they can not be added: no \
          rate of exchange is guessed.",
    bad: Example {
        piece: "money: {price: 6800 GBP, stages: [{what: deposit, amount: 2200 EUR}, {what: balance, amount: 4600 GBP}]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "money: {price: 6800 GBP, stages: [{what: deposit, amount: 2200 GBP}, {what: balance, amount: 4600 GBP}]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(money) = &subject.piece.money else {
        return;
    };
    let first = money.stages.first().map(|s| &s.amount);
    let Some(price) = money.price.as_ref().or(first) else {
        return;
    };
    for stage in &money.stages {
        if stage.amount.currency != price.currency {
            findings.push(
                KIND.at(
                    &stage.amount.place,
                    format!(
                        "`{}` is not in {} as the rest is",
                        stage.amount.value, price.currency
                    ),
                    format!(
                        "write what arrived in {}, and the sum in the other currency in `what`",
                        price.currency
                    ),
                )
                .and(&price.place, "the currency of the rest"),
            );
        }
    }
}
