//! The estimate in words.

use super::lean::{Aside, Leaning};
use super::table::{coverage, window};
use crate::quantity::{Day, Mass};
use crate::reckon::estimate::{
    Assumed, Column, DAYS_A_MONTH, Estimate, Estimated, FEWEST, NoHours, WASTE, Warp, Weft,
};
use crate::reckon::significant;

/// What is said of an estimate, line by line; an empty line parts its subjects.
pub fn sentences(leaning: &Leaning, e: &Estimate, start: Option<Day>) -> Vec<String> {
    let mut out = vec![asked(e)];
    out.push(String::new());
    hours(&mut out, leaning, e);
    weeks(&mut out, e, start);
    if let Some(p) = &e.price {
        let from = match (&p.materials, p.materials_from) {
            (Some(m), n) => format!("materials {m}, as in {}", counted(n)),
            _ => "materials not counted: no piece tells the cost of all of them".into(),
        };
        let between = p.range.as_ref().map_or(String::new(), |(low, high)| {
            format!("; between {low} and {high}")
        });
        out.push(format!(
            "price   {}{between} ({} at {} an hour; {from})",
            p.likely, p.work, p.rate
        ));
    } else if e.hours.is_some() {
        out.push("price   not reckoned: write `hourly_rate` in studio.yaml".into());
    }
    out.push(String::new());
    match &e.weft {
        Some(weft) => yarn(&mut out, weft),
        None => out.push("weft    not estimated: no piece tells the masses of its yarns".into()),
    }
    match &e.warp {
        Some(w) => warp(&mut out, w),
        None => out.push("warp    not reckoned: give --sett".into()),
    }
    pieces(&mut out, leaning, e);
    out
}

fn asked(e: &Estimate) -> String {
    let w = &e.wanted;
    let sett = w.ends_per_cm.map_or(String::new(), |s| {
        format!(", {} ends/cm", significant(s, 3))
    });
    format!(
        "{} × {} cm, {} m²{sett}, {} colours{}",
        significant(w.height.cm(), 4),
        significant(w.width.cm(), 4),
        significant(w.traits().area, 3),
        w.colours,
        if w.sideways {
            ", woven on its side"
        } else {
            ""
        }
    )
}

fn hours(out: &mut Vec<String>, leaning: &Leaning, e: &Estimate) {
    let Some(h) = &e.hours else {
        out.push("hours   not estimated: no piece has all its hours in its notes".into());
        return;
    };
    match h.range {
        Some((low, high)) => out.push(format!(
            "hours   {:.0}; {} of 100 such pieces take between {low:.0} and {high:.0}",
            h.likely,
            percent(e.level)
        )),
        None => out.push(format!(
            "hours   {:.0}, at the mean of {}; no interval, for that takes {FEWEST} pieces with all their hours",
            h.likely,
            counted(h.pieces)
        )),
    }
    if h.range.is_some() {
        out.push(format!("        {}", model(h)));
    }
    let without = leaning.without_hours().count();
    if h.pieces < FEWEST && without > 0 {
        out.push(format!(
            "        {} more would count if their notes gave all hours",
            counted(without)
        ));
    }
}

/// The model in words.
fn model(h: &Estimated) -> String {
    let slopes: Vec<&str> = h
        .columns
        .iter()
        .map(|c| match c {
            Column::Sett => "the sett",
            Column::Colours => "the colours",
            Column::Size => "the size",
        })
        .collect();
    let beside = if slopes.is_empty() {
        "by the square metre alone".to_string()
    } else {
        format!("by the square metre, with {}", slopes.join(" and "))
    };
    format!(
        "reckoned {beside}, from {}, {} degrees of freedom; their scatter is {:.0} %",
        counted(h.pieces),
        h.freedom,
        100.0 * h.deviation.unwrap_or(0.0)
    )
}

/// Months that a piece usually takes, full time (common practice, no source).
const USUAL_MONTHS: std::ops::RangeInclusive<f64> = 2.5..=6.0;

fn weeks(out: &mut Vec<String>, e: &Estimate, start: Option<Day>) {
    let Some(w) = &e.weeks else { return };
    let months = |weeks: f64| weeks * 7.0 / DAYS_A_MONTH;
    let how = match w.hours_a_week {
        Some(h) => format!("at {} hours a week", significant(h, 3)),
        None => "as the finished ones ran, rests and other work between".into(),
    };
    let between = w.range.map_or(String::new(), |(low, high)| {
        format!("; between {:.1} and {:.1}", months(low), months(high))
    });
    out.push(format!("months  {:.1}{between}, {how}", months(w.likely)));
    if !USUAL_MONTHS.contains(&months(w.likely)) {
        out.push(
            "        usual are 2.5 to 3 months full time for a commission, 3 to 6 for a large piece (common practice, no source)"
                .into(),
        );
    }
    if let (Some(start), Some((from, to))) = (start, window(e, start)) {
        out.push(format!(
            "        begun on {start}, it leaves the loom between {from} and {to}; finishing and delivery come after"
        ));
    }
}

