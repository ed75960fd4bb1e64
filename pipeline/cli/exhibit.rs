//! `offloom exhibit`: everything that hangs, lies or travels with a show.

use super::Exit;
use super::args::Exhibit;
use super::show::{Screen, as_json, count};
use super::stop::Stop;
use crate::check::has_error;
use crate::finish::Letters;
use crate::gather::show::{Order, ShowError, exhibit};
use crate::read::{Archive, Exhibitions};
use serde_json::{Value, json};

pub(super) fn run(screen: &Screen, asked: &Exhibit, stop: &Stop) -> Exit {
    let read = Archive::read(&asked.archive)
        .and_then(|archive| Ok((archive, Exhibitions::read(&asked.archive)?)));
    let (archive, exhibitions) = match read {
        Ok(both) => both,
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
        .exhibition
        .trim_start_matches("exhibitions/")
        .trim_end_matches(".yaml");
    let order = Order {
        exhibition: name,
        out: &out,
        fonts: fonts.as_ref(),
        stop: &|| stop.asked(),
        waiting: &|| screen.tell("waiting for another run in this archive"),
    };
    let made = match exhibit(&archive, &exhibitions, &order) {
        Ok(made) => made,
        Err(ShowError::Stopped) => return Exit::Stopped,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    let home = out.join("exhibitions").join(name);
    if screen.json {
        let findings: Vec<Value> = made.findings.iter().map(as_json).collect();
        screen.document(&json!({
            "exhibition": name, "folder": home, "files": made.files, "findings": findings, "result": made.json,
        }));
    } else {
        screen.findings(&made.findings, &made.texts);
        for sentence in &made.said {
            screen.tell(sentence);
        }
        if made.files.is_empty() {
            screen.tell(&format!(
                "{}: nothing made; {}",
                screen.strong(name),
                count(&made.findings)
            ));
        } else {
            let files = made.files.join(", ");
            screen.tell(&format!(
                "{}: {files}; {}",
                screen.strong(&home.display().to_string()),
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
