//! `offloom finish --explain FIGURE`: how a figure came about, and nothing made.

use super::Exit;
use super::show::{Screen, safe};
use crate::read::{Archive, nearest};
use crate::reckon::{Entry, Reckoning, sheet};
use serde_json::{Value, json};

/// Shows a figure, or `all`, of the pieces named (every piece where none is).
pub(super) fn run(screen: &Screen, archive: &Archive, only: &[String], figure: &str) -> Exit {
    let Some(studio) = &archive.studio else {
        screen.findings(&archive.findings, &archive.sources);
        screen.refuse("studio.yaml can not be read; mend it first");
        return Exit::Findings;
    };
    let chosen = archive
        .pieces
        .iter()
        .filter(|f| only.is_empty() || only.contains(&f.slug));
    let reckoned: Vec<_> = chosen
        .filter_map(|folder| {
            let piece = folder.piece.as_ref()?;
            let entries = Reckoning::of(studio, piece).entries();
            Some((folder.slug.as_str(), piece, entries))
        })
        .collect();
    let known = || {
        reckoned
            .iter()
            .flat_map(|(_, _, e)| e.iter().map(|e| e.name.as_str()))
    };
    // `mass` asks for everything under it.
    let group = format!("{}.", figure.trim_end_matches('.'));
    let whole = !known().any(|name| name == figure) && known().any(|n| n.starts_with(&group));
    if figure != "all" && !whole && !known().any(|name| name == figure) {
        let hint = nearest(figure, known()).map_or_else(
            || "`--explain all` prints every figure there is".to_string(),
            |near| format!("did you mean `{near}`? `--explain all` prints every figure there is"),
        );
        let message = format!("no figure `{figure}` is reckoned for these pieces; {hint}");
        screen.refuse(&message);
        return Exit::Failed;
    }
    if screen.json {
        let wanted = |e: &&Entry| {
            figure == "all" || e.name == figure || (whole && e.name.starts_with(&group))
        };
        let pieces: Vec<Value> = reckoned
            .iter()
            .map(|(slug, piece, entries)| {
                let figures: Vec<Value> =
                    entries.iter().filter(wanted).map(Entry::to_json).collect();
                json!({ "piece": slug, "title": piece.title.value, "figures": figures })
            })
            .collect();
        screen.document(&json!({ "pieces": pieces }));
        return Exit::Done;
    }
    for (slug, piece, entries) in &reckoned {
        let heading = format!("{} · {}", screen.strong(slug), safe(&piece.title.value));
        if figure == "all" || whole {
            let lines: Vec<String> = entries
                .iter()
                .filter(|e| figure == "all" || e.name.starts_with(&group))
                .map(|e| format!("  {:32} {}", e.name, safe(&e.said())))
                .collect();
            screen.say(&format!("{heading}\n\n{}\n", lines.join("\n")));
        } else if let Some(sheet) = sheet(piece, entries, figure) {
            screen.say(&format!("{heading}\n\n{}", lines_safe(&sheet)));
        }
    }
    Exit::Done
}

/// Every line made safe for a terminal: what she wrote is quoted in them.
fn lines_safe(text: &str) -> String {
    text.lines().map(safe).collect::<Vec<_>>().join("\n") + "\n"
}
