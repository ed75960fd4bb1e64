//! The derivation of a figure as a short sheet of arithmetic that a person can redo by hand: the
//! figure, its formula with the numbers put in, then every figure it came from in the same way, down
//! to what the weaver wrote.

use super::ledger::Entry;
use super::written::written;
use crate::quantity::{Dimension, Reading};
use crate::record::{At, Piece, Used};

/// The sheet for the entry of this name, or `None` where there is no such figure.
pub fn sheet(piece: &Piece, entries: &[Entry], name: &str) -> Option<String> {
    let mut order: Vec<&Entry> = Vec::new();
    let mut written: Vec<(String, String)> = Vec::new();
    collect(piece, entries, name, &mut order, &mut written);
    if order.is_empty() {
        return None;
    }
    let mut out = String::new();
    let mut cautioned: Vec<&str> = Vec::new();
    for (i, entry) in order.iter().enumerate() {
        match i {
            0 => {}
            1 => out.push_str("\nwhere\n\n"),
            _ => out.push('\n'),
        }
        // A caution once said stands for the whole sheet.
        let caution = entry.caution.as_deref().filter(|c| !cautioned.contains(c));
        cautioned.extend(caution);
        out.push_str(&block(entry, caution));
    }
    if !written.is_empty() {
        out.push_str("\nas written\n\n");
        let (told, named): (Vec<_>, Vec<_>) = written.iter().partition(|(_, t)| !t.is_empty());
        let widest = told.iter().map(|(n, _)| n.chars().count()).max();
        for (field, text) in &told {
            let width = widest.unwrap_or(0);
            out.push_str(&format!("  {field:width$}  {text}\n"));
        }
        // What is too long to set out here is named alone.
        let named: Vec<&str> = named.iter().map(|(field, _)| field.as_str()).collect();
        if !named.is_empty() {
            let label = if told.is_empty() { "in" } else { "and in" };
            out.push_str(&wrapped(label, &named.join(", "))[2..]);
        }
    }
    Some(out)
}

fn block(entry: &Entry, caution: Option<&str>) -> String {
    let mut out = format!("  {}: {}\n", entry.name, entry.what);
    let mut line = |label: &str, text: &str| {
        if !text.is_empty() {
            out.push_str(&wrapped(label, text));
        }
    };
    line("=", &entry.said());
    line("by", &entry.formula);
    line("so", &entry.worked);
    line("source", &entry.source);
    line("caution", caution.unwrap_or(""));
    out
}

/// Columns of a sheet.
const WIDTH: usize = 96;

/// A labelled text, broken between words, hung under its label.
fn wrapped(label: &str, text: &str) -> String {
    let mut out = format!("    {label:8}");
    let mut column = 12;
    for (i, word) in text.split_whitespace().enumerate() {
        let length = word.chars().count();
        if i > 0 && column + 1 + length > WIDTH {
            out.push_str("\n            ");
            column = 12;
        } else if i > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += length;
    }
    out.push('\n');
    out
}

fn collect<'e>(
    piece: &Piece,
    entries: &'e [Entry],
    name: &str,
    order: &mut Vec<&'e Entry>,
    written: &mut Vec<(String, String)>,
) {
    let Some(entry) = entries.iter().find(|e| e.name == name) else {
        for (field, text) in words_of(piece, name) {
            if !written.iter().any(|(f, _)| *f == field) {
                written.push((field, text));
            }
        }
        return;
    };
    if order.iter().any(|e| e.name == entry.name) {
        return;
    }
    order.push(entry);
    for from in &entry.from {
        collect(piece, entries, from, order, written);
    }
}

fn text<D: Dimension>(reading: &Option<At<Reading<D>>>) -> Option<String> {
    reading.as_ref().map(|r| r.value.text.clone())
}

fn texts<D: Dimension>(readings: &[At<Reading<D>>]) -> Option<String> {
    let all: Vec<&str> = readings.iter().map(|r| r.value.text.as_str()).collect();
    (!all.is_empty()).then(|| all.join(", "))
}

/// What the weaver wrote in a field; a field that is not set out here is named alone.
fn words_of(piece: &Piece, field: &str) -> Vec<(String, String)> {
    let (l, m) = (&piece.loom, &piece.measured);
    let plain = field.split('[').next().unwrap_or(field);
    let text = match plain {
        "loom.ends" => l.ends.as_ref().map(|e| e.value.to_string()),
        "loom.sett" => text(&l.sett),
        "loom.width" => text(&l.width),
        "loom.woven" => text(&l.woven),
        "loom.warp_length" => text(&l.warp_length),
        "loom.tails" => text(&l.tails),
        "loom.hems" => l.hems.as_ref().map(|h| {
            let each = [text(&h.start), text(&h.finish)];
            each.into_iter().flatten().collect::<Vec<_>>().join(", ")
        }),
        "warp.count" => piece.warp.count.as_ref().map(|c| c.value.text.clone()),
        "measured.height" => texts(&m.height),
        "measured.width" => texts(&m.width),
        "measured.diagonals" => m.diagonals.as_ref().and_then(|d| texts(d)),
        "measured.thickness" => text(&m.thickness),
        "measured.mass" => text(&m.mass),
        "top" => Some(piece.top().word().to_string()),
        part if part.starts_with("parts.") && part.ends_with(".used") => {
            let name = part.trim_start_matches("parts.").trim_end_matches(".used");
            let part = piece.parts.iter().find(|p| p.name.value == name);
            part.and_then(|p| text(&p.used))
        }
        "finishing.slits" | "parts.heading" => super::hang::written(piece, plain),
        _ if plain.starts_with("hanging.") => super::hang::written(piece, plain),
        "weft" => {
            let inside = field.trim_start_matches("weft[");
            let Some((i, rest)) = inside.split_once(']') else {
                return Vec::new();
            };
            let Some(yarn) = i.parse::<usize>().ok().and_then(|i| piece.weft.get(i)) else {
                return Vec::new();
            };
            match rest.trim_start_matches('.') {
                "count" => yarn.count.as_ref().map(|c| c.value.text.clone()),
                "used" | "weighed" => yarn.used.as_ref().map(|u| match u {
                    Used::Given(r) => r.value.text.clone(),
                    Used::Reeled(r) => r.value.text.clone(),
                    Used::Weighed(s) => {
                        format!(
                            "{} before, {} after",
                            s.before.value.text, s.after.value.text
                        )
                    }
                }),
                _ => written(piece, field),
            }
        }
        _ => written(piece, field),
    };
    vec![(field.to_string(), text.unwrap_or_default())]
}
