//! `offloom check`: every finding, nothing written.

use super::Exit;
use super::args::Check;
use super::show::{Screen, as_json, count};
use super::stop::Stop;
use super::{corners, progress, unknown_pieces};
use crate::check::has_error;
use crate::finish::survey;
use crate::read::Archive;
use serde_json::json;

pub(super) fn run(screen: &Screen, asked: &Check, stop: &Stop) -> Exit {
    let archive = match Archive::read(&asked.archive) {
        Ok(archive) => archive,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    if let Some(message) = unknown_pieces(&archive, &asked.piece) {
        screen.refuse(&message);
        return Exit::Failed;
    }
    if asked.find_corners {
        return corners::run(screen, &archive, asked, stop);
    }
    let bar = progress::bar(screen, archive.pieces.len() as u64, "checking");
    let found = survey(
        &archive,
        &asked.piece,
        &|slug| {
            bar.set_message(slug.to_string());
            bar.inc(1);
        },
        &|| stop.asked(),
    );
    bar.finish_and_clear();
    if stop.asked() {
        return Exit::Stopped;
    }
    if screen.json {
        let findings: Vec<_> = found.findings.iter().map(as_json).collect();
        screen.document(&json!({ "pieces": found.pieces, "findings": findings }));
    } else {
        screen.findings(&found.findings, &archive.sources);
        let pieces = if found.pieces == 1 { "piece" } else { "pieces" };
        screen.tell(&format!(
            "{} {pieces} looked at: {}",
            found.pieces,
            count(&found.findings)
        ));
        if !found.findings.is_empty() {
            screen.tell(
                "`offloom explain NAME` says more about a finding; its name stands in brackets",
            );
        }
    }
    if has_error(&found.findings) {
        Exit::Findings
    } else {
        Exit::Done
    }
}
