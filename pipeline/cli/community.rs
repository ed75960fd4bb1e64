//! `offloom community`: the papers of a piece made by many.

use super::Exit;
use super::args::Community;
use super::show::{Screen, as_json, count};
use super::stop::Stop;
use crate::check::has_error;
use crate::finish::Letters;
use crate::gather::community::{CommunityError, Order, community};
use crate::read::Archive;
use crate::record::Circle;
use serde_json::{Value, json};

pub(super) fn run(screen: &Screen, asked: &Community, stop: &Stop) -> Exit {
    let archive = match Archive::read(&asked.archive) {
        Ok(archive) => archive,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    let out = asked
        .out
        .clone()
        .unwrap_or_else(|| asked.archive.join("finished"));
    let fonts = asked.fonts.clone().map(Letters::from);
    let name = asked
        .piece
        .trim_start_matches("pieces/")
        .trim_end_matches('/');
    let order = Order {
        piece: name,
        out: &out,
        fonts: fonts.as_ref(),
        stop: &|| stop.asked(),
        waiting: &|| screen.tell("waiting for another run in this archive"),
    };
    let made = match community(&archive, &order) {
        Ok(made) => made,
        Err(CommunityError::Stopped) => return Exit::Stopped,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    let home = out.join("community").join(name);
    let circle = |c: Circle| {
        if c == Circle::Public {
            "public"
        } else {
            "studio"
        }
    };
    if screen.json {
        let findings: Vec<Value> = made.findings.iter().map(as_json).collect();
        let files: Vec<Value> = made
            .files
            .iter()
            .map(|(file, c)| json!({ "file": file, "circle": circle(*c) }))
            .collect();
        screen.document(&json!({
            "piece": name, "folder": home, "files": files, "findings": findings, "result": made.json,
        }));
    } else {
        screen.findings(&made.findings, &made.texts);
        if made.files.is_empty() {
            screen.tell(&format!(
                "{}: nothing made; {}",
                screen.strong(name),
                count(&made.findings)
            ));
        } else {
            let of = |wanted: Circle| {
                let all = made.files.iter().filter(|(_, c)| *c == wanted);
                all.map(|(file, _)| *file).collect::<Vec<_>>().join(", ")
            };
            screen.tell(&format!(
                "{}: for everybody: {}; for the studio alone, with names that may not be published: {}; {}",
                screen.strong(&home.display().to_string()),
                of(Circle::Public),
                of(Circle::Studio),
                count(&made.findings)
            ));
        }
    }
    if has_error(&made.findings) || made.json.is_none() {
        Exit::Findings
    } else {
        Exit::Done
    }
}
