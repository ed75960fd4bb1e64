//! `offloom ledger`: a row for each piece.

use super::Exit;
use super::args::Ledger as Asked;
use super::show::Screen;
use super::stop::Stop;
use crate::disk::{self, Lock};
use crate::gather::ledger::{COLUMNS, Ledger, write};
use crate::quantity::Money;
use crate::read::{Archive, Exhibitions};
use serde_json::{Value, json};
use std::path::Path;

pub(super) fn run(screen: &Screen, asked: &Asked, stop: &Stop) -> Exit {
    if asked.columns {
        return columns(screen);
    }
    let Some(root) = &asked.archive else {
        return Exit::Failed;
    };
    match ledger(screen, root, asked.out.as_deref(), stop) {
        Ok(exit) => exit,
        Err(message) => {
            screen.refuse(&message);
            Exit::Failed
        }
    }
}

fn columns(screen: &Screen) -> Exit {
    if screen.json {
        let all: Vec<Value> = COLUMNS
            .iter()
            .map(|c| json!({ "name": c.name, "holds": c.holds }))
            .collect();
        screen.document(&Value::Array(all));
    } else {
        for column in COLUMNS {
            screen.say(&format!("{:15} {}", column.name, column.holds));
        }
    }
    Exit::Done
}

fn ledger(screen: &Screen, root: &Path, out: Option<&Path>, stop: &Stop) -> Result<Exit, String> {
    let told = |e: disk::DiskError| e.to_string();
    let archive = Archive::read(root).map_err(told)?;
    let exhibitions = Exhibitions::read(root).map_err(told)?;
    let Some(studio) = &archive.studio else {
        screen.findings(&archive.findings, &archive.sources);
        return Ok(Exit::Findings);
    };
    let out = out.map_or_else(|| root.join("finished"), Path::to_path_buf);
    let ledger = Ledger::of(&archive, &exhibitions, studio, &out).map_err(told)?;
    disk::make_folder(&out).map_err(told)?;
    let waiting = || screen.tell("waiting for another run in this archive");
    let _lock = Lock::take(&out, &mut || waiting(), &|| stop.asked()).map_err(told)?;
    let files = write(&ledger, &out).map_err(|e| e.to_string())?;
    if screen.json {
        screen.document(&ledger.to_json());
    } else {
        for file in &files {
            screen.tell(&screen.strong(&file.display().to_string()));
        }
        let sums: Vec<String> = ledger.insured.iter().map(Money::to_string).collect();
        let sums = if sums.is_empty() {
            "nothing is insured".to_string()
        } else {
            format!("insured for {} together", sums.join(" and "))
        };
        screen.tell(&format!(
            "{} works; {sums}; {} without a sum",
            ledger.rows.len(),
            ledger.uninsured
        ));
        let lacking = ledger.rows.iter().filter(|r| r.finished != "yes").count();
        if lacking > 0 {
            screen.tell(&format!(
                "{lacking} not finished, or changed since: `offloom finish {}`",
                root.display()
            ));
        }
        if !ledger.unread.is_empty() {
            screen.tell(&format!(
                "could not be read and are not in it: {}",
                ledger.unread.join(", ")
            ));
        }
    }
    Ok(if ledger.unread.is_empty() {
        Exit::Done
    } else {
        Exit::Findings
    })
}
