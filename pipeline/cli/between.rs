//! `offloom audit --between`: what changed from one revision to another.

use super::Exit;
use super::args::Audit;
use super::show::{Screen, safe};
use crate::audit::{About, Change, between};
use serde_json::json;
use std::path::PathBuf;

/// Tells what changed from one bundle to another.
pub(super) fn changes(screen: &Screen, asked: &Audit, before: &str, after: &str) -> Exit {
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
