//! A row of the ledger.

use super::Shelf;
use crate::disk;
use crate::finish::Kept;
use crate::quantity::Money;
use crate::read::Exhibitions;
use crate::reckon::Reckoning;
use crate::record::{Piece, RecordNumber, Studio, declared};
use serde_json::{Value, json};
use std::path::Path;

/// One piece.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs)] // The columns say what each holds.
pub struct Entry {
    pub piece: String,
    pub title: String,
    pub kind: &'static str,
    pub made: String,
    pub year: Option<i32>,
    pub series: Option<String>,
    pub number: String,
    pub of: Option<u32>,
    pub technique: Option<String>,
    pub height_mm: Option<f64>,
    pub width_mm: Option<f64>,
    pub thickness_mm: Option<f64>,
    pub area_m2: f64,
    pub mass_kg: Option<f64>,
    pub weft_yarns: usize,
    pub hours: Option<f64>,
    pub issued: Option<String>,
    pub record: String,
    pub finished: &'static str,
    pub bundle: Option<u32>,
    pub owner_bundle: Option<u32>,
    pub papers_missing: Vec<String>,
    pub place: String,
    pub owner: Option<String>,
    pub owner_since: Option<String>,
    pub owner_how: Option<String>,
    pub chain: Vec<Value>,
    pub shows: Vec<String>,
    pub loans: Vec<String>,
    pub price: Option<Money>,
    pub insured: Option<Money>,
}

impl Entry {
    pub(super) fn of(
        studio: &Studio,
        piece: &Piece,
        exhibitions: &Exhibitions,
        out: &Path,
        shelf: &Shelf,
    ) -> Entry {
        let r = Reckoning::of(studio, piece);
        let kept = Kept::of(out, studio, piece);
        let record = kept.as_ref().map_or_else(
            || RecordNumber::of(&declared(studio, piece, None)),
            |k| k.number.clone(),
        );
        let text =
            |v: &Option<crate::record::At<String>>| v.as_ref().map(|v| v.value.trim().to_string());
        let home = out.join(&piece.slug);
        let papers = studio.papers();
        let missing = papers
            .iter()
            .flat_map(|p| p.files())
            .filter(|file| disk::length_of(&home.join(file)).is_none());
        let present = piece.owners.last();
        let series = piece.series.as_ref();
        let numbers = series.and_then(|s| s.number.as_ref()).map(|n| &n.value);
        let listed = exhibitions
            .all
            .iter()
            .filter(|e| e.pieces.iter().any(|p| *p.piece == piece.slug));
        let (mut shows, mut loans) = (Vec::new(), Vec::new());
        for show in listed {
            let days = [show.first_day(), show.last_day()]
                .map(|d| d.map_or("..".into(), |d| d.to_string()));
            shows.push(format!("{} {}/{}", show.slug, days[0], days[1]));
            if let Some(loan) = show.loan(&piece.slug) {
                let day = |d: &Option<crate::record::At<crate::quantity::Day>>| {
                    d.as_ref().map_or("..".into(), |d| d.value.to_string())
                };
                loans.push(format!(
                    "{} from {}, {}/{}",
                    show.slug,
                    loan.lender.trim(),
                    day(&loan.from),
                    day(&loan.to)
                ));
            }
        }
        let (bundle, owner_bundle) = shelf.get(&piece.slug).copied().unwrap_or_default();
        Entry {
            piece: piece.slug.clone(),
            title: piece.title.trim().to_string(),
            kind: piece.kind.as_ref().map_or("", |k| k.word()),
            made: piece.made_text.trim().to_string(),
            year: piece
                .made
                .latest()
                .or(piece.made.earliest())
                .map(|d| d.year),
            series: series.map(|s| s.name.trim().to_string()),
            number: numbers.map_or(String::new(), |all| {
                let all: Vec<String> = all.iter().map(u32::to_string).collect();
                all.join("|")
            }),
            of: series.and_then(|s| s.of.as_ref()).map(|n| n.value),
            technique: text(&piece.technique),
            height_mm: Some(r.size.height.value.mm()).filter(|v| *v > 0.0),
            width_mm: Some(r.size.width.value.mm()).filter(|v| *v > 0.0),
            thickness_mm: r.size.thickness.as_ref().map(|t| t.value.mm()),
            area_m2: r.size.area.value.m2(),
            mass_kg: r.masses.stated().map(|m| m.value.kg()),
            weft_yarns: piece.weft.len(),
            hours: r
                .time
                .as_ref()
                .map(|t| t.hours.hours())
                .filter(|h| *h > 0.0),
            issued: piece.issued.as_ref().map(|d| d.value.to_string()),
            record: record.nih(),
            finished: match &kept {
                Some(k) if k.current => "yes",
                Some(_) => "changed",
                None => "no",
            },
            bundle,
            owner_bundle,
            papers_missing: missing.map(|f| f.to_string()).collect(),
            place: match present {
                None => "studio".to_string(),
                Some(owner) => text(&owner.public).unwrap_or_default(),
            },
            owner: present.and_then(|o| text(&o.name)),
            owner_since: present.map(since),
            owner_how: present.and_then(|o| text(&o.how)),
            chain: piece.owners.iter().map(keeper).collect(),
            shows,
            loans,
            price: piece
                .money
                .as_ref()
                .and_then(|m| m.price.as_ref())
                .map(|p| p.value.clone()),
            insured: piece
                .money
                .as_ref()
                .and_then(|m| m.insured.as_ref())
                .map(|p| p.value.clone()),
        }
    }

    /// The row for machines.
    pub fn to_json(&self) -> Value {
        let money = |m: &Option<Money>| m.as_ref().map(ToString::to_string);
        json!({
            "piece": self.piece, "title": self.title, "kind": self.kind, "made": self.made, "year": self.year,
            "series": self.series, "number": self.number, "of": self.of, "technique": self.technique,
            "height_mm": self.height_mm, "width_mm": self.width_mm, "thickness_mm": self.thickness_mm,
            "area_m2": self.area_m2, "mass_kg": self.mass_kg, "weft_yarns": self.weft_yarns, "hours": self.hours,
            "issued": self.issued, "record": self.record, "finished": self.finished, "bundle": self.bundle,
            "owner_bundle": self.owner_bundle, "papers_missing": self.papers_missing, "where": self.place,
            "owner": self.owner, "owner_since": self.owner_since, "owner_how": self.owner_how, "owners": self.chain,
            "shows": self.shows, "on_loan": self.loans, "price": money(&self.price), "insured": money(&self.insured),
        })
    }
}

fn since(owner: &crate::record::Owner) -> String {
    let day = |d: Option<crate::quantity::Day>| d.map_or("..".into(), |d| d.to_string());
    let (first, last) = (owner.from.value.earliest(), owner.from.value.latest());
    if first == last {
        day(first)
    } else {
        format!("{}/{}", day(first), day(last))
    }
}

fn keeper(owner: &crate::record::Owner) -> Value {
    let text =
        |v: &Option<crate::record::At<String>>| v.as_ref().map(|v| v.value.trim().to_string());
    json!({
        "from": since(owner), "public": text(&owner.public), "name": text(&owner.name),
        "address": text(&owner.address), "how": text(&owner.how),
    })
}
