//! `offloom audit`: are bundles and bags whole?

use super::Exit;
use super::args::Audit;
use super::key::read_signers;
use super::progress;
use super::show::{Screen, safe};
use super::stop::Stop;
use crate::audit::{
    About, Change, Fault, Rank, SealSeen, SealStanding, Verdict, Watch, between, find_bags,
    judge_all,
};
use serde_json::json;
use std::path::PathBuf;

pub(super) fn run(screen: &Screen, asked: &Audit, stop: &Stop) -> Exit {
    if let [before, after] = asked.between.as_slice() {
        return changes(screen, asked, before, after);
    }
    let trusted = match asked.signers.as_deref().map(read_signers).transpose() {
        Ok(Some(None)) => {
            screen.refuse(
                "there is no such list of signers; `offloom key` shows where the studio's lies",
            );
            return Exit::Failed;
        }
        Ok(found) => found.flatten(),
        Err(why) => {
            screen.refuse(&why);
            return Exit::Failed;
        }
    };
    let mut bags: Vec<PathBuf> = Vec::new();
    let mut failed = false;
    for path in &asked.paths {
        match find_bags(path) {
            Ok(found) if found.is_empty() => {
                screen.fail(&format!(
                    "{}: nothing there is a bundle or a bag",
                    path.display()
                ));
                failed = true;
            }
            Ok(found) => bags.extend(found),
            Err(error) => {
                screen.fail(&error.to_string());
                failed = true;
            }
        }
    }
    if bags.is_empty() && failed {
        // Nothing was looked at, so nothing is said of how much of it is valid.
        if screen.json {
            screen.document(&json!({ "bags": [] }));
        }
        return Exit::Failed;
    }
    let bar = progress::bar(screen, 0, "auditing");
    for bag in &bags {
        bar.inc_length(std::fs::metadata(bag).map_or(0, |m| m.len()));
    }
    let verdicts = judge_all(
        &bags,
        Watch {
            progress: &|octets| bar.inc(octets),
            cancelled: &|| stop.asked(),
        },
        trusted.as_ref(),
    );
    bar.finish_and_clear();
    if stop.asked() {
        return Exit::Stopped;
    }
    if screen.json {
        screen.document(&json!({ "bags": verdicts }));
    } else {
        for verdict in &verdicts {
            tell(screen, verdict);
        }
        let valid = verdicts.iter().filter(|v| v.is_valid()).count();
        screen.tell(&format!("{valid} of {} valid", verdicts.len()));
    }
    if failed {
        Exit::Failed
    } else if verdicts.iter().all(Verdict::is_valid) {
        Exit::Done
    } else {
        Exit::Findings
    }
}

/// Tells what changed from one bundle to another.
fn changes(screen: &Screen, asked: &Audit, before: &str, after: &str) -> Exit {
    let find = |name: &str| {
        let direct = PathBuf::from(name);
        let shelved = asked
            .paths
            .iter()
            .map(|shelf| shelf.join(format!("{name}.zip")));
        let mut all = std::iter::once(direct.clone()).chain(shelved);
        all.find(|path| path.exists()).unwrap_or(direct)
    };
    let found = match between(&find(before), &find(after)) {
        Ok(found) => found,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    if screen.json {
        screen.document(&json!({ "changes": found }));
        return Exit::Done;
    }
    for change in &found {
        screen.say(&change_line(change));
    }
    screen.tell(&format!("{before} to {after}: {} changes", found.len()));
    Exit::Done
}

fn change_line(change: &Change) -> String {
    let name = safe(&change.name);
    let value = |v: &Option<String>| v.as_deref().map(|v| format!("`{}`", safe(v)));
    let (before, after) = (value(&change.before), value(&change.after));
    match (change.about, before, after) {
        (About::Field | About::Studio, Some(before), Some(after)) => {
            format!("{name}: {before} became {after}")
        }
        (About::Field | About::Studio, None, Some(after)) => format!("{name}: new, {after}"),
        (About::Field | About::Studio, Some(before), None) => format!("{name}: gone, was {before}"),
        (_, Some(before), Some(after)) if before == after => format!("{name}: another file"),
        (_, Some(before), Some(_)) => format!("{name}: was called {before}"),
        (_, None, _) => format!("{name}: new"),
        (_, Some(_), None) => format!("{name}: gone"),
    }
}

fn tell(screen: &Screen, verdict: &Verdict) {
    let path = screen.strong(&verdict.path.display().to_string());
    let how = match verdict.algorithms.as_slice() {
        [] => "no checksum could be read".to_string(),
        all => format!("checked with {}", all.join(" and ")),
    };
    let standing = format!(
        "{path}: {}, {} files, {how}",
        verdict.standing, verdict.payload_files
    );
    if verdict.is_valid() {
        screen.tell(&standing);
    } else {
        screen.say(&standing);
    }
    if let Some(seal) = &verdict.seal
        && let Some(words) = seal_line(seal)
    {
        screen.tell(&words);
    }
    for fault in &verdict.faults {
        screen.say(&line(fault));
    }
}

/// What is known of a seal that fits; one that does not is a fault, and told there.
fn seal_line(seal: &SealSeen) -> Option<String> {
    let key = seal.fingerprint.as_deref()?;
    let who = safe(&seal.principals.join(", "));
    let time = match (&seal.since, &seal.until) {
        (Some(since), Some(until)) => format!(", whose key it was from {since} to {until}"),
        (Some(since), None) => format!(", whose key it is since {since}"),
        _ => String::new(),
    };
    let day = match &seal.said_day {
        Some(day) => format!("; dated {day} by itself, which nothing proves"),
        None => "; without a date".to_string(),
    };
    let whose = match seal.standing {
        SealStanding::Known => format!("sealed by {who}{time}: {key}"),
        SealStanding::SaysOfItself => format!(
            "sealed with the key {key}, by its own list of {who}{time}; compare the key with the certificate, or give --signers"
        ),
        _ => return None,
    };
    Some(format!("    {}{}", whose, safe(&day)))
}

fn line(fault: &Fault) -> String {
    let rank = match fault.rank {
        Rank::Error => "error",
        Rank::Warning => "warning",
    };
    let at = fault.line.map_or(String::new(), |l| format!(":{l}"));
    format!(
        "    {rank}: {}{at}: {} ({})\n        {}",
        safe(&fault.file),
        safe(&fault.message),
        fault.rule,
        safe(&fault.remedy)
    )
}
