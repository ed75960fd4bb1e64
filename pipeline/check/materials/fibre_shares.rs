//! Fibre shares of one yarn that do not make 100.

use super::yarns::{Content, contents};
use crate::check::words::plain;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("fibre-shares");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The shares of a yarn's fibres do not make 100. Fibre content is reckoned from them, so a \
          share that is missing or mistyped makes a wrong label.",
    bad: Example {
        piece: "weft: [{name: buoy red, fibre: {wool: 80, silk: 19}, used: 322 g}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "weft: [{name: buoy red, fibre: {wool: 80, silk: 20}, used: 322 g}]",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// How far from 100 a sum may be: shares with one decimal, rounded, can miss it by so much (common
/// practice, no source).
const TOLERANCE: f64 = 0.05;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for content in contents(subject.piece) {
        let Some(first) = content.shares.first() else {
            continue;
        };
        let sum: f64 = content.shares.iter().map(|s| s.percent.value).sum();
        if (sum - 100.0).abs() > TOLERANCE + 1e-9 {
            let message = format!(
                "the fibres of {} make {} %, not 100",
                content.name,
                plain(sum)
            );
            findings.push(KIND.at(&first.fibre.place, message, remedy(&content, sum)));
        }
    }
}

fn remedy(content: &Content, sum: f64) -> String {
    let shares = content.shares;
    if (sum - 1.0).abs() < 0.001 {
        let percents: Vec<String> = shares
            .iter()
            .map(|s| format!("{}: {}", s.fibre.value, plain(s.percent.value * 100.0)))
            .collect();
        return format!("write percent: `{{{}}}`", percents.join(", "));
    }
    if let [only] = shares {
        return format!(
            "name what the other {} % are, or write `{}: 100`",
            plain(100.0 - sum),
            only.fibre.value
        );
    }
    let largest = shares
        .iter()
        .reduce(|a, b| {
            if b.percent.value > a.percent.value {
                b
            } else {
                a
            }
        })
        .map(|s| (&s.fibre.value, s.percent.value + 100.0 - sum));
    match largest {
        Some((fibre, rest)) if rest > 0.0 && rest < 100.0 => format!(
            "look at the yarn's band; if the others are right, write `{fibre}: {}`",
            plain(rest)
        ),
        _ => "look at the yarn's band and write each share in percent".to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    fn with(fibre: &'static str) -> Vec<Finding> {
        let piece = format!("warp: {{fibre: {{{fibre}}}}}").leak();
        let example = Example {
            piece,
            ..Example::PLAIN
        };
        found(&CHECK, &example)
    }

    #[test]
    fn shares_rounded_to_a_decimal_are_let_pass_and_no_more() {
        assert!(with("wool: 33.35, silk: 33.3, linen: 33.3").is_empty());
        assert!(with("wool: 33.4, silk: 33.3, linen: 33.35").is_empty());
        assert_eq!(with("wool: 33.3, silk: 33.3, linen: 33.3").len(), 1);
        assert_eq!(with("wool: 100.0, silk: 0.06").len(), 1);
    }

    #[test]
    fn the_missing_share_is_reckoned() {
        assert!(with("wool: 70, silk: 20")[0].remedy.contains("`wool: 80`"));
        assert!(
            with("wool: 0.8, silk: 0.2")[0]
                .remedy
                .contains("`{wool: 80, silk: 20}`")
        );
        assert!(with("wool: 80")[0].remedy.contains("the other 20 %"));
    }
}
