//! `offloom audit`: are bundles and bags whole?

use super::Exit;
use super::args::Audit;
use super::audit_log::Logs;
use super::between::changes;
use super::key::read_signers;
use super::progress;
use super::show::Screen;
use super::stop::Stop;
use super::verdicts::tell;
use crate::audit::{Verdict, Watch, find_bags, judge_all};
use crate::bundle::{MendError, Mended, mend};
use crate::disk::make_folder;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

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
    let mut logs = match Logs::new(asked) {
        Ok(logs) => logs,
        Err(why) => {
            screen.refuse(&why);
            return Exit::Failed;
        }
    };
    let further = asked.mend_from.iter().flatten();
    let (bags, failed) = gather(screen, asked.paths.iter().chain(further), &mut logs);
    if bags.is_empty() && failed {
        // Nothing was looked at, so nothing is said of how much of it is valid.
        if screen.json {
            screen.document(&json!({ "bags": [] }));
        }
        return Exit::Failed;
    }
    let found = bags.len();
    let faulty_log = logs.tell_faults(screen);
    let bags: Vec<PathBuf> = bags.into_iter().filter(|bag| logs.is_due(bag)).collect();
    if asked.list {
        return list(screen, &bags, found, &logs);
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
    let mending = asked
        .mend_from
        .is_some()
        .then(|| mend_all(&verdicts, &asked.mend_into, stop));
    if screen.json {
        let mut document = json!({ "bags": verdicts });
        if let Some(mending) = &mending {
            document["mended"] = mending.iter().map(mended_json).collect();
        }
        if asked.due.is_some() {
            document["not_due"] = (found - bags.len()).into();
        }
        screen.document(&document);
    } else {
        for verdict in &verdicts {
            tell(screen, verdict, logs.last_seen_whole(&verdict.path));
        }
        for outcome in mending.iter().flatten() {
            tell_mended(screen, outcome);
        }
        let valid = verdicts.iter().filter(|v| v.is_valid()).count();
        let due = match asked.due {
            Some(_) => format!("; {} of {found} were not due", found - bags.len()),
            None => String::new(),
        };
        if verdicts.is_empty() {
            screen.tell(&format!("none of {found} is due"));
        } else {
            screen.tell(&format!("{valid} of {} valid{due}", verdicts.len()));
        }
    }
    let logged = logs.append(screen, &verdicts, stop);
    let not_mended = mending.iter().flatten().any(Result::is_err);
    if failed || !logged {
        Exit::Failed
    } else if verdicts.iter().all(Verdict::is_valid) && !faulty_log && !not_mended {
        Exit::Done
    } else {
        Exit::Findings
    }
}

/// The bags at the given paths, each once, and whether some path held none.
fn gather<'a>(
    screen: &Screen,
    paths: impl Iterator<Item = &'a PathBuf>,
    logs: &mut Logs,
) -> (Vec<PathBuf>, bool) {
    let mut bags: Vec<PathBuf> = Vec::new();
    let mut failed = false;
    for path in paths {
        let shelf = logs.shelf_of(path);
        match find_bags(&shelf) {
            Ok(found) if found.is_empty() => {
                let message = format!("{}: nothing there is a bundle or a bag", shelf.display());
                screen.fail(&message);
                failed = true;
            }
            Ok(found) => {
                for bag in found {
                    if logs.enter(&bag, path) {
                        bags.push(bag);
                    }
                }
            }
            Err(error) => {
                screen.fail(&error.to_string());
                failed = true;
            }
        }
    }
    (bags, failed)
}

/// Lists what is due.
fn list(screen: &Screen, bags: &[PathBuf], found: usize, logs: &Logs) -> Exit {
    let last = |bag: &Path| logs.last_seen_whole(bag).map(|at| at.day());
    if screen.json {
        let due: Vec<Value> = bags
            .iter()
            .map(|bag| json!({ "path": bag, "last_seen_whole": last(bag) }))
            .collect();
        screen.document(&json!({ "due": due, "not_due": found - bags.len() }));
    } else {
        for bag in bags {
            let last = last(bag).map_or("never seen whole".to_owned(), |day| {
                format!("last seen whole on {day}")
            });
            screen.say(&format!("{}: {last}", bag.display()));
        }
        screen.tell(&format!("{} of {found} due", bags.len()));
    }
    Exit::Done
}

/// Mends every bag that is not valid.
fn mend_all(verdicts: &[Verdict], folder: &Path, stop: &Stop) -> Vec<Result<Mended, MendError>> {
    let mut damaged = verdicts.iter().filter(|v| !v.is_valid()).peekable();
    if damaged.peek().is_some()
        && let Err(error) = make_folder(folder)
    {
        return vec![Err(error.into())];
    }
    damaged
        .map(|verdict| mend(verdict, verdicts, folder, &mut |_| {}, &|| stop.asked()))
        .collect()
}

fn tell_mended(screen: &Screen, outcome: &Result<Mended, MendError>) {
    match outcome {
        Ok(mended) => {
            screen.say(&format!("mended: {}", mended.path.display()));
            for (file, place) in &mended.taken {
                let bag = place.bag.display();
                screen.say(&format!("    {file}: taken from {bag}"));
            }
            for file in &mended.turned_back {
                screen.say(&format!("    {file}: one bit turned back"));
            }
        }
        Err(error) => screen.fail(&error.to_string()),
    }
}

fn mended_json(outcome: &Result<Mended, MendError>) -> Value {
    match outcome {
        Ok(mended) => json!({
            "path": mended.path,
            "taken": mended.taken.iter().map(|(file, place)| json!({ "file": file, "from": place })).collect::<Vec<_>>(),
            "turned_back": mended.turned_back,
        }),
        Err(error) => json!({ "error": error.to_string() }),
    }
}
