//! The columns of the ledger, each with what it holds.

use super::Entry;

/// A column.
pub struct Column {
    /// Its head.
    pub name: &'static str,
    /// What it holds.
    pub holds: &'static str,
    /// A row's cell.
    pub cell: fn(&Entry) -> String,
}

fn mm(value: Option<f64>) -> String {
    value.map_or(String::new(), |v| format!("{v:.1}"))
}

fn text(value: &Option<String>) -> String {
    value.clone().unwrap_or_default()
}

fn money(value: &Option<crate::quantity::Money>) -> String {
    value.as_ref().map_or(String::new(), ToString::to_string)
}

fn revision(value: Option<u32>) -> String {
    value.map_or(String::new(), |r| format!("r{r}"))
}

/// Every column, in its order. A new one comes last, so that a sheet of hers that counts columns goes on working.
pub const COLUMNS: &[Column] = &[
    Column {
        name: "piece",
        holds: "the name of the piece's folder",
        cell: |e| e.piece.clone(),
    },
    Column {
        name: "title",
        holds: "its title",
        cell: |e| e.title.clone(),
    },
    Column {
        name: "kind",
        holds: "commission, series, speculative, community or study",
        cell: |e| e.kind.to_string(),
    },
    Column {
        name: "made",
        holds: "when it was made, as written (EDTF, ISO 8601-2)",
        cell: |e| e.made.clone(),
    },
    Column {
        name: "year",
        holds: "the year it was finished in at the latest",
        cell: |e| e.year.map_or(String::new(), |y| y.to_string()),
    },
    Column {
        name: "series",
        holds: "the series it belongs to",
        cell: |e| text(&e.series),
    },
    Column {
        name: "number",
        holds: "its number there; of an uncertain one every choice, with `|` between",
        cell: |e| e.number.clone(),
    },
    Column {
        name: "of",
        holds: "how many the series has",
        cell: |e| e.of.map_or(String::new(), |n| n.to_string()),
    },
    Column {
        name: "technique",
        holds: "its technique",
        cell: |e| text(&e.technique),
    },
    Column {
        name: "height_mm",
        holds: "greatest hanging height, mm",
        cell: |e| mm(e.height_mm),
    },
    Column {
        name: "width_mm",
        holds: "greatest width, mm",
        cell: |e| mm(e.width_mm),
    },
    Column {
        name: "thickness_mm",
        holds: "thickness, mm",
        cell: |e| mm(e.thickness_mm),
    },
    Column {
        name: "area_m2",
        holds: "area of the face, m²",
        cell: |e| format!("{:.4}", e.area_m2),
    },
    Column {
        name: "mass_kg",
        holds: "mass on the scale, else as reckoned, kg",
        cell: |e| e.mass_kg.map_or(String::new(), |m| format!("{m:.3}")),
    },
    Column {
        name: "weft_yarns",
        holds: "yarns of the weft",
        cell: |e| e.weft_yarns.to_string(),
    },
    Column {
        name: "hours",
        holds: "hours at the loom that the notes give",
        cell: |e| e.hours.map_or(String::new(), |h| format!("{h:.2}")),
    },
    Column {
        name: "issued",
        holds: "the day that stands on its papers",
        cell: |e| text(&e.issued),
    },
    Column {
        name: "record",
        holds: "the record's short number (RFC 6920)",
        cell: |e| e.record.clone(),
    },
    Column {
        name: "finished",
        holds: "yes; changed, if the record has changed since; no",
        cell: |e| e.finished.to_string(),
    },
    Column {
        name: "bundle",
        holds: "the newest revision of its bundle",
        cell: |e| revision(e.bundle),
    },
    Column {
        name: "owner_bundle",
        holds: "the newest revision of the owner's edition",
        cell: |e| revision(e.owner_bundle),
    },
    Column {
        name: "papers_missing",
        holds: "papers that do not lie in the output folder",
        cell: |e| e.papers_missing.join(" "),
    },
    Column {
        name: "where",
        holds: "where it is, as the public may hear; `studio` where nobody has owned it",
        cell: |e| e.place.clone(),
    },
    Column {
        name: "owner",
        holds: "the present owner's name. Private",
        cell: |e| text(&e.owner),
    },
    Column {
        name: "owner_since",
        holds: "since when: the first and the last day it can mean",
        cell: |e| text(&e.owner_since),
    },
    Column {
        name: "owner_how",
        holds: "how it came to them",
        cell: |e| text(&e.owner_how),
    },
    Column {
        name: "owners",
        holds: "how many owners there have been",
        cell: |e| e.chain.len().to_string(),
    },
    Column {
        name: "shows",
        holds: "exhibitions it is listed in, each with its days",
        cell: |e| e.shows.join("; "),
    },
    Column {
        name: "on_loan",
        holds: "shows it is lent to, by whom and from when to when. Private",
        cell: |e| e.loans.join("; "),
    },
    Column {
        name: "price",
        holds: "price paid. Private",
        cell: |e| money(&e.price),
    },
    Column {
        name: "insured",
        holds: "sum insured. Private",
        cell: |e| money(&e.insured),
    },
];
