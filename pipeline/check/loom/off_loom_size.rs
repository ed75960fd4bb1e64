//! Draw-in and take-up out of all likelihood.

use super::top_not_set::asks_for_a_turn;
use super::turned::{DRAW_IN, Laid, TAKE_UP};
use crate::check::photos::photo_shape::{Verdict, verdict};
use crate::check::words::{like, other_unit, percent};
use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::{Length, Reading};
use crate::record::{At, Finding, FindingKind, Piece};

const KIND: FindingKind = FindingKind::warning("off-loom-size");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Between loom and wall the piece would have lost more than 12 %, or gained more than 3 %, \
          of its width or height. A web draws in a little and shrinks a little when it is cut off; \
          more than that is mostly a swapped or mistyped figure.",
    bad: Example {
        piece: "loom: {width: 196 cm, woven: 124 cm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "loom: {width: 169 cm, woven: 124 cm}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let sideways = piece.top().sideways();
    let Some((laid, turned)) = Laid::of(piece, sideways).zip(Laid::of(piece, !sideways)) else {
        return;
    };
    if laid.fits() || asks_for_a_turn(subject) {
        return;
    }
    let turn = turned.fits().then(|| turn_remedy(subject));
    if let (Some(width), Some(lost), false) = (&piece.loom.width, laid.draw_in, laid.width_fits()) {
        let remedy = turn
            .clone()
            .or_else(|| unit_remedy(width, laid.across, &DRAW_IN))
            .unwrap_or_else(|| misread("width", width, laid.across));
        let message = said("width", "draw-in", width, laid.across, lost);
        findings.push(KIND.at(&width.place, message, remedy));
    }
    if let (Some(woven), Some(lost), false) = (&piece.loom.woven, laid.take_up, laid.height_fits())
    {
        let remedy = turn
            .or_else(|| hems_remedy(piece, woven, laid.along))
            .or_else(|| unit_remedy(woven, laid.along, &TAKE_UP))
            .unwrap_or_else(|| misread("woven height", woven, laid.along));
        let message = said("woven height", "take-up", woven, laid.along, lost);
        findings.push(KIND.at(&woven.place, message, remedy));
    }
}

fn said(what: &str, name: &str, reading: &At<Reading<Length>>, finished: f64, lost: f64) -> String {
    let change = if lost < 0.0 {
        format!("a gain of {}", percent(-lost))
    } else {
        format!("a {name} of {}", percent(lost))
    };
    format!(
        "the {what} on the loom, `{}`, became {} on the wall: {change}",
        reading.value.text,
        like(&reading.value, finished)
    )
}

/// The figures fit the other way round: by the photograph, height and width are swapped; else `top`.
fn turn_remedy(subject: &Subject) -> String {
    let piece = subject.piece;
    if verdict(subject) == Verdict::Swapped || piece.top.is_none() {
        return "the figures fit when the measured `height` and `width` are swapped: look at them"
            .to_string();
    }
    let other = if piece.top().sideways() {
        "`top: finish` (it hangs as it was woven)"
    } else {
        "`top: left` or `top: right` (it hangs on its side)"
    };
    if verdict(subject) == Verdict::Fits {
        return format!(
            "the front photograph bears the measured height and width out, so it is likely `top` that is wrong: the figures fit with {other}"
        );
    }
    format!("the figures fit with {other}, or when the measured `height` and `width` are swapped")
}

fn hems_remedy(piece: &Piece, woven: &At<Reading<Length>>, along: f64) -> Option<String> {
    let hems = piece.loom.hems.as_ref()?;
    let both: Length = [&hems.start, &hems.finish]
        .into_iter()
        .flatten()
        .map(|r| r.value.value)
        .sum();
    let without = woven.value.value.mm() - both.mm();
    let fits = without > 0.0 && TAKE_UP.contains(&((without - along) / without));
    fits.then(|| {
        format!(
            "it seems to count the hems; without them write `woven: {}`",
            like(&woven.value, without)
        )
    })
}

fn unit_remedy(
    reading: &At<Reading<Length>>,
    finished: f64,
    range: &std::ops::RangeInclusive<f64>,
) -> Option<String> {
    other_unit(&reading.value, |mm| range.contains(&((mm - finished) / mm)))
        .map(|text| format!("did you mean `{text}`?"))
}

fn misread(what: &str, reading: &At<Reading<Length>>, finished: f64) -> String {
    // Two figures changed places: 196 for 169.
    let text = &reading.value.text;
    let digits: Vec<usize> = text
        .char_indices()
        .filter(|(_, c)| c.is_ascii_digit())
        .map(|(i, _)| i)
        .collect();
    for pair in digits.windows(2) {
        let mut octets = text.clone().into_bytes();
        octets.swap(pair[0], pair[1]);
        let swapped = String::from_utf8(octets).unwrap_or_default();
        let fits = Reading::<Length>::parse(&swapped)
            .is_ok_and(|r| (0.0..=0.06).contains(&((r.value.mm() - finished) / r.value.mm())));
        if fits && swapped != *text {
            return format!("did you mean `{swapped}`?");
        }
    }
    format!("look at the {what} on the loom and at the measured height and width")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    fn with(piece: &'static str) -> Vec<Finding> {
        let example = Example {
            piece,
            ..Example::PLAIN
        };
        found(&CHECK, &example)
    }

    #[test]
    fn figures_that_changed_places_are_seen() {
        assert!(with(CHECK.bad.piece)[0].remedy.contains("`169 cm`"));
    }

    #[test]
    fn a_top_that_does_not_fit_is_questioned() {
        let findings = with("top: left\nloom: {width: 169 cm, woven: 124 cm}");
        assert_eq!(findings.len(), 2);
        assert!(findings[0].remedy.contains("`top: finish`"), "{findings:?}");
    }

    #[test]
    fn a_wrong_top_is_told_from_swapped_figures_by_the_corners_in_the_photograph() {
        let piece = "top: left\nloom: {width: 169 cm, woven: 124 cm}\n\
            photos: [{file: front.jpg, view: front, corners: [[20, 20], [4940, 30], [4950, 3620], [25, 3625]]}]";
        let findings = with(piece);
        assert!(
            findings[0].remedy.contains("likely `top` that is wrong")
                && findings[0].remedy.contains("`top: finish`"),
            "{findings:?}"
        );
    }

    #[test]
    fn hems_that_were_counted_in_are_seen() {
        let findings =
            with("loom: {width: 169 cm, woven: 144 cm, hems: {start: 10 cm, finish: 10 cm}}");
        assert_eq!(findings.len(), 1);
        assert!(
            findings[0].remedy.contains("`woven: 124 cm`"),
            "{findings:?}"
        );
    }

    #[test]
    fn a_unit_slip_is_seen() {
        let findings = with("loom: {width: 169 mm, woven: 124 cm}");
        assert!(findings[0].remedy.contains("`169 cm`"), "{findings:?}");
    }
}
