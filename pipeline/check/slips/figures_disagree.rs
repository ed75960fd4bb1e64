//! Figures that contradict each other, and the single slip that most likely explains it.

use crate::check::photos::photo_shape;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::slip::{Contradiction, Relation, contradictions};
use crate::record::{Finding, FindingKind, Place, Rank};

const KIND: FindingKind = FindingKind::warning("figures-disagree");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Figures of the piece contradict each other beyond what tape, scale and yarn are uncertain by: \
          the yarns make another weight than the scale, the piece another size than the web in the \
          loom, and so on. Every single slip of a fixed list is then tried on every figure (a wrong \
          unit, a wrong count system, plies passed over, two digits changed, the point shifted, height \
          and width or before and after changed places, the wrong top, hems counted in, a yarn left \
          out or listed twice, a cone weighed with its yarn), and those that bring all figures back \
          together are named, the likeliest first. The likelihood is that among the slips tried. \
          The record is never changed: look at the piece, the scale or the yarn card.",
    bad: Example {
        piece: "loom: {sett: 3 ends/cm, ends: 506, width: 169 cm, woven: 124 cm, hems: {start: 2.5 cm, finish: 2.5 cm}}\n\
                weft: [{name: sea green, count: NeW 2/8, fibre: {wool: 100}, used: 2.81 kg}]\n\
                measured: {height: 121.4 cm, width: 166.0 cm, mass: 3.01 lb}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "loom: {sett: 3 ends/cm, ends: 506, width: 169 cm, woven: 124 cm, hems: {start: 2.5 cm, finish: 2.5 cm}}\n\
                weft: [{name: sea green, count: NeW 2/8, fibre: {wool: 100}, used: 2.81 kg}]\n\
                measured: {height: 121.4 cm, width: 166.0 cm, mass: 3.01 kg}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for contradiction in found(subject) {
        let place = contradiction
            .slips
            .first()
            .filter(|s| s.place.line > 0)
            .map_or(&subject.piece.title.place, |s| &s.place);
        findings.push(finding(place, &contradiction));
    }
}

fn found(subject: &Subject) -> Vec<Contradiction> {
    contradictions(subject.piece, photo_shape::shape(subject))
}

fn finding(place: &Place, contradiction: &Contradiction) -> Finding {
    let message = format!(
        "figures contradict each other: {}",
        contradiction.said.join("; ")
    );
    let slips: Vec<String> = contradiction
        .slips
        .iter()
        .enumerate()
        .filter(|(i, s)| *i == 0 || s.likelihood >= 0.01)
        .map(|(_, s)| {
            format!(
                "if {}, then {} (likelihood {})",
                s.words,
                s.then,
                likelihood(s.likelihood)
            )
        })
        .collect();
    let remedy = match slips.as_slice() {
        [] => "no single slip explains it: more than one figure is wrong, or the piece is unusual; look at each".to_string(),
        [one] => format!("the likeliest slip: {one}"),
        several => format!("the likeliest slips: {}", several.join("; ")),
    };
    KIND.at(place, message, remedy)
}

/// In hundredths, never quite certain.
fn likelihood(x: f64) -> String {
    if x > 0.99 {
        "over 0.99".to_string()
    } else if x < 0.01 {
        "under 0.01".to_string()
    } else {
        format!("{x:.2}")
    }
}

/// The check that looks at one relation alone, where there is one.
fn lesser(relation: Relation) -> Option<&'static str> {
    Some(match relation {
        Relation::EndsSettWidth => "ends-sett-width",
        Relation::DrawIn | Relation::TakeUp => "off-loom-size",
        Relation::WarpLength => "warp-too-short",
        Relation::MassPerArea | Relation::Density => "mass-unlikely",
        Relation::Lean => "out-of-square",
        Relation::Diagonals => "diagonals-impossible",
        Relation::Heights | Relation::Widths => "readings-apart",
        Relation::Photograph => "photo-shape",
        Relation::LastHeight => "last-height",
        Relation::Rate => "rate-unlikely",
        Relation::Sett => "sett-unlikely",
        Relation::Extent => "size-unlikely",
        Relation::Used => "weighed-backwards",
        Relation::Mass | Relation::WarpYarn | Relation::Hems | Relation::Share => return None,
    })
}

/// Leaves one finding for one fault: what a check of one relation says is left out where a slip is
/// named for it, and a contradiction nobody can explain where such checks say it better.
pub(in crate::check) fn settle(subject: &Subject, findings: &mut Vec<Finding>) {
    if !findings.iter().any(|f| f.kind == KIND) {
        return;
    }
    for contradiction in found(subject) {
        let lesser: Vec<Option<&str>> =
            contradiction.relations.iter().map(|r| lesser(*r)).collect();
        let said = |name: &str, findings: &[Finding]| findings.iter().any(|f| f.kind.name == name);
        if contradiction.slips.is_empty() {
            // Impossible diagonals are said of both relations between them.
            let diagonals =
                |n: &str| n == "out-of-square" && said("diagonals-impossible", findings);
            let all = lesser
                .iter()
                .all(|n| n.is_some_and(|n| said(n, findings) || diagonals(n)));
            if all {
                let own = finding(&subject.piece.title.place, &contradiction);
                findings.retain(|f| f.kind != KIND || f.message != own.message);
            }
        } else {
            findings.retain(|f| f.kind.rank == Rank::Error || !lesser.contains(&Some(f.kind.name)));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn a_count_in_the_wrong_system_is_named_with_the_weight_it_would_make() {
        // Source, published: hanks of 560 yd and of 840 yd to the pound (ASTM D2260): 8/2 worsted is
        // 221.45 tex and 8/2 cotton 147.64, so 9 000 m weigh 1.993 kg and not 1.329 kg.
        let findings = found(
            &CHECK,
            &Example {
                piece: "loom: {sett: 3 ends/cm, ends: 506, width: 169 cm, woven: 124 cm}\n\
                        weft: [{name: sea green, count: Ne 8/2, fibre: {wool: 100}, used: 9000 m}]\n\
                        measured: {height: 121.4 cm, width: 166.0 cm, mass: 2.18 kg}",
                ..Example::PLAIN
            },
        );
        assert_eq!(findings.len(), 1);
        let remedy = &findings[0].remedy;
        assert!(remedy.contains("`NeW 8/2` and not `Ne 8/2`"), "{remedy}");
        assert!(remedy.contains("make 2.18 kg"), "{remedy}");
    }

    #[test]
    fn the_unit_of_the_mass_is_questioned_first() {
        let remedy = &found(&CHECK, &CHECK.bad)[0].remedy;
        assert!(
            remedy.starts_with("the likeliest slip: if `mass` is `3.01 kg` and not `3.01 lb`"),
            "{remedy}"
        );
    }
}
