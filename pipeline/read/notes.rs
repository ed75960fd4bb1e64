//! notes.md: headings `## 2026-03-04 · 5.5 h · 42 cm`, free text under each. Day first; hours and
//! height in either order, both optional; `·`, ` - `, `–`, `,` and `|` part them. A heading that does
//! not begin with a figure is the weaver's own and belongs to the text.

use super::kinds;
use super::values::Desk;
use crate::quantity::{Day, Dimension, ErrorKind, Hours, Length, QuantityError, Reading};
use crate::record::{At, Note, Notes, Place};
use std::sync::Arc;

/// Reads the notes.
pub(super) fn notes(desk: &Desk, file: &Arc<str>, text: &str) -> Notes {
    let mut entries: Vec<Note> = Vec::new();
    for (index, line) in text.lines().enumerate() {
        let heading = line
            .strip_prefix("## ")
            .map(str::trim_start)
            .filter(|h| h.starts_with(|c: char| c.is_ascii_digit()));
        match heading {
            Some(heading) => entries.extend(entry(desk, file, index as u32 + 1, line, heading)),
            None => {
                if let Some(day) = lost_day(line) {
                    desk.add(lost(file, index as u32 + 1, line, day));
                }
                if let Some(last) = entries.last_mut() {
                    last.text.push_str(line);
                    last.text.push('\n');
                }
            }
        }
    }
    for entry in &mut entries {
        entry.text = entry.text.trim().to_string();
    }
    Notes { entries }
}

/// A line that is meant as a day's heading but does not begin with `## `: with other or no hash signs,
/// no blank behind them, or blanks before them. The day as written; a bare date in the text is a
/// heading only where hours or a height stand behind it.
fn lost_day(line: &str) -> Option<&str> {
    let heading = line.trim_start().trim_start_matches('#').trim_start();
    let hashes = line.trim_start().starts_with('#');
    let mut parts = split(heading).into_iter();
    let day = parts.next().filter(|d| Day::parse(d).is_ok())?;
    let measured = parts.any(|part| {
        Reading::<Hours>::parse(part).is_ok() || Reading::<Length>::parse(part).is_ok()
    });
    (hashes || measured).then_some(day)
}

fn lost(file: &Arc<str>, number: u32, line: &str, day: &str) -> crate::record::Finding {
    let place = Place {
        file: file.clone(),
        line: number,
        column: 1,
        length: line.chars().count().max(1) as u32,
    };
    let heading = line.trim().trim_start_matches('#').trim_start();
    let heading: String = heading.chars().take(60).collect();
    kinds::UNREADABLE_NOTE.at(
        &place,
        format!("the line of `{day}` is not read as a day's entry: it does not begin with two hash signs and a blank"),
        format!("write it as `## {heading}` from the beginning of the line"),
    )
}

fn entry(desk: &Desk, file: &Arc<str>, number: u32, line: &str, heading: &str) -> Option<Note> {
    let place_of = |part: &str| {
        let start = part.as_ptr() as usize - line.as_ptr() as usize;
        Place {
            file: file.clone(),
            line: number,
            column: line[..start].chars().count() as u32 + 1,
            length: part.chars().count().max(1) as u32,
        }
    };
    let mut parts = split(heading).into_iter();
    let first = parts.next()?;
    let day = match Day::parse(first) {
        Ok(day) => At {
            value: day,
            place: place_of(first),
        },
        Err(e) => {
            desk.add(kinds::UNREADABLE_NOTE.at(
                &place_of(first),
                format!("the heading does not begin with a day: {}", e.message),
                "write it as `## 2026-03-04 · 5.5 h · 42 cm`",
            ));
            return None;
        }
    };
    let mut note = Note {
        place: place_of(heading),
        day,
        hours: None,
        height: None,
        text: String::new(),
    };
    for part in parts {
        let hours = Reading::<Hours>::parse(part);
        let height = Reading::<Length>::parse(part);
        match (hours, height) {
            (Ok(value), _) if note.hours.is_none() => {
                note.hours = Some(At {
                    value,
                    place: place_of(part),
                });
            }
            (_, Ok(value)) if note.height.is_none() => {
                note.height = Some(At {
                    value,
                    place: place_of(part),
                });
            }
            (hours, height) => desk.add(not_understood(&place_of(part), part, hours, height)),
        }
    }
    Some(note)
}

