//! Air that nobody measured a piece in.

use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::Dimension;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("air-unlikely");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The air while measuring, or that a yarn was weighed in, is over 100 % humid; or the air is colder than −10 °C or warmer than 45 °C. \
          Mostly degrees Fahrenheit are written as Celsius, or the other way.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, at: {temperature: 68 C, humidity: 55 %}}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, at: {temperature: 68 F, humidity: 55 %}}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// °C a person measures in (common practice, no source).
const BEARABLE: std::ops::RangeInclusive<f64> = -10.0..=45.0;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    humidity(subject, findings);
    let Some(air) = &subject.piece.measured.at else {
        return;
    };
    if let Some(t) = &air.temperature {
        let celsius = t.value.value.celsius();
        if !BEARABLE.contains(&celsius) {
            let other = if t.value.text.ends_with('F') {
                "C"
            } else {
                "F"
            };
            let number = t.value.text.trim_end_matches(['C', 'F', '°', ' ']);
            findings.push(KIND.at(
                &t.place,
                match other {
                    "F" => format!("`{}`: nobody measures in such air", t.value.text),
                    _ => format!(
                        "`{}` is {celsius:.0} °C: nobody measures in such air",
                        t.value.text
                    ),
                },
                format!("did you mean `{number} {other}`?"),
            ));
        }
    }
}

/// The humidity while measuring, and that each yarn was weighed in.
fn humidity(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let air = piece.measured.at.iter().filter_map(|a| a.humidity.as_ref());
    let yarns = piece.weft.iter().filter_map(|w| w.humidity.as_ref());
    for h in air.chain(yarns) {
        if h.value.value.base() > 100.0 {
            findings.push(KIND.at(
                &h.place,
                format!("`{}` is more than air can hold", h.value.text),
                "write the relative humidity, 0 to 100 %",
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn a_yarn_weighed_in_impossible_air_is_found() {
        let with = |humidity: &str| {
            let piece =
                format!("weft: [{{fibre: {{wool: 100}}, used: 410 g, humidity: {humidity}}}]");
            let example = Example {
                piece: piece.leak(),
                ..Example::PLAIN
            };
            found(&CHECK, &example).len()
        };
        assert_eq!(with("0 %"), 0);
        assert_eq!(with("100 %"), 0);
        assert_eq!(with("580 %"), 1);
    }
}
