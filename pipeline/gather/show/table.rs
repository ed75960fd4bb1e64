//! A show for machines: the list of works as CSV (RFC 4180, UTF-8, a head line, ISO dates), and everything that was
//! reckoned as JSON.

use super::arrange::Arranged;
use super::walls::sentences;
use crate::gather::spreadsheet::{sheet, tamed};
use crate::paper::{PlanView, RegisteredView, ShowView};
use crate::quantity::{Length, Money};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// The columns of the list.
const COLUMNS: [&str; 13] = [
    "number",
    "piece",
    "title",
    "maker",
    "made",
    "height_mm",
    "width_mm",
    "mass_kg",
    "technique",
    "materials",
    "wall",
    "record",
    "for_sale",
];

/// The list of works. Nothing private is in it.
pub(super) fn csv(show: &Arranged) -> Result<Vec<u8>, csv::Error> {
    let mut out = sheet();
    out.write_record(COLUMNS)?;
    for e in &show.entries {
        let size = &e.reckoning.size;
        let mass = e.reckoning.masses.stated();
        let wall = e.spot.and_then(|s| show.exhibition.walls.get(s.wall));
        let yarns = e.piece.weft.iter().map(|w| &w.fibre);
        let mut materials: Vec<&str> = Vec::new();
        for share in std::iter::once(&e.piece.warp.fibre).chain(yarns).flatten() {
            if !materials.contains(&share.fibre.value.as_str()) {
                materials.push(share.fibre.value.as_str());
            }
        }
        out.write_record([
            e.number.to_string(),
            e.piece.slug.clone(),
            tamed(&e.piece.title.value),
            tamed(&show.studio.weaver.value),
            e.piece.made_text.trim().to_owned(),
            format!("{:.1}", size.height.value.mm()),
            format!("{:.1}", size.width.value.mm()),
            mass.map_or(String::new(), |m| format!("{:.3}", m.value.kg())),
            tamed(e.piece.technique.as_ref().map_or("", |t| t.value.as_str())),
            tamed(&materials.join("; ")),
            tamed(wall.map_or("", |w| w.name.value.as_str())),
            if e.is_finished() {
                e.record.nih()
            } else {
                String::new()
            },
            match e.shown.for_sale.as_ref().map(|f| f.value) {
                Some(true) => "yes".to_owned(),
                Some(false) => "no".to_owned(),
                None => String::new(),
            },
        ])?;
    }
    out.into_inner().map_err(|e| e.into_error().into())
}

/// Everything that was reckoned. It is the studio's: lenders and sums are in it.
pub(super) fn json(
    show: &Arranged,
    view: &ShowView,
    plan: &PlanView,
    registered: &[RegisteredView],
) -> Value {
    let mm = |l: Length| (l.mm() * 10.0).round() / 10.0;
    let round = |x: f64, places: f64| (x * places).round() / places;
    let money =
        |m: &Money| json!({ "amount": m.amount.to_string(), "currency": m.currency.to_string() });
    let score = |s: crate::reckon::walls::Score| json!({ "left_over": s.left_over, "too_bright": s.too_bright, "out_of_order": s.out_of_order, "fullest_millionths": s.fullest });
    let pieces: Vec<Value> = show
        .entries
        .iter()
        .zip(registered)
        .map(|(e, r)| {
            let at = plan.walls.iter().find_map(|w| {
                let p = w.pieces.iter().find(|p| p.index + 1 == e.number)?;
                Some(json!({
                    "wall": w.name,
                    "left_mm": mm(p.left), "bottom_mm": mm(p.bottom),
                    "top_mm": mm(Length::from_mm(p.bottom.mm() + p.height.mm())),
                    "fixings_across_mm": p.across.iter().map(|x| mm(*x)).collect::<Vec<_>>(),
                    "fixings_above_mm": mm(p.above), "fixings_from_record": p.known,
                }))
            });
            let light = r.budget.as_ref().map(|b| {
                let remedy = b.remedy();
                json!({
                    "show_lux_hours": round(b.show.dose(), 1.0), "lux": b.show.lux,
                    "other_shows_lux_hours": b.others.iter().map(|(n, d)| json!({ "show": n, "lux_hours": round(*d, 1.0) })).collect::<Vec<_>>(),
                    "otherwise_lux_hours": b.home.map(|h| round(h.0, 1.0)),
                    "year_lux_hours": round(b.year(), 1.0), "allowed_lux_hours": b.allowed(),
                    "weakest_yarn": b.weakest.as_ref().map(|w| w.name.clone()),
                    "most_lux": remedy.map(|r| r.lux), "last_day": remedy.and_then(|r| r.last_day).map(|d| d.to_string()),
                })
            });
            json!({
                "number": e.number, "piece": e.piece.slug, "title": e.piece.title.value,
                "record": e.is_finished().then(|| e.record.nih()),
                "height_mm": mm(e.reckoning.size.height.value), "width_mm": mm(e.reckoning.size.width.value),
                "hangs": at, "light": light,
                "lender": r.lender, "insured": r.insured.as_ref().map(money), "transport": r.transport,
                "roll_mm": r.roll.map(|(l, d)| json!({ "length": mm(l), "diameter": mm(d) })),
                "parcel_mm": r.parcel.map(|p| json!([mm(p[0]), mm(p[1]), mm(p[1])])),
            })
        })
        .collect();
    let sums = |key: fn(&RegisteredView) -> Option<&String>| -> Value {
        let mut all: BTreeMap<String, BTreeMap<String, rust_decimal::Decimal>> = BTreeMap::new();
        for r in registered {
            if let Some(sum) = &r.insured {
                let name = key(r).cloned().unwrap_or_default();
                let of = all
                    .entry(name)
                    .or_default()
                    .entry(sum.currency.to_string())
                    .or_default();
                *of = of.checked_add(sum.amount).unwrap_or(*of);
            }
        }
        all.into_iter()
            .map(|(name, by)| {
                let by: serde_json::Map<String, Value> = by
                    .into_iter()
                    .map(|(c, a)| (c, a.to_string().into()))
                    .collect();
                (name, Value::Object(by))
            })
            .collect::<serde_json::Map<_, _>>()
            .into()
    };
    json!({
        "exhibition": 1,
        "slug": show.exhibition.slug,
        "title": show.exhibition.title.value,
        "languages": view.languages(),
        "first_day": show.exhibition.first_day().map(|d| d.to_string()),
        "last_day": show.exhibition.last_day().map(|d| d.to_string()),
        "plan": {
            "score": score(show.plan.score), "bound": score(show.plan.bound), "best": show.plan.is_best(),
            "steps": show.plan.steps, "said": sentences(show),
        },
        "pieces": pieces,
        "insured_by_lender": sums(|r| r.lender.as_ref()),
        "insured_by_transport": sums(|r| r.transport.as_ref()),
    })
}