fn not_understood(
    place: &Place,
    part: &str,
    hours: Result<Reading<Hours>, QuantityError>,
    height: Result<Reading<Length>, QuantityError>,
) -> crate::record::Finding {
    let message = match (&hours, &height) {
        (Ok(_), _) => format!("`{part}`: the hours stand here twice"),
        (_, Ok(_)) => format!("`{part}`: the height stands here twice"),
        (Err(e), _) if e.kind == ErrorKind::NoUnit => {
            format!("`{part}` has no unit: is it hours or a height?")
        }
        (_, Err(e)) if e.kind == ErrorKind::Impossible => e.message.clone(),
        _ => format!("`{part}` is neither hours nor a height"),
    };
    kinds::UNREADABLE_NOTE.at(
        place,
        message,
        format!(
            "write {} for the hours, {} for the height woven so far; other words go under the heading",
            Hours::EXAMPLE,
            Length::EXAMPLE
        ),
    )
}

/// Splits at `·`, `–`, `—`, `|`, at a hyphen between blanks, and at a comma that is not a decimal
/// comma.
fn split(heading: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut start = 0;
    for (i, c) in heading.char_indices() {
        let after = &heading[i + c.len_utf8()..];
        let parted = match c {
            '·' | '–' | '—' | '|' => true,
            '-' => heading[..i].ends_with(' ') && after.starts_with(' '),
            ',' => !after.starts_with(|c: char| c.is_ascii_digit()),
            _ => false,
        };
        if parted {
            parts.push(&heading[start..i]);
            start = i + c.len_utf8();
        }
    }
    parts.push(&heading[start..]);
    parts
        .into_iter()
        .map(str::trim)
        .filter(|p| !p.is_empty())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (Notes, Vec<crate::record::Finding>) {
        let desk = Desk::default();
        let notes = notes(&desk, &"notes.md".into(), text);
        (notes, desk.into_findings())
    }

    #[test]
    fn every_way_to_part_a_heading_is_read() {
        let text = "intro\n## 2026-03-04 · 5.5 h · 42 cm\nwords\n## 2026-03-05 - 6 h - 45 cm\n## 2026-03-06, 5,5 h, 48,5 cm\n## 2026-03-07\n## Thoughts\nmore\n";
        let (notes, findings) = read(text);
        assert!(findings.is_empty(), "{findings:?}");
        assert_eq!(notes.entries.len(), 4);
        let third = &notes.entries[2];
        assert_eq!(third.hours.as_ref().unwrap().value.value.hours(), 5.5);
        assert_eq!(third.height.as_ref().unwrap().value.value.cm(), 48.5);
        assert_eq!(notes.entries[3].text, "## Thoughts\nmore");
    }

    #[test]
    fn a_day_under_a_heading_of_another_kind_is_not_dropped_in_silence() {
        for line in [
            "# 2026-03-05 · 5 h · 44 cm",
            "##2026-03-05 · 5 h",
            "### 2026-03-05",
            "  ## 2026-03-05 · 5 h",
            "2026-03-05 · 5 h · 44 cm",
        ] {
            let (notes, findings) = read(&format!("## 2026-03-04 · 5 h\n{line}\nwords\n"));
            assert_eq!(notes.entries.len(), 1, "{line}");
            assert_eq!(findings.len(), 1, "{line}: {findings:?}");
            assert_eq!(findings[0].place.line, 2);
            assert!(
                findings[0].remedy.contains("`## 2026-03-05"),
                "{findings:?}"
            );
        }
        for line in [
            "# Low Water",
            "### Thoughts",
            "2026-03-05 was a wet day",
            "2026-03-05",
            "#1 of nine",
        ] {
            let (_, findings) = read(&format!("## 2026-03-04 · 5 h\n{line}\n"));
            assert!(findings.is_empty(), "{line}: {findings:?}");
        }
    }

    #[test]
    fn a_figure_without_unit_is_asked_about_at_its_place() {
        let (_, findings) = read("## 2026-03-04 · 5.5 · 42 cm\n");
        assert_eq!(findings.len(), 1);
        assert_eq!((findings[0].place.line, findings[0].place.column), (1, 17));
    }
}
