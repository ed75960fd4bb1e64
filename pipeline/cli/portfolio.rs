//! `offloom portfolio`: the life's work as pages.

use super::Exit;
use super::args::{ForWhom, Portfolio};
use super::show::{Screen, as_json};
use super::stop::Stop;
use crate::gather::portfolio::{Edition, Order, PortfolioError, portfolio};
use crate::read::Archive;
use serde_json::{Value, json};

pub(super) fn run(screen: &Screen, asked: &Portfolio, stop: &Stop) -> Exit {
    let archive = match Archive::read(&asked.archive) {
        Ok(archive) => archive,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    let Some(studio) = &archive.studio else {
        screen.findings(&archive.findings, &archive.sources);
        return Exit::Findings;
    };
    let told = studio.portfolio.as_ref().map(|a| a.value.clone());
    let address = match asked.address.clone().or(told).map(|a| as_folder(&a)) {
        Some(Err(message)) => {
            screen.refuse(&message);
            return Exit::Failed;
        }
        Some(Ok(address)) => Some(address),
        None => None,
    };
    let out = asked.out.clone();
    let out = out.unwrap_or_else(|| asked.archive.join("finished"));
    let order = Order {
        out: &out,
        edition: match asked.edition {
            ForWhom::Public => Edition::Public,
            ForWhom::Studio => Edition::Studio,
        },
        address: address.as_deref(),
        stop: &|| stop.asked(),
        waiting: &|| screen.tell("waiting for another run in this archive"),
    };
    let made = match portfolio(&archive, studio, &order, None) {
        Ok(made) => made,
        Err(PortfolioError::Stopped) => return Exit::Stopped,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    let unread = archive.pieces.len() - made.works;
    if screen.json {
        let findings: Vec<Value> = made.findings.iter().map(as_json).collect();
        screen.document(&json!({
            "folder": made.folder, "works": made.works, "without_plate": made.without_plate, "unread": unread,
            "written": made.written, "unchanged": made.unchanged, "removed": made.removed, "findings": findings,
        }));
    } else {
        screen.findings(&made.findings, &archive.sources);
        if made.findings.is_empty() {
            tell(screen, &made, unread);
        }
    }
    if made.findings.is_empty() && unread == 0 {
        Exit::Done
    } else {
        Exit::Findings
    }
}

fn tell(screen: &Screen, made: &crate::gather::portfolio::Made, unread: usize) {
    let page = made.folder.join("index.html");
    screen.tell(&format!(
        "{}: {} works; {} files written, {} unchanged, {} taken away",
        screen.strong(&page.display().to_string()),
        made.works,
        made.written,
        made.unchanged,
        made.removed
    ));
    if unread > 0 {
        screen.tell(&format!(
            "{unread} pieces could not be read and are not in it; `offloom check` says why"
        ));
    }
    let without = &made.without_plate;
    if !without.is_empty() {
        let named: Vec<&str> = without.iter().take(6).map(String::as_str).collect();
        let more = without.len() - named.len();
        let more = if more > 0 {
            format!(" and {more} more")
        } else {
            String::new()
        };
        screen.tell(&format!(
            "without a plate of their front, for they are not finished or have no photograph of it: {}{more}",
            named.join(", ")
        ));
    }
}

/// An address as that of a folder. Only the web's own are taken.
fn as_folder(address: &str) -> Result<String, String> {
    let address = address.trim();
    let web = address.starts_with("https://") || address.starts_with("http://");
    let strange = |c: char| c.is_whitespace() || c.is_control() || "<>\"'`{}|\\^?#".contains(c);
    if !web || address.len() < 10 || address.contains(strange) {
        return Err(format!(
            "`{}` is not the address of a folder on the web; write it such as https://loom.example/work/",
            address.escape_debug()
        ));
    }
    Ok(format!("{}/", address.trim_end_matches('/')))
}
