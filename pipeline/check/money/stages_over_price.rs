//! Stages that come to more than the price.

use super::stages::price_and_stages;
use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::Money;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("stages-over-price");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The payments in stages come to more than the price: a stage is there twice, or one of the sums is mistyped.",
    bad: Example {
        piece: "money: {price: 6800 GBP, stages: [{what: deposit, amount: 2200 GBP}, {what: balance, amount: 6400 GBP}]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "money: {price: 6800 GBP, stages: [{what: deposit, amount: 2200 GBP}, {what: balance, amount: 4600 GBP}]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some((price, sum)) = price_and_stages(subject.piece) else {
        return;
    };
    let stages = subject.piece.money.iter().flat_map(|m| &m.stages);
    let Some(last) = stages.last() else {
        return;
    };
    if sum.amount <= price.amount {
        return;
    }
    let rest = last.amount.amount - (sum.amount - price.amount);
    let remedy = if rest.is_sign_negative() {
        format!("mend the stages, or write `price: {sum}`")
    } else {
        let rest = Money {
            amount: rest,
            currency: price.currency,
        };
        format!("mend the stages (the last would be `{rest}`), or write `price: {sum}`")
    };
    findings.push(
        KIND.at(
            &last.amount.place,
            format!(
                "the stages make `{sum}`, more than the price of `{}`",
                price.value
            ),
            remedy,
        )
        .and(&price.place, "the price"),
    );
}
