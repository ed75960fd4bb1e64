//! `offloom merge`: what several machines finished, brought together.

use super::Exit;
use super::args::Merge;
use super::show::{Screen, safe};
use super::stop::Stop;
use crate::finish::{Merged, merge};
use crate::read::Archive;
use serde_json::{Value, json};

pub(super) fn run(screen: &Screen, asked: &Merge, stop: &Stop) -> Exit {
    let archive = match Archive::read(&asked.archive) {
        Ok(archive) => archive,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    let out = asked.out.clone();
    let out = out.unwrap_or_else(|| asked.archive.join("finished"));
    let mut waiting = || screen.tell("waiting for another run in this archive");
    let merged = match merge(&archive, &out, &asked.folders, &mut waiting, &|| {
        stop.asked()
    }) {
        Ok(merged) => merged,
        Err(_) if stop.asked() => return Exit::Stopped,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    if screen.json {
        let left: Vec<Value> = merged
            .left
            .iter()
            .map(|(path, why)| json!({ "path": path, "why": why }))
            .collect();
        screen.document(&json!({
            "taken": merged.taken, "same": merged.same, "bundles": merged.bundles, "left": left,
            "lacking": merged.lacking,
        }));
    } else {
        tell(screen, &merged);
    }
    if merged.left.is_empty() && merged.lacking.is_empty() {
        Exit::Done
    } else {
        Exit::Findings
    }
}

fn tell(screen: &Screen, merged: &Merged) {
    for (path, why) in &merged.left {
        screen.fail(&format!("left alone: {}: {why}", path.display()));
    }
    screen.tell(&format!(
        "{} pieces and {} bundles taken over, {} pieces were there already",
        merged.taken.len(),
        merged.bundles.len(),
        merged.same
    ));
    if !merged.lacking.is_empty() {
        let named: Vec<String> = merged.lacking.iter().take(8).map(|s| safe(s)).collect();
        let more = merged.lacking.len() - named.len();
        let more = if more > 0 {
            format!(" and {more} more")
        } else {
            String::new()
        };
        screen.tell(&format!("nobody has finished {}{more}", named.join(", ")));
    }
}
