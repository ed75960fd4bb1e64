//! A piece made by many for machines: the squares as CSV (RFC 4180, UTF-8, a head line), which holds every name and is the
//! studio's alone, and what was reckoned as JSON, which holds no name at all.

use super::made::All;
use crate::paper::{Person, RollView};
use crate::record::{Age, Consent, Maker};
use serde_json::{Value, json};

fn age(age: Option<Age>) -> &'static str {
    age.and_then(|age| Age::ALL.iter().find(|(_, a)| *a == age))
        .map_or("", |(word, _)| word)
}

fn consent(consent: Option<Consent>) -> &'static str {
    consent
        .and_then(|c| Consent::ALL.iter().find(|(_, other)| *other == c))
        .map_or("", |(word, _)| word)
}

/// The list of squares: a line for each maker of each square, and one without a maker for a square that the map does not
/// name.
pub(super) fn csv(view: &RollView) -> Result<Vec<u8>, csv::Error> {
    let mut heads: Vec<&str> = Vec::new();
    for (head, _) in view.squares.iter().flat_map(|s| &s.more) {
        if !heads.contains(&head.as_str()) {
            heads.push(head);
        }
    }
    let mut out = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    let own = heads.iter().map(|h| tamed(h));
    out.write_record(
        ["number", "row", "column", "maker", "age", "consent"]
            .map(String::from)
            .into_iter()
            .chain(own),
    )?;
    for square in &view.squares {
        let (row, column) = square.at;
        let none = [(String::new(), None)];
        let makers = if square.makers.is_empty() {
            &none[..]
        } else {
            &square.makers[..]
        };
        for (name, place) in makers {
            let person: Option<&Person> = place.and_then(|i| view.people.get(i));
            let mut line = vec![
                format!("{row}-{column}"),
                row.to_string(),
                column.to_string(),
                tamed(name),
                age(person.and_then(|p| p.age)).to_string(),
                consent(person.and_then(|p| p.consent)).to_string(),
            ];
            for head in &heads {
                let value = square.more.iter().find(|(h, _)| h == head);
                line.push(tamed(value.map_or("", |(_, v)| v)));
            }
            out.write_record(line)?;
        }
    }
    out.into_inner().map_err(|e| e.into_error().into())
}

/// A cell that a spreadsheet would take for a formula gets an apostrophe before it.
fn tamed(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t']) {
        format!("'{text}")
    } else {
        text.to_string()
    }
}

/// What was reckoned, and who may have which file. No name is in it: the roll is told by its counts.
pub(super) fn json(all: &All) -> Value {
    let roll = &all.makers.roll;
    let count = |is: &dyn Fn(&Maker) -> bool| roll.iter().filter(|m| is(m)).count();
    let minor = |m: &Maker| m.age.as_ref().is_some_and(|a| a.value == Age::Minor);
    let said = |m: &Maker| m.consent.as_ref().map(|c| c.value);
    let squares = all.makers.squares.as_ref();
    let at =
        |list: &[(u32, u32)]| -> Vec<[u32; 2]> { list.iter().map(|(r, c)| [*r, *c]).collect() };
    let reckoned = all.reckoned.as_ref();
    let entries = reckoned.map(|c| c.entries()).unwrap_or_default();
    json!({
        "community": 1,
        "piece": all.piece.slug,
        "title": all.piece.title.value,
        "record": all.number.nih(),
        "people": {
            "count": roll.len(),
            "minors": count(&minor),
            "named": count(&|m| m.may_be_named()),
            "minors_named": count(&|m| minor(m) && m.may_be_named()),
            "withheld": count(&|m| said(m) == Some(Consent::No)),
            "not_asked": count(&|m| !matches!(said(m), Some(Consent::Yes | Consent::No))),
            "without_square": reckoned.map(|c| c.hands.iter().filter(|h| h.squares.is_empty()).count()),
        },
        "wall": squares.map(|s| json!({
            "rows": s.rows.value, "columns": s.columns.value, "squares": s.count(),
            "on_the_map": s.made.iter().filter(|q| s.has(q)).map(|q| (q.row, q.column)).collect::<std::collections::BTreeSet<_>>().len(),
            "not_on_the_map": reckoned.filter(|_| !s.made.is_empty()).map(|c| at(&c.missing)),
            "by_makers_not_on_the_roll": reckoned.map(|c| at(&c.strangers)),
            "overhead": s.overhead.as_ref().map(|o| o.value),
        })),
        "figures": entries.iter().map(crate::reckon::Entry::to_json).collect::<Vec<_>>(),
    })
}
