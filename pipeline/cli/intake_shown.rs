//! How `offloom begin --from SHEET` shows what it made of a spreadsheet: columns, rows, findings, and the sum.

use super::args::Begin;
use super::intake::{folders, next};
use super::show::{Screen, safe};
use crate::gather::intake::{CellFinding, Column, Field, Intake, Made, Mapping, Outcome};
use crate::record::Finding;
use std::collections::{BTreeMap, BTreeSet};

/// Which column becomes what.
pub(super) fn mapped(file: &str, how: &str, mapping: &Mapping) -> String {
    let sheet = mapping
        .sheet
        .as_ref()
        .map_or(String::new(), |s| format!(", sheet {s}"));
    let mut out = vec![format!(
        "{file}{sheet}: {how}; head lines in row {}",
        mapping.head_row
    )];
    let width = |text: &str| text.chars().count();
    let head = |c: &Column| shortened(&c.head, 32);
    let widest = mapping
        .columns
        .iter()
        .map(|c| width(&head(c)))
        .max()
        .unwrap_or(0);
    for column in &mapping.columns {
        let becomes = match column.field {
            Some(Field::Notes) => "notes.md".to_string(),
            Some(field) => field.name().to_string(),
            None if column.dropped => "nothing".to_string(),
            None => "not understood: kept in notes.md".to_string(),
        };
        let becomes = match (&column.why, column.field) {
            (Some(why), None) if !column.dropped => format!("kept in notes.md: {why}"),
            (Some(why), _) => format!("{becomes} ({why})"),
            (None, _) => becomes,
        };
        let unit = column.unit.as_ref().map_or(String::new(), |u| {
            format!(", {u} where a value does not say")
        });
        let head = head(column);
        let pad = " ".repeat(widest - width(&head));
        out.push(format!(
            "  {:>2}  {head}{pad}  {becomes}{unit}",
            column.letters
        ));
    }
    if !mapping.above.is_empty() {
        out.push(format!(
            "  passed over above the head lines: {}",
            numbers(&mapping.above)
        ));
    }
    if !mapping.other_sheets.is_empty() {
        out.push(format!(
            "  sheets not read: {} (--sheet NAME reads another)",
            mapping.other_sheets.join(", ")
        ));
    }
    safe(&out.join("\n"))
}

fn numbers(rows: &[u32]) -> String {
    let all: Vec<String> = rows.iter().map(u32::to_string).collect();
    format!(
        "{} {}",
        if rows.len() == 1 { "row" } else { "rows" },
        all.join(", ")
    )
}

fn shortened(text: &str, most: usize) -> String {
    match text.chars().count() > most {
        true => text.chars().take(most - 1).chain(['…']).collect(),
        false => text.to_string(),
    }
}

pub(super) fn show_rows(screen: &Screen, intake: &Intake, made: &[Made]) {
    let common = common(intake);
    let widest = intake
        .drafts
        .iter()
        .map(|d| d.slug.chars().count())
        .max()
        .unwrap_or(0);
    for (at, draft) in intake.drafts.iter().enumerate() {
        let mut words = vec![
            draft
                .title
                .clone()
                .unwrap_or_else(|| "(no title)".to_string()),
        ];
        words[0] = shortened(&words[0], 48);
        let became = made.get(at);
        let there = match became {
            Some(made) => made.outcome == Outcome::There,
            None => draft.there,
        };
        if there {
            words.push("its folder is there already: left alone".to_string());
        }
        let wanting: Vec<&str> = draft
            .wanting
            .iter()
            .filter(|w| !common.contains(*w))
            .copied()
            .collect();
        if !wanting.is_empty() && !there {
            words.push(format!("wants {}", wanting.join(", ")));
        }
        if let Some(made) = became.filter(|m| !m.missing.is_empty()) {
            words.push(format!(
                "not found beside the sheet: {}",
                made.missing.join(", ")
            ));
        }
        let pad = " ".repeat(widest - draft.slug.chars().count());
        screen.tell(&safe(&format!(
            "  row {:<5} {}{pad}  {}",
            draft.row,
            draft.slug,
            words.join(" · ")
        )));
    }
    for passed in &intake.passed {
        screen.tell(&safe(&format!(
            "  row {:<5} no folder: {}",
            passed.row, passed.text
        )));
    }
}