fn yarn(out: &mut Vec<String>, weft: &Weft) {
    let between = weft.held.range.map_or(String::new(), |(low, high)| {
        format!("; between {} and {}", mass(low), mass(high))
    });
    out.push(format!(
        "weft    {} in the piece{between}; to order with {:.0} % for waste, colour by colour from the largest:",
        mass(weft.held.likely),
        100.0 * WASTE
    ));
    let each: Vec<String> = weft.each.iter().map(|m| mass(m.g())).collect();
    for row in each.chunks(8) {
        out.push(format!("        {}", row.join(", ")));
    }
    out.push(match weft.shares_from {
        0 => "        in equal shares, for no piece tells others".into(),
        n => format!("        in the shares of {}", counted(n)),
    });
}

fn warp(out: &mut Vec<String>, w: &Warp) {
    let yarn = match &w.yarn {
        Some((name, mass_of)) => format!("{} of {name}", mass(mass_of.g())),
        None => "no piece tells the count of its warp, so no mass".into(),
    };
    out.push(format!(
        "warp    {} ends of {:.2} m, {:.0} m in all: {yarn}",
        w.ends,
        w.each.m(),
        w.length.m()
    ));
    out.push(format!(
        "        {:.1} cm in the loom, {:.1} cm to weave",
        w.width.cm(),
        w.woven.cm()
    ));
    for assumed in &w.assumed {
        out.push(format!(
            "        assumed: {}",
            match assumed {
                Assumed::NoDrawIn => "no draw-in, for no piece tells its width in the loom",
                Assumed::NoTakeUp => "no take-up, for no piece tells its woven height",
                Assumed::LoomWaste => "50 cm of each end for the loom, for no piece tells it",
                Assumed::NoHems => "no hems, for no piece tells them",
            }
        ));
    }
}

fn pieces(out: &mut Vec<String>, leaning: &Leaning, e: &Estimate) {
    let Some(h) = &e.hours else { return };
    out.push(String::new());
    out.push("leaning on".into());
    let wide = leaning.with_hours().map(|p| p.slug.chars().count()).max();
    for (p, l) in leaning.with_hours().zip(&h.left_out) {
        let others = match (l.foretold, l.range, l.inside()) {
            (Some(foretold), Some((low, high)), Some(inside)) => format!(
                "; the others foretell {foretold:.0}, between {low:.0} and {high:.0}: {}",
                if inside { "inside" } else { "outside" }
            ),
            _ => String::new(),
        };
        let off = 100.0 * (l.took / l.fitted - 1.0);
        out.push(format!(
            "  {:wide$}  {:.0} h for {} m², {off:+.0} % of what the model has{others}",
            p.slug,
            l.took,
            significant(p.area.m2(), 3),
            wide = wide.unwrap_or(0)
        ));
    }
    let (inside, of) = coverage(h);
    if of > 0 {
        out.push(format!(
            "  left out in turn, {inside} of {of} lie inside; {} in 100 are promised",
            percent(e.level)
        ));
    }
    let mut left: Vec<String> = leaning
        .aside
        .iter()
        .map(|(slug, why)| match why {
            Aside::Kind => format!("{slug} (made by many, or a study; --with {slug} counts it)"),
            Aside::Asked => format!("{slug} (as asked)"),
            Aside::Unread => format!("{slug} (could not be read)"),
        })
        .collect();
    left.extend(leaning.without_hours().map(|(p, why)| match why {
        NoHours::NotNoted => format!("{} (its notes give no hours)", p.slug),
        NoHours::Incomplete => format!("{} (its notes do not give all hours)", p.slug),
    }));
    if !left.is_empty() {
        out.push(format!("left aside: {}", left.join(", ")));
    }
}

fn counted(n: usize) -> String {
    match n {
        1 => "1 piece".into(),
        n => format!("{n} pieces"),
    }
}

/// A level as it is said.
fn percent(level: f64) -> String {
    significant(100.0 * level, 3)
}

/// A mass to be ordered: up to the next 5 g below 200 g, the next 10 g below 2 kg, else the next 50 g.
fn mass(g: f64) -> String {
    let step = if g < 200.0 {
        5.0
    } else if g < 2000.0 {
        10.0
    } else {
        50.0
    };
    let up = Mass::from_g((g / step).ceil() * step);
    if up.g() < 1000.0 {
        format!("{:.0} g", up.g())
    } else {
        format!("{:.2} kg", up.kg())
    }
}
