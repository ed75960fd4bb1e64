//! The estimate as JSON: every figure, the model with its coefficients, and each piece it leans on.

use super::lean::{Aside, Leaning};
use crate::quantity::Day;
use crate::reckon::estimate::{
    Column, DAYS_A_MONTH, Estimate, Estimated, LeftOut, NoHours, Past, WASTE,
};
use serde_json::{Value, json};

/// How many of the pieces fall into the interval that the others give for them, and of how many that could be asked.
pub fn coverage(of: &Estimated) -> (usize, usize) {
    let asked: Vec<bool> = of.left_out.iter().filter_map(LeftOut::inside).collect();
    (asked.iter().filter(|inside| **inside).count(), asked.len())
}

/// The document of `offloom estimate --json`.
pub fn json(leaning: &Leaning, e: &Estimate, start: Option<Day>) -> Value {
    let w = &e.wanted;
    let months = |weeks: f64| weeks * 7.0 / DAYS_A_MONTH;
    json!({
        "estimate": 1,
        "wanted": {
            "height_mm": w.height.mm(), "width_mm": w.width.mm(), "area_m2": w.traits().area,
            "ends_per_cm": w.ends_per_cm, "colours": w.colours, "sideways": w.sideways,
        },
        "level": e.level,
        "hours": e.hours.as_ref().map(estimated),
        "coverage": e.hours.as_ref().map(|h| {
            let (inside, of) = coverage(h);
            json!({ "inside": inside, "of": of })
        }),
        "pieces": pieces(leaning, e.hours.as_ref()),
        "left_aside": aside(leaning),
        "weeks": e.weeks.as_ref().map(|w| json!({
            "likely": w.likely, "low": w.range.map(|r| r.0), "high": w.range.map(|r| r.1),
            "hours_a_week": w.hours_a_week,
        })),
        "months": e.weeks.as_ref().map(|w| json!({
            "likely": months(w.likely), "low": w.range.map(|r| months(r.0)), "high": w.range.map(|r| months(r.1)),
        })),
        "window": window(e, start).map(|(from, to)| json!({
            "start": start.map(|s| s.to_string()), "from": from.to_string(), "to": to.to_string(),
        })),
        "weft": e.weft.as_ref().map(|weft| json!({
            "held_g": estimated(&weft.held), "waste": WASTE,
            "order_g": weft.each.iter().map(|m| m.g()).collect::<Vec<_>>(), "shares_from": weft.shares_from,
        })),
        "warp": e.warp.as_ref().map(|warp| json!({
            "ends": warp.ends, "width_mm": warp.width.mm(), "woven_mm": warp.woven.mm(),
            "each_mm": warp.each.mm(), "length_m": warp.length.m(),
            "yarn": warp.yarn.as_ref().map(|(name, _)| name), "mass_g": warp.yarn.as_ref().map(|(_, m)| m.g()),
            "assumed": warp.assumed.iter().map(|a| format!("{a:?}")).collect::<Vec<_>>(),
        })),
        "price": e.price.as_ref().map(|p| json!({
            "rate": p.rate.to_string(), "work": p.work.to_string(),
            "materials": p.materials.as_ref().map(ToString::to_string), "materials_from": p.materials_from,
            "likely": p.likely.to_string(),
            "low": p.range.as_ref().map(|r| r.0.to_string()), "high": p.range.as_ref().map(|r| r.1.to_string()),
        })),
    })
}

/// The first and the last day that it may leave the loom, if weaving begins on `start`.
pub(super) fn window(e: &Estimate, start: Option<Day>) -> Option<(Day, Day)> {
    let weeks = e.weeks.as_ref()?;
    let (low, high) = weeks.range?;
    // A span of so many days ends one day before so many days after its first.
    let after = |weeks: f64| {
        let days = (weeks * 7.0).ceil().clamp(1.0, 1e6);
        Day::from_ordinal(start?.ordinal() + days as i64 - 1)
    };
    Some((after(low)?, after(high)?))
}

fn estimated(e: &Estimated) -> Value {
    let columns: Vec<&str> = e.columns.iter().map(|c| name(*c)).collect();
    json!({
        "likely": e.likely, "low": e.range.map(|r| r.0), "high": e.range.map(|r| r.1),
        "pieces": e.pieces,
        "model": {
            "of": "ln(value / area in m²)", "columns": columns, "coefficients": e.coefficients,
            "deviation": e.deviation, "freedom": e.freedom,
        },
    })
}

/// A column as the model takes it.
pub(super) fn name(column: Column) -> &'static str {
    match column {
        Column::Sett => "ln(ends in a cm)",
        Column::Colours => "ln(colours)",
        Column::Size => "ln(area in m²)",
    }
}

fn pieces(leaning: &Leaning, hours: Option<&Estimated>) -> Vec<Value> {
    let told = hours.map_or(&[] as &[LeftOut], |h| &h.left_out);
    let row = |(p, l): (&Past, &LeftOut)| {
        json!({
            "piece": p.slug, "title": p.title, "area_m2": p.area.m2(), "ends_per_cm": p.ends_per_cm,
            "colours": p.colours, "hours": l.took, "weeks": p.weeks, "fitted_hours": l.fitted,
            "residual": libm::log(l.took / l.fitted),
            "from_the_others": l.foretold.map(|foretold| json!({
                "hours": foretold, "low": l.range.map(|r| r.0), "high": l.range.map(|r| r.1), "inside": l.inside(),
            })),
        })
    };
    leaning.with_hours().zip(told).map(row).collect()
}

fn aside(leaning: &Leaning) -> Vec<Value> {
    let why = |w: Aside| match w {
        Aside::Kind => "made by many, or a study",
        Aside::Asked => "as asked",
        Aside::Unread => "could not be read",
    };
    let lacking = |w: NoHours| match w {
        NoHours::NotNoted => "its notes give no hours",
        NoHours::Incomplete => "its notes do not give all its hours",
    };
    let left = leaning.aside.iter().map(|(slug, w)| (slug, why(*w)));
    let without = leaning.without_hours().map(|(p, w)| (&p.slug, lacking(w)));
    left.chain(without)
        .map(|(slug, why)| json!({ "piece": slug, "why": why }))
        .collect()
}
