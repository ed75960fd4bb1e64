//! What an intake is for machines.

use super::album::{Album, Group};
use super::make::{Made, Outcome};
use super::mapping::{Column, Mapping};
use super::rows::{CellFinding, Intake};
use crate::record::Finding;
use serde_json::{Value, json};

/// The document of rows; `made` is empty where nothing was to be made.
pub fn rows_json(how: &str, mapping: &Mapping, intake: &Intake, made: &[Made]) -> Value {
    let rows = intake.drafts.iter().enumerate().map(|(at, draft)| {
        let became = made.get(at);
        json!({
            "row": draft.row,
            "piece": draft.slug,
            "title": draft.title,
            "state": state(became, draft.there),
            "wanting": draft.wanting,
            "photos": became.map_or(&draft.photos, |m| &m.copied),
            "photos_missing": became.map(|m| &m.missing),
            "findings": draft.findings.iter().map(|f| cell(f, mapping)).collect::<Vec<_>>(),
            "read_back": draft.read_back.iter().map(plain).collect::<Vec<_>>(),
        })
    });
    let passed = intake.passed.iter().map(|p| {
        let mut value = plain(&p.finding);
        value["row"] = json!(p.row);
        value["text"] = json!(p.text);
        value
    });
    json!({
        "read_as": how,
        "sheet": mapping.sheet,
        "head_row": mapping.head_row,
        "rows_above": mapping.above,
        "other_sheets": mapping.other_sheets,
        "columns": mapping.columns.iter().map(column).collect::<Vec<_>>(),
        "rows": rows.collect::<Vec<_>>(),
        "rows_left_out": passed.collect::<Vec<_>>(),
    })
}

/// The document of photographs; `made` is empty where nothing was to be made.
pub fn album_json(album: &Album, groups: &[Group], made: &[Made]) -> Value {
    let groups = groups.iter().enumerate().map(|(at, group)| {
        let photos = group.photos.iter().zip(&group.names);
        let photos = photos.map(|(photo, name)| {
            json!({"from": photo.relative, "file": name, "taken": photo.taken, "sha256": photo.digest.to_string()})
        });
        json!({
            "piece": group.slug,
            "state": state(made.get(at), false),
            "why": group.why,
            "photos": photos.collect::<Vec<_>>(),
        })
    });
    let left = album
        .left_out
        .iter()
        .map(|(file, why)| json!({"file": file, "why": why}));
    json!({
        "groups": groups.collect::<Vec<_>>(),
        "left_out": left.collect::<Vec<_>>(),
    })
}

fn state(made: Option<&Made>, there: bool) -> Value {
    match made.map(|m| &m.outcome) {
        None if there => json!("already there"),
        None => json!("planned"),
        Some(Outcome::Made) => json!("made"),
        Some(Outcome::There) => json!("already there"),
        Some(Outcome::Stopped) => json!("stopped"),
        Some(Outcome::Failed(why)) => json!({"failed": why}),
    }
}

fn column(column: &Column) -> Value {
    json!({
        "column": column.letters,
        "head": column.head,
        "field": column.field.map(super::fields::Field::name),
        "unit": column.unit,
        "why": column.why,
        "left_out": column.dropped,
    })
}

fn cell(found: &CellFinding, mapping: &Mapping) -> Value {
    let mut value = plain(&found.finding);
    value["sheet"] = json!(mapping.sheet);
    value["cell"] = json!(format!("{}{}", found.letters, found.finding.place.line));
    value["head"] = json!(found.head);
    value["value"] = json!(found.value);
    value
}

fn plain(finding: &Finding) -> Value {
    json!({
        "name": finding.kind.name,
        "rank": finding.kind.rank,
        "file": &*finding.place.file,
        "line": finding.place.line,
        "column": finding.place.column,
        "message": finding.message,
        "remedy": finding.remedy,
    })
}
