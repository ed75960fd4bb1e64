//! The reckoning as JSON: every figure with its unit in its name, its standard uncertainty and the
//! fields it came from.

use super::ledger::kept;
use super::{Entry, FibreContent, Figure, Reckoning, Uncertain};
use crate::quantity::{ArealMass, Dimension, Length, Mass};
use serde_json::{Map, Value, json};

impl Reckoning {
    /// The content of reckoning.json.
    pub fn to_json(&self) -> Value {
        let mut out = Map::new();
        let s = &self.size;
        let mm = |f: &Figure<Length>| figure(f, 1.0);
        out.insert("reckoning".into(), json!(1));
        out.insert(
            "size_mm".into(),
            json!({
                "height": mm(&s.height), "width": mm(&s.width),
                "mean_height": mm(&s.mean_height), "mean_width": mm(&s.mean_width),
                "thickness": s.thickness.as_ref().map(mm),
                "lean": s.lean.as_ref().map(mm), "out_of_square_degrees": s.out_of_square.map(|a| round(a, 3)),
                "scatter": s.scatter.map(|x| round(x, 2)), "assumed": s.assumed,
            }),
        );
        out.insert("area_m2".into(), figure(&s.area, 1.0));
        let w = &self.web;
        let number = |x: &Uncertain, factor: f64| {
            let u = (x.u() > 0.0).then(|| x.u() * factor);
            json!({ "value": kept(x.value * factor, u), "u": u.map(|u| kept(u, Some(u))) })
        };
        out.insert(
            "web".into(),
            json!({
                "ends": w.ends.as_ref().map(|e| number(e, 1.0)),
                "width_mm": w.width.map(|x| round(x.mm(), 2)),
                "woven_mm": w.woven.map(|x| round(x.mm(), 2)), "hems_mm": round(w.hems.mm(), 2),
                "draw_in_percent": w.draw_in.as_ref().map(|x| number(x, 100.0)),
                "take_up_percent": w.take_up.as_ref().map(|x| number(x, 100.0)),
            }),
        );
        let yarns: Vec<Value> = self
            .yarns
            .iter()
            .map(|y| {
                json!({
                    "yarn": y.name, "count": y.count, "plies": y.plies,
                    "tex": y.tex.map(|t| round(t, 6)), "from": ["warp.count", "weft.count"],
                })
            })
            .collect();
        out.insert("yarns".into(), Value::Array(yarns));
        out.insert("mass_kg".into(), self.mass_json());
        out.insert(
            "mass_per_area_g_m2".into(),
            self.masses
                .areal
                .as_ref()
                .map_or(Value::Null, |f: &Figure<ArealMass>| figure(f, 1.0)),
        );
        let fibre: Vec<Value> = self.fibre.iter().map(fibre_json).collect();
        out.insert("fibre".into(), Value::Array(fibre));
        out.insert(
            "time".into(),
            self.time.as_ref().map_or(Value::Null, |t| {
                json!({
                    "first_day": t.first.to_string(), "last_day": t.last.to_string(),
                    "days": t.days, "days_without_hours": t.days_without_hours,
                    "hours": round(t.hours.hours(), 2),
                    "area_an_hour_cm2": t.area_an_hour.map(|a| round(a.cm2(), 1)),
                })
            }),
        );
        let figures: Vec<Value> = self.entries().iter().map(Entry::to_json).collect();
        out.insert("figures".into(), Value::Array(figures));
        Value::Object(out)
    }

    fn mass_json(&self) -> Value {
        let m = &self.masses;
        let kg = |f: &Figure<Mass>| figure(f, 0.001);
        json!({
            "weighed": m.weighed.as_ref().map(kg),
            "predicted": m.predicted.as_ref().map(kg),
            "residual": m.residual.as_ref().map(kg),
            "warp": m.warp.as_ref().map(kg),
            "warp_strung": m.warp_strung.as_ref().map(kg),
            "thrums": m.thrums.as_ref().map(kg),
            "weft": m.weft.iter()
                .map(|w| json!({"name": w.name, "mass": w.mass.as_ref().map(kg)}))
                .collect::<Vec<_>>(),
            "parts": m.parts.iter()
                .map(|(name, mass)| json!({"name": name, "mass": mass.as_ref().map(kg)}))
                .collect::<Vec<_>>(),
            "unknown": m.unknown,
        })
    }
}

fn fibre_json(content: &FibreContent) -> Value {
    let sections: Vec<Value> = content
        .sections
        .iter()
        .map(|s| {
            let shares: Vec<Value> = s
                .lines
                .iter()
                .map(|l| {
                    json!({
                        "fibre": l.fibre.unwrap_or("other fibres"),
                        "percent": l.percent.map(|p| p.whole),
                        "exact": l.percent.map(|p| round(p.exact, 3)),
                    })
                })
                .collect();
            json!({"part": s.part, "complete": s.complete, "unknown": s.unknown, "shares": shares})
        })
        .collect();
    json!({"basis": content.basis, "from": ["warp", "weft", "loom", "parts"], "sections": sections})
}

/// A figure in a unit that is `factor` base units.
fn figure<D: Dimension>(f: &Figure<D>, factor: f64) -> Value {
    let u = f.u.map(|u| u.base() * factor);
    json!({
        "value": kept(f.value.base() * factor, u),
        "u": u.map(|u| kept(u, Some(u))),
        "from": f.from,
    })
}

fn round(value: f64, places: i32) -> f64 {
    let scale = (0..places).fold(1.0, |s, _| s * 10.0);
    (value * scale).round() / scale
}
