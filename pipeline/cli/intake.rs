//! `offloom begin ARCHIVE --from`: shows how a spreadsheet or a folder of photographs is understood, and has the folders
//! made.

use super::args::Begin;
use super::begin::new_archive;
use super::intake_shown::{mapped, show_findings, show_rows, sum_rows};
use super::show::{Screen, safe};
use super::stop::Stop;
use super::{Exit, progress};
use crate::disk;
use crate::gather::intake::{
    Album, Group, Made, Outcome, album_json, drafts, gather, look_through, make_album, make_pieces,
    map, rows_json,
};
use crate::read::sheet::read_tables;
use crate::record::Rank;
use std::collections::BTreeSet;
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

pub(super) fn next(asked: &Begin) -> String {
    let archive = asked.archive.display();
    match asked.dry_run {
        true => "nothing was written; the same without --dry-run makes the folders".to_string(),
        false => format!("next: offloom check {archive}"),
    }
}

pub(super) fn folders(count: usize) -> String {
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
