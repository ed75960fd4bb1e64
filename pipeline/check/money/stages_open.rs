//! A price that the stages do not cover yet.

use super::stages::price_and_stages;
use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::Money;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("stages-open");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The payments in stages come to less than the price: the rest is owed, or a stage is not \
          yet written down.",
    bad: Example {
        piece: "money: {price: 6800 GBP, stages: [{what: deposit, amount: 2200 GBP}]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "money: {price: 6800 GBP, stages: [{what: deposit, amount: 2200 GBP}, {what: balance, amount: 4600 GBP}]}",
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some((price, sum)) = price_and_stages(subject.piece) else {
        return;
    };
    if sum.amount < price.amount {
        let rest = Money {
            amount: price.amount - sum.amount,
            currency: price.currency,
        };
        findings.push(KIND.at(
            &price.place,
            format!("the stages make `{sum}` of the price of `{}`", price.value),
            format!("when the rest comes, add `{{what: balance, amount: {rest}, on: …}}`"),
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn the_rest_is_reckoned_to_the_penny() {
        let example = Example {
            piece: "money: {price: 84.30 GBP, stages: [{what: a, amount: 28.10 GBP}, {what: b, amount: 28.10 GBP}]}",
            ..Example::PLAIN
        };
        assert!(found(&CHECK, &example)[0].remedy.contains("28.10 GBP"));
    }
}
