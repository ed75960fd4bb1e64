//! Prices in another currency than the studio's.

use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::Money;
use crate::record::{At, Finding, FindingKind, Studio};

const KIND: FindingKind = FindingKind::note("currency-other");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A price, or the hourly rate, is in another currency than `currency` in studio.yaml. That \
          may be meant; cost and price are then not compared, for no rate of exchange is guessed.",
    bad: Example {
        piece: "money: {price: 6800 EUR}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "money: {price: 6800 GBP}",
        ..Example::PLAIN
    },
    rule: Rule::Archive(rule),
};

fn rule(subjects: &[Subject], findings: &mut Vec<Finding>) {
    let studio = subjects.iter().find_map(|s| s.studio);
    if let Some((studio, rate)) = studio.and_then(|s| Some((s, s.hourly_rate.as_ref()?))) {
        findings.extend(other(studio, rate, "the hourly rate"));
    }
    for subject in subjects {
        let (Some(studio), Some(money)) = (subject.studio, &subject.piece.money) else {
            continue;
        };
        let price = money.price.as_ref().map(|m| (m, "the price"));
        let insured = money.insured.as_ref().map(|m| (m, "the insured value"));
        // Where both are in the other currency, the price stands for both.
        let found = price
            .into_iter()
            .chain(insured)
            .find_map(|(amount, what)| other(studio, amount, what));
        findings.extend(found);
    }
}

fn other(studio: &Studio, amount: &At<Money>, what: &str) -> Option<Finding> {
    let currency = studio.currency.as_ref()?;
    (amount.currency != currency.value).then(|| {
        KIND.at(
            &amount.place,
            format!(
                "{what} is `{}`, and the studio's currency is {}",
                amount.value, currency.value
            ),
            "leave it if it is meant so; it is then not compared with hours and cost",
        )
        .and(&currency.place, "the studio's currency")
    })
}
