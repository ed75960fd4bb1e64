//! `offloom begin ARCHIVE --from`: shows how a spreadsheet or a folder of photographs is understood, and has the folders
//! made.

use super::args::Begin;
use super::begin::new_archive;
use super::show::{Screen, safe};
use super::stop::Stop;
use super::{Exit, progress};
use crate::disk;
use crate::gather::intake::{
    Album, CellFinding, Column, Field, Group, Intake, Made, Mapping, Outcome, album_json, drafts,
    gather, look_through, make_album, make_pieces, map, rows_json,
};
use crate::read::sheet::read_tables;
use crate::record::{Finding, Rank};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

pub(super) fn run(screen: &Screen, asked: &Begin, from: &Path, stop: &Stop) -> Exit {
    let done = match from.is_dir() {
        true => photographs(screen, asked, from, stop),
        false => rows(screen, asked, from, stop),
    };
    done.unwrap_or_else(|message| {
        screen.refuse(&message);
        Exit::Failed
    })
}

/// The names in the folder of pieces; none where it is not there yet.
fn there(pieces: &Path) -> Result<BTreeSet<String>, String> {
    if !pieces.is_dir() {
        return Ok(BTreeSet::new());
    }
    let found = disk::subfolders(pieces).map_err(|e| e.to_string())?;
    Ok(found.folders.into_iter().collect())
}

/// Makes the archive where it is not there yet.
fn ready(screen: &Screen, archive: &Path) -> Result<(), String> {
    for path in new_archive(archive)? {
        screen.tell(&format!("made {}", path.display()));
    }
    Ok(())
}

fn rows(screen: &Screen, asked: &Begin, from: &Path, stop: &Stop) -> Result<Exit, String> {
    let tables = read_tables(from).map_err(|e| e.to_string())?;
    let file = from
        .file_name()
        .map_or("the sheet".into(), |n| n.to_string_lossy());
    let file = safe(&file);
    let (table, mapping) = map(&tables, asked.sheet.as_deref(), &asked.map)
        .map_err(|why| format!("{}: {why}", from.display()))?;
    if mapping.columns.iter().all(|c| c.field.is_none()) {
        return Err(format!(
            "{}: no head line of row {} is understood: {}; write plain head lines such as title, made, height (cm), or say --map 'HEAD LINE=title'",
            from.display(),
            mapping.head_row,
            mapping
                .columns
                .iter()
                .map(|c| c.head.as_str())
                .collect::<Vec<_>>()
                .join(", ")
        ));
    }
    let pieces = asked.archive.join("pieces");
    let intake = drafts(table, &mapping, &file, &there(&pieces)?);
    screen.tell(&mapped(&file, &tables.how, &mapping));
    let made = match asked.dry_run {
        true => Vec::new(),
        false => {
            ready(screen, &asked.archive)?;
            let beside = from.parent().unwrap_or(Path::new(""));
            make_pieces(&pieces, beside, &intake.drafts, &|| stop.asked())
        }
    };
    if screen.json {
        screen.document(&rows_json(&tables.how, &mapping, &intake, &made));
    } else {
        show_rows(screen, &intake, &made);
        show_findings(screen, &file, &intake);
        screen.tell(&sum_rows(asked, &intake, &made));
    }
    failures(screen, &made);
    let wrong = intake
        .drafts
        .iter()
        .flat_map(|d| &d.findings)
        .map(|f| &f.finding);
    let wrong = wrong.chain(intake.passed.iter().map(|p| &p.finding));
    let wrong = wrong.chain(intake.drafts.iter().flat_map(|d| &d.read_back));
    Ok(exit(
        &made,
        wrong.into_iter().any(|f| f.kind.rank == Rank::Error),
    ))
}

fn exit(made: &[Made], wrong: bool) -> Exit {
    let failed = made.iter().any(|m| matches!(m.outcome, Outcome::Failed(_)));
    match (failed, wrong) {
        (true, _) => Exit::Failed,
        (false, true) => Exit::Findings,
        (false, false) => Exit::Done,
    }
}

fn failures(screen: &Screen, made: &[Made]) {
    for made in made {
        if let Outcome::Failed(why) = &made.outcome {
            screen.fail(&format!("{}: {why}", made.slug));
        }
    }
}

/// Which column becomes what.
fn mapped(file: &str, how: &str, mapping: &Mapping) -> String {
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

fn show_rows(screen: &Screen, intake: &Intake, made: &[Made]) {
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
fn show_findings(screen: &Screen, file: &str, intake: &Intake) {
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

fn sum_rows(asked: &Begin, intake: &Intake, made: &[Made]) -> String {
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

fn next(asked: &Begin) -> String {
    let archive = asked.archive.display();
    match asked.dry_run {
        true => "nothing was written; the same without --dry-run makes the folders".to_string(),
        false => format!("next: offloom check {archive}"),
    }
}

fn folders(count: usize) -> String {
    format!("{count} {}", if count == 1 { "folder" } else { "folders" })
}

fn photographs(screen: &Screen, asked: &Begin, from: &Path, stop: &Stop) -> Result<Exit, String> {
    if !asked.map.is_empty() || asked.sheet.is_some() {
        return Err(
            "--map and --sheet are for spreadsheets; this is a folder of photographs".to_string(),
        );
    }
    let pieces = asked.archive.join("pieces");
    let bar = progress::bar(screen, 0, "looking at");
    let album = look_through(
        from,
        &pieces,
        &|name, all| {
            bar.set_length(all as u64);
            bar.set_message(name.to_string());
            bar.inc(1);
        },
        &|| stop.asked(),
    );
    bar.finish_and_clear();
    let album = album.map_err(|e| e.to_string())?;
    if stop.asked() {
        return Ok(Exit::Stopped);
    }
    let groups = gather(&album, &there(&pieces)?);
    let made = match asked.dry_run || groups.is_empty() {
        true => Vec::new(),
        false => {
            ready(screen, &asked.archive)?;
            make_album(&pieces, &groups, &|| stop.asked())
        }
    };
    if screen.json {
        screen.document(&album_json(&album, &groups, &made));
    } else {
        show_album(screen, &album, &groups);
        let verb = if asked.dry_run {
            "would be made"
        } else {
            "made"
        };
        let new = match asked.dry_run {
            true => groups.len(),
            false => made.iter().filter(|m| m.outcome == Outcome::Made).count(),
        };
        let mut sum = format!(
            "{} {verb} of {} photographs; {} left out",
            folders(new),
            album.photos.len(),
            album.left_out.len()
        );
        if !groups.is_empty() {
            sum.push_str("\nin each: write title and made, choose the photographs' views, and give the folder the name you want");
        }
        screen.tell(&format!("{sum}\n{}", next(asked)));
    }
    failures(screen, &made);
    Ok(exit(&made, false))
}

fn show_album(screen: &Screen, album: &Album, groups: &[Group]) {
    for group in groups {
        screen.tell(&format!("{}  {}", screen.strong(&group.slug), group.why));
        for photo in &group.photos {
            let taken = photo
                .taken
                .as_deref()
                .map_or("without a date".to_string(), |t| t.replace('T', " "));
            screen.tell(&safe(&format!("  {}  {taken}", photo.relative)));
        }
    }
    if !album.left_out.is_empty() {
        screen.tell("left out:");
    }
    for (file, why) in &album.left_out {
        screen.tell(&safe(&format!("  {file}: {why}")));
    }
}
