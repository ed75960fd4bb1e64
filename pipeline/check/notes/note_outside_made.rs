//! Work noted on days outside the dates of making.

use crate::check::day_slips::meant;
use crate::check::days::sure;
use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::Day;
use crate::record::{Finding, FindingKind, Note};

const KIND: FindingKind = FindingKind::warning("note-outside-made");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Hours or a woven height are noted on a day before or after the dates in `made`. Entries \
          without hours and height are let be, and so is a `made` marked `~` or `?`.",
    bad: Example {
        notes: "## 2026-03-04 · 5 h\n## 2026-07-08 · 4 h\nHems.\n",
        ..Example::PLAIN
    },
    good: Example {
        piece: "made: 2026-03/2026-07",
        notes: "## 2026-03-04 · 5 h\n## 2026-07-08 · 4 h\nHems.\n",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    if !sure(&piece.made.value) {
        return;
    }
    let (from, to) = (piece.made.value.earliest(), piece.made.value.latest());
    let outside = |day: Day| from.is_some_and(|d| day < d) || to.is_some_and(|d| day > d);
    let stray: Vec<&Note> = piece
        .notes
        .entries
        .iter()
        .filter(|e| (e.hours.is_some() || e.height.is_some()) && outside(e.day.value))
        .collect();
    let Some(first) = stray.first() else {
        return;
    };
    let days = stray.iter().map(|e| e.day.value);
    let (least, greatest) = (days.clone().min(), days.max());
    let month = |day: Day| format!("{:04}-{:02}", day.year, day.month);
    let start = [from, least].into_iter().flatten().min().map(month);
    let end = [to, greatest].into_iter().flatten().max().map(month);
    // One stray day among many is a slip of the pen; it fits between the entries beside it.
    let alone = (stray.len() == 1).then(|| {
        let entries = &piece.notes.entries;
        let at = entries.iter().position(|e| e.day.place == first.day.place);
        let beside = |i: Option<usize>| i.and_then(|i| entries.get(i)).map(|e| e.day.value);
        let before = beside(at.and_then(|i| i.checked_sub(1)));
        let after = beside(at.map(|i| i + 1));
        meant(first.day.value, |d| {
            !outside(d) && before.is_none_or(|b| b <= d) && after.is_none_or(|a| d <= a)
        })
    });
    let remedy = match start.zip(end) {
        Some((start, end)) if alone.flatten().is_some() => {
            let meant = alone.flatten().map_or(String::new(), |d| d.to_string());
            format!("did you mean `{meant}`? Else write `made: {start}/{end}`")
        }
        Some((start, end)) => format!("mend the date, or write `made: {start}/{end}`"),
        None => "mend the date, or widen `made`".to_string(),
    };
    let more = match stray.len() {
        1 => String::new(),
        n => format!(", and so do {} more", n - 1),
    };
    let more = more.replace("so do 1 more", "so does 1 more");
    findings.push(
        KIND.at(
            &first.day.place,
            format!(
                "`{}` lies outside `made: {}`{more}",
                first.day.value, piece.made_text
            ),
            remedy,
        )
        .and(&piece.made.place, "when it was made"),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn a_wider_making_is_offered_once() {
        let findings = found(&CHECK, &CHECK.bad);
        assert_eq!(findings.len(), 1);
        assert!(
            findings[0].remedy.contains("`made: 2026-03/2026-07`"),
            "{findings:?}"
        );
    }

    #[test]
    fn one_stray_day_is_read_as_the_slip_it_is() {
        let example = Example {
            piece: "made: 2026-03/2026-06",
            notes: "## 2026-03-04 · 5 h\n## 2062-03-05 · 5 h\n## 2026-03-06 · 5 h\n",
            ..Example::PLAIN
        };
        let findings = found(&CHECK, &example);
        assert!(findings[0].remedy.contains("`2026-03-05`"), "{findings:?}");
    }

    #[test]
    fn letters_and_unsure_dates_are_let_be() {
        for (piece, notes) in [
            ("made: 2026-03/2026-06", "## 2026-08-01\nA letter came.\n"),
            ("made: 2026~", "## 2027-01-02 · 3 h\n"),
            ("made: 2026-03/..", "## 2029-01-02 · 3 h\n"),
        ] {
            let example = Example {
                piece,
                notes,
                ..Example::PLAIN
            };
            assert!(found(&CHECK, &example).is_empty(), "{piece}");
        }
    }
}