/// What every row wants.
fn common(intake: &Intake) -> BTreeSet<&'static str> {
    let mut all = intake
        .drafts
        .iter()
        .map(|d| d.wanting.iter().copied().collect::<BTreeSet<_>>());
    let first = all.next().unwrap_or_default();
    let shared = all.fold(first, |a, b| a.intersection(&b).copied().collect());
    match intake.drafts.len() {
        0 | 1 => BTreeSet::new(),
        _ => shared,
    }
}

/// Findings by column, the remedy once for those of a kind.
pub(super) fn show_findings(screen: &Screen, file: &str, intake: &Intake) {
    let mut by: BTreeMap<(u32, &str), Vec<&CellFinding>> = BTreeMap::new();
    for found in intake.drafts.iter().flat_map(|d| &d.findings) {
        let key = (found.finding.place.column, found.finding.kind.name);
        by.entry(key).or_default().push(found);
    }
    for all in by.values() {
        let mut last = "";
        for (at, found) in all.iter().enumerate() {
            let finding = &found.finding;
            let cell = format!(
                "{file} {}{} {}",
                found.letters, finding.place.line, found.head
            );
            screen.warn(
                finding.kind.rank,
                finding.kind.name,
                &format!("{cell}: {}", finding.message),
            );
            let next = all.get(at + 1).map_or("", |f| f.finding.remedy.as_str());
            if next != finding.remedy && last != finding.remedy || at + 1 == all.len() {
                screen.hint(&finding.remedy);
            }
            last = &finding.remedy;
        }
    }
    for passed in &intake.passed {
        let f = &passed.finding;
        screen.warn(
            f.kind.rank,
            f.kind.name,
            &format!("{file} row {}: {}", passed.row, f.message),
        );
    }
    if let Some(passed) = intake.passed.last() {
        screen.hint(&passed.finding.remedy);
    }
    for finding in intake.drafts.iter().flat_map(|d| &d.read_back) {
        show_plain(screen, finding);
    }
}

fn show_plain(screen: &Screen, f: &Finding) {
    screen.warn(
        f.kind.rank,
        f.kind.name,
        &format!("{}:{}: {}", f.place.file, f.place.line, f.message),
    );
    screen.hint(&f.remedy);
}

pub(super) fn sum_rows(asked: &Begin, intake: &Intake, made: &[Made]) -> String {
    let of = |outcome: Outcome| made.iter().filter(|m| m.outcome == outcome).count();
    let (new, there) = match asked.dry_run {
        true => {
            let there = intake.drafts.iter().filter(|d| d.there).count();
            (intake.drafts.len() - there, there)
        }
        false => (of(Outcome::Made), of(Outcome::There)),
    };
    let verb = if asked.dry_run {
        "would be made"
    } else {
        "made"
    };
    let mut out = vec![format!("{} {verb}", folders(new))];
    if there > 0 {
        out.push(format!("{there} there already and left alone"));
    }
    if !intake.passed.is_empty() {
        out.push(format!(
            "{} without a folder",
            numbers(&intake.passed.iter().map(|p| p.row).collect::<Vec<_>>())
        ));
    }
    let wrong: usize = intake.drafts.iter().map(|d| d.findings.len()).sum();
    if wrong > 0 {
        out.push(format!(
            "{wrong} values to look at, which stand as remarks beside their fields"
        ));
    }
    let mut text = out.join("; ");
    let mut wanting: BTreeMap<&str, usize> = BTreeMap::new();
    for name in intake
        .drafts
        .iter()
        .filter(|d| !d.there)
        .flat_map(|d| &d.wanting)
    {
        *wanting.entry(name).or_default() += 1;
    }
    if !wanting.is_empty() {
        let all: Vec<String> = wanting
            .iter()
            .map(|(name, n)| format!("{name} ({n})"))
            .collect();
        text.push_str(&format!(
            "\nstill to be written into piece.yaml: {}",
            all.join(", ")
        ));
    }
    format!("{text}\n{}", next(asked))
}
