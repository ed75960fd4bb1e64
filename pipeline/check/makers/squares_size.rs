//! A grid of squares that does not make the measured size.

use crate::check::words::{like, mean};
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::community::extent;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("squares-size");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Rows and columns of squares with their side do not make the measured height and width. \
          Rows are counted from the top, columns from the left, as the piece hangs. Seams and \
          borders of up to 8 % are allowed for; where `seam_takes`, `seam_adds`, `shrinkage` or `border` is \
          written they are reckoned with, and 4 % are allowed.",
    bad: Example {
        piece: "measured: {height: 201 cm, width: 302 cm}\nmakers: {squares: {rows: 12, columns: 8, side: 25 cm}}\nphotos: [{file: front.jpg, view: front, alt: Squares}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 201 cm, width: 302 cm}\nmakers: {squares: {rows: 8, columns: 12, side: 25 cm}}\nphotos: [{file: front.jpg, view: front, alt: Squares}]",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// What seams take and a border adds where nothing is written of them (common practice, no source).
const LOOSE: f64 = 0.08;
/// What is left where it is written: hands differ (common practice, no source).
const TOLD: f64 = 0.04;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let Some(squares) = piece.makers.as_ref().and_then(|m| m.squares.as_ref()) else {
        return;
    };
    let m = &piece.measured;
    let (Some(side), Some(height), Some(width)) = (&squares.side, mean(&m.height), mean(&m.width))
    else {
        return;
    };
    let (rows, columns) = (
        f64::from(squares.rows.value),
        f64::from(squares.columns.value),
    );
    let one = side.value.value.mm();
    let told = squares.seam_takes.is_some()
        || squares.seam_adds.is_some()
        || squares.shrinkage.is_some()
        || squares.border.is_some();
    let loose = if told { TOLD } else { LOOSE } + side.value.half_place.mm() / one;
    let made = |count: f64| extent(squares, one, count);
    let near = |count: f64, extent: f64| (made(count) / extent - 1.0).abs() <= loose;
    if near(rows, height) && near(columns, width) {
        return;
    }
    let remedy = if near(columns, height) && near(rows, width) {
        format!(
            "they are likely swapped: write `rows: {}, columns: {}`",
            squares.columns.value, squares.rows.value
        )
    } else {
        let step = made(2.0) - made(1.0);
        let count = |extent: f64| ((extent - made(1.0)) / step + 1.0).round().max(1.0);
        format!(
            "with this side the measured size has {:.0} rows and {:.0} columns; with these counts a square has a side of {}",
            count(height),
            count(width),
            like(
                &side.value,
                one * (height / made(rows) + width / made(columns)) / 2.0
            )
        )
    };
    findings.push(
        KIND.at(
            &squares.rows.place,
            format!(
                "`{}` rows and `{}` columns of `{}` make {} by {}, not {} by {}",
                squares.rows.value,
                squares.columns.value,
                side.value.text,
                like(&side.value, made(rows)),
                like(&side.value, made(columns)),
                like(&side.value, height),
                like(&side.value, width)
            ),
            remedy,
        )
        .and(
            m.height
                .first()
                .map_or(&squares.columns.place, |h| &h.place),
            "the measured size",
        ),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn swapped_counts_are_seen() {
        assert!(
            found(&CHECK, &CHECK.bad)[0]
                .remedy
                .contains("`rows: 8, columns: 12`")
        );
    }
}
