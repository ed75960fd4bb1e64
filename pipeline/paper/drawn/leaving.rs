//! The condition sheet's lists of how the piece left the studio and what may change by itself. What is not
//! recorded is said to be so where a registrar would look for it.

use super::baseline::{noted, term};
use super::print::plain;
use super::registrar::{Named, RegistrarView};
use crate::paper::common::way_up;
use crate::paper::figures::{grouped, two_digits};
use crate::paper::said::{Fact, Said};
use crate::paper::words::{Words, fill};
use crate::record::Support;

/// How it left the studio.
pub(super) fn finishing(view: &RegistrarView, tongues: &[&Words]) -> Vec<Fact> {
    let left = &view.left;
    let said = |get: fn(&Words) -> &String, value: &Option<String>| {
        let value = match value {
            Some(own) => Said::own(own),
            None => term(tongues, |w| &w.drawn.condition.not_recorded),
        };
        Fact::new(term(tongues, get), value)
    };
    let mut up = Vec::new();
    if let Some(top) = view.public.top {
        up.push(Said::each(tongues, |w| way_up(top, w).to_string()));
        up.push(Said::each(tongues, |w| {
            let words = &w.drawn.condition;
            if view.sideways {
                words.warp_level.clone()
            } else {
                words.warp_upright.clone()
            }
        }));
    } else {
        up.push(term(tongues, |w| &w.drawn.condition.not_recorded));
    }
    let mut out = vec![Fact {
        term: term(tongues, |w| &w.terms.way_up),
        lines: up,
        note: None,
    }];
    if let Some((method, depth)) = &left.heading {
        let deep = depth.map(|mm| {
            Said::each(tongues, |w| {
                fill(
                    &w.drawn.condition.deep,
                    &[("depth", &super::print::thin(mm, w))],
                )
            })
        });
        // A method that is a way of hanging has its words in each language.
        let known = method.as_deref().and_then(Support::named);
        let value = match (method, deep) {
            (Some(_), _) if known.is_some() => Said::each(tongues, |w| {
                let how = known.map_or(&w.drawn.condition.not_recorded, |s| {
                    w.drawn.hanging.hung_by(s)
                });
                let deep = depth.map(|mm| {
                    fill(
                        &w.drawn.condition.deep,
                        &[("depth", &super::print::thin(mm, w))],
                    )
                });
                [Some(how.clone()), deep]
                    .into_iter()
                    .flatten()
                    .collect::<Vec<_>>()
                    .join(", ")
            }),
            (Some(own), Some(deep)) => Said::own(format!("{own}, ")).then(deep),
            (Some(own), None) => Said::own(own),
            (None, Some(deep)) => deep,
            (None, None) => term(tongues, |w| &w.drawn.condition.not_recorded),
        };
        out.push(Fact::new(
            term(tongues, |w| &w.drawn.condition.heading),
            value,
        ));
    }
    out.push(said(|w| &w.drawn.condition.slits, &left.slits));
    out.push(said(|w| &w.drawn.condition.hems, &left.hems));
    out.push(said(|w| &w.drawn.condition.warp_ends, &left.warp_ends));
    out.push(said(|w| &w.drawn.condition.blocking, &left.blocking));
    out.push(said(|w| &w.drawn.condition.moths, &left.mothproofing));
    out
}

/// How many yarns are named before the rest is counted.
const NAMED: usize = 5;

/// Yarns with their grades: "buoy red (4–5), dry sand (4–5)".
fn listed(all: &[(Named, (u8, u8))], w: &Words) -> String {
    let mut each: Vec<String> = all
        .iter()
        .map(|(name, (low, high))| {
            let name = match name {
                Named::Name(own) => own.clone(),
                Named::Number(n) => fill(&w.drawn.condition.yarn, &[("number", &n.to_string())]),
            };
            let grade = if low == high {
                low.to_string()
            } else {
                format!("{low}–{high}")
            };
            format!("{name}\u{A0}({grade})")
        })
        .collect();
    if each.len() <= NAMED {
        return each.join(", ");
    }
    let rest = each.split_off(NAMED - 1).len().to_string();
    fill(
        &w.join.and_more,
        &[("list", &each.join(", ")), ("count", &rest)],
    )
}

