//! `offloom check`: every finding, nothing written.

use super::Exit;
use super::args::Check;
use super::show::{Screen, as_json, count};
use super::stop::Stop;
use super::{corners, progress, unknown_pieces};
use crate::check::{has_error, ranked};
use crate::finish::survey;
use crate::gather::show::written as shows;
use crate::read::{Archive, Exhibitions};
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
    let mut found = survey(
        &archive,
        &asked.piece,
        !asked.without_photos,
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
    // Exhibitions are of no one piece.
    let mut texts = archive.sources.clone();
    if asked.piece.is_empty() {
        match Exhibitions::read(&asked.archive) {
            Ok(exhibitions) => {
                found.findings.extend(shows(&archive, &exhibitions));
                found.findings = ranked(std::mem::take(&mut found.findings));
                texts.extend(exhibitions.sources);
            }
            Err(error) => {
                screen.refuse(&error.to_string());
                return Exit::Failed;
            }
        }
    }
    if screen.json {
        let findings: Vec<_> = found.findings.iter().map(as_json).collect();
        screen.document(&json!({ "pieces": found.pieces, "findings": findings }));
    } else {
        screen.findings(&found.findings, &texts);
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