/// What may change by itself.
pub(super) fn to_watch(view: &RegistrarView, tongues: &[&Words]) -> Vec<Fact> {
    let yarns = &view.yarns;
    let said = |all: &[(Named, (u8, u8))], unknown: usize, scale: fn(&Words) -> &String| {
        Said::each(tongues, |w| {
            let words = &w.drawn.condition;
            let mut parts = Vec::new();
            if !all.is_empty() {
                parts.push(fill(scale(w), &[("yarns", &listed(all, w))]));
            } else if unknown < yarns.count {
                parts.push(words.none_weak.clone());
            }
            if unknown == yarns.count {
                parts.push(words.no_fastness.clone());
            } else if unknown > 0 {
                let values = [
                    ("count", unknown.to_string()),
                    ("all", yarns.count.to_string()),
                ];
                let values = values.each_ref().map(|(k, v)| (*k, v.as_str()));
                parts.push(fill(&words.some_unknown, &values));
            }
            parts.join(&w.join.semicolon)
        })
    };
    let mut out = vec![
        Fact::new(
            term(tongues, |w| &w.drawn.condition.fades),
            said(&yarns.fade, yarns.light_unknown, |w| {
                &w.drawn.condition.by_blue_wool
            }),
        ),
        Fact::new(
            term(tongues, |w| &w.drawn.condition.runs),
            said(&yarns.run, yarns.wash_unknown, |w| {
                &w.drawn.condition.by_grey_scale
            }),
        ),
    ];
    out.extend(light(view, tongues));
    if let Some(most) = &view.public.cleaning {
        let because = view.public.cleaning_because.as_ref();
        let own = because.map_or(most.clone(), |b| format!("{most}: {b}"));
        out.push(Fact::new(
            term(tongues, |w| &w.drawn.condition.cleaning),
            Said::own(own),
        ));
    }
    out
}

/// The light of a year where it hangs, and what that does to the weakest yarn.
fn light(view: &RegistrarView, tongues: &[&Words]) -> Option<Fact> {
    let weakest = view.weakest.as_ref();
    let home = view.light.as_ref();
    if weakest.is_none() && home.is_none() {
        return None;
    }
    let dose = |w: &Words| {
        let dose = home?;
        let lux_hours = grouped(two_digits(dose.lux_hours.value));
        let mut text = fill(&w.drawn.condition.dose, &[("dose", &lux_hours)]);
        // Where it is not said that ultraviolet is kept off, it is taken to be there.
        let uv = dose.filtered != Some(true);
        if let Some((least, most)) = weakest.and_then(|x| dose.years(x, uv)) {
            let values = [("least", plain(least, 1, w)), ("most", plain(most, 1, w))];
            let values = values.each_ref().map(|(k, v)| (*k, v.as_str()));
            text = format!("{text} {}", fill(&w.drawn.condition.first_change, &values));
        }
        Some(text)
    };
    let allowed = |w: &Words| {
        let class = weakest?.responsivity();
        let values = [
            ("dose", grouped(class.a_year())),
            ("level", grouped(class.brightest())),
        ];
        let values = values.each_ref().map(|(k, v)| (*k, v.as_str()));
        Some(fill(&w.drawn.condition.allowed, &values))
    };
    let mut lines = Vec::new();
    if home.is_some() {
        lines.push(Said::each(tongues, |w| dose(w).unwrap_or_default()));
    }
    if weakest.is_some() {
        lines.push(Said::each(tongues, |w| allowed(w).unwrap_or_default()));
    }
    let fact = Fact {
        term: term(tongues, |w| &w.drawn.condition.light),
        lines,
        note: None,
    };
    Some(noted(fact, term(tongues, |w| &w.drawn.condition.rough)))
}
