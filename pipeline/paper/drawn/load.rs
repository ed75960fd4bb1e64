//! The hanging sheet's list: what hangs, what carries it, and what it loads. Every figure is the
//! reckoning's.

use super::InstallerView;
use super::print::{as_mass, bare, held_for, long, plain, rounded, rounded_weight, thin, unit};
use crate::paper::common::{size, way_up};
use crate::paper::figures::THIN;
use crate::paper::said::{Fact, Said};
use crate::paper::words::{Words, fill};
use crate::reckon::hang::{Hanging, Held};
use crate::record::{Bar, BarShape};

/// The list in groups: the piece, what carries it, what it loads.
pub(super) fn groups(view: &InstallerView, tongues: &[&Words]) -> Vec<Vec<Fact>> {
    let mut all = vec![the_piece(view, tongues), carried(view, tongues)];
    if let Some(hung) = &view.hung {
        all.push(loads(view, hung, tongues));
    }
    all
}

fn term(tongues: &[&Words], get: fn(&Words) -> &String) -> Said {
    Said::each(tongues, |w| get(w).clone())
}

fn the_piece(view: &InstallerView, tongues: &[&Words]) -> Vec<Fact> {
    let p = &view.public;
    let mut out = vec![Fact::new(
        term(tongues, |w| &w.terms.size),
        size(p, tongues),
    )];
    out.push(Fact {
        term: term(tongues, |w| &w.terms.mass),
        lines: vec![Said::each(tongues, |w| match &view.mass {
            Some((kg, _)) => rounded_weight(kg, p.measures, w),
            None => w.drawn.hanging.no_mass.clone(),
        })],
        note: (view.mass.as_ref())
            .filter(|(_, weighed)| !weighed)
            .map(|_| term(tongues, |w| &w.drawn.hanging.reckoned)),
    });
    if let Some(top) = p.top {
        out.push(Fact::new(
            term(tongues, |w| &w.terms.way_up),
            Said::each(tongues, |w| way_up(top, w).to_string()),
        ));
    }
    let off = view.written.as_ref();
    let off = off.and_then(|h| h.centre_of_mass.as_ref());
    out.push(Fact::new(
        term(tongues, |w| &w.drawn.hanging.centre),
        Said::each(tongues, |w| {
            let words = &w.drawn.hanging;
            let Some(off) = off else {
                return words.centre_unknown.clone();
            };
            let by = off.value.by.mm();
            let pattern = if by < 0.0 {
                &words.centre_left
            } else {
                &words.centre_right
            };
            fill(pattern, &[("length", &long(by.abs(), p.measures, w))])
        }),
    ));
    out
}

fn carried(view: &InstallerView, tongues: &[&Words]) -> Vec<Fact> {
    let measures = view.public.measures;
    let mut lines = vec![Said::each(tongues, |w| {
        let words = &w.drawn.hanging;
        let support = view.support.support;
        support
            .map_or(&words.support_none, |s| words.hung_by(s))
            .clone()
    })];
    if let Some((depth, length)) = view.band() {
        lines.push(Said::each(tongues, |w| {
            let values = [
                ("depth", thin(depth, w)),
                ("length", long(length, measures, w)),
            ];
            fill(
                &w.drawn.hanging.band,
                &values.each_ref().map(|(k, v)| (*k, v.as_str())),
            )
        }));
    }
    let mut out = vec![Fact {
        term: term(tongues, |w| &w.drawn.hanging.support),
        lines,
        note: None,
    }];
    out.extend(bar(view, tongues));
    out.push(Fact::new(
        term(tongues, |w| &w.drawn.hanging.fixings),
        Said::each(tongues, |w| fixings(view, w)),
    ));
    out
}

fn bar(view: &InstallerView, tongues: &[&Words]) -> Option<Fact> {
    let measures = view.public.measures;
    let written = view.written.as_ref().and_then(|h| h.bar.as_ref());
    let reckoned = view.hung.as_ref().and_then(|h| h.bar.as_ref());
    let advised = view.support.bar_length();
    let length = |w: &Words| match (reckoned, written.and_then(|b| b.length.as_ref())) {
        (_, Some(l)) => Some(fill(
            &w.drawn.hanging.long,
            &[("length", &long(l.value.value.mm(), measures, w))],
        )),
        (Some(bar), None) => Some(fill(
            &w.drawn.hanging.long_advised,
            &[("length", &long(bar.length, measures, w))],
        )),
        (None, None) => None,
    };
    let say = |w: &Words| match written {
        Some(bar) => {
            let parts = [made_of(bar, w), length(w)];
            parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
        }
        None => advised.map_or(String::new(), |mm| {
            fill(
                &w.drawn.hanging.bar_advised,
                &[("length", &long(mm, measures, w))],
            )
        }),
    };
    (written.is_some() || advised.is_some()).then(|| {
        Fact::new(
            term(tongues, |w| &w.drawn.hanging.bar),
            Said::each(tongues, say),
        )
    })
}

/// Material and section in words.
fn made_of(bar: &Bar, w: &Words) -> Option<String> {
    let words = &w.drawn.hanging;
    let material = bar
        .material
        .as_ref()
        .map(|m| w.drawn.materials.name(m.value));
    let Some(section) = &bar.section else {
        return material.map(str::to_string);
    };
    let n = |x: f64| plain(x, 5, w);
    let material = material.unwrap_or_default();
    let text = match section.shape {
        BarShape::Flat { thick, high } => {
            let pattern = if high.mm() > thick.mm() {
                &words.flat
            } else {
                &words.flat_lying
            };
            let (thick, high) = (n(thick.mm()), n(high.mm()));
            fill(
                pattern,
                &[("material", material), ("thick", &thick), ("high", &high)],
            )
        }
        BarShape::Round { across } => fill(
            &words.round,
            &[("material", material), ("across", &n(across.mm()))],
        ),
        BarShape::Tube { across, wall } => {
            let (across, wall) = (n(across.mm()), n(wall.mm()));
            fill(
                &words.tube,
                &[("material", material), ("across", &across), ("wall", &wall)],
            )
        }
        BarShape::Box { thick, high, wall } => {
            let (thick, high, wall) = (n(thick.mm()), n(high.mm()), n(wall.mm()));
            let values = [
                ("material", material),
                ("thick", &thick),
                ("high", &high),
                ("wall", &wall),
            ];
            fill(&words.box_, &values)
        }
    };
    // Without a material the pattern begins with its comma.
    Some(text.trim_start_matches([',', ' ']).to_string())
}

fn fixings(view: &InstallerView, w: &Words) -> String {
    let words = &w.drawn.hanging;
    let measures = view.public.measures;
    let number = view.written.as_ref().and_then(|h| h.fixings.as_ref());
    let Some((at, given)) = view.places() else {
        return match number {
            Some(n) => fill(&words.count, &[("count", &n.value.to_string())]),
            None => words.none.clone(),
        };
    };
    let each: Vec<String> = at.iter().map(|x| bare(*x, measures, w)).collect();
    fill(
        if given { &words.at } else { &words.at_best },
        &[
            ("count", &at.len().to_string()),
            ("places", &w.all_of(&each)),
            ("unit", unit(measures)),
        ],
    )
}

fn loads(view: &InstallerView, hung: &Hanging, tongues: &[&Words]) -> Vec<Fact> {
    let measures = view.public.measures;
    let mut out = vec![Fact::new(
        term(tongues, |w| &w.drawn.hanging.line),
        Said::each(tongues, |w| {
            let force = rounded(&hung.load.line, "N/m", w);
            fill(&w.drawn.hanging.line_said, &[("force", &force)])
        }),
    )];
    let held = hung.bar.as_ref().and_then(|b| b.held.as_ref());
    let fixings = &hung.fixings;
    out.push(Fact::new(
        term(tongues, |w| &w.drawn.hanging.wall),
        Said::each(tongues, |w| {
            let words = &w.drawn.hanging;
            let pattern = if hung.bar.is_some() {
                &words.wall_bar
            } else {
                &words.wall_alone
            };
            let force = rounded(&fixings.total, "N", w);
            let mass = as_mass(fixings.total.value, measures, w);
            fill(pattern, &[("force", &force), ("mass", &mass)])
        }),
    ));
    out.extend(held.filter(|h| h.given).map(|held| holds(held, tongues)));
    out.push(Fact {
        term: term(tongues, |w| &w.drawn.hanging.each),
        lines: (fixings.each.iter())
            .map(|each| {
                Said::each(tongues, |w| {
                    let count = fixings.number.unwrap_or_default().to_string();
                    let force = rounded(each, "N", w);
                    fill(
                        &w.drawn.hanging.each_alike,
                        &[("force", &force), ("count", &count)],
                    )
                })
            })
            .chain((!matches!(fixings.number, Some(1 | 2))).then(|| {
                Said::each(tongues, |w| {
                    let force = rounded(&fixings.of_two, "N", w);
                    fill(&w.drawn.hanging.each_two, &[("force", &force)])
                })
            }))
            .collect(),
        note: None,
    });
    out.push(Fact::new(
        term(tongues, |w| &w.drawn.hanging.design),
        Said::each(tongues, |w| {
            let design = fixings.most.times(fixings.factor);
            let least = held_for(&design);
            let force = format!("{}{THIN}N", plain(least, 3, w));
            let mass = as_mass(least, measures, w);
            let factor = plain(fixings.factor, 3, w);
            fill(
                &w.drawn.hanging.design_said,
                &[("force", &force), ("mass", &mass), ("factor", &factor)],
            )
        }),
    ));
    if let Some(pull) = &fixings.pull {
        out.push(Fact::new(
            term(tongues, |w| &w.drawn.hanging.pull),
            Said::each(tongues, |w| {
                let force = rounded(&pull.pull, "N", w);
                let two = held_for(&pull.pull.times(fixings.factor / 2.0));
                let two = format!("{}{THIN}N", plain(two, 3, w));
                let factor = plain(fixings.factor, 3, w);
                fill(
                    &w.drawn.hanging.pull_said,
                    &[("force", &force), ("two", &two), ("factor", &factor)],
                )
            }),
        ));
    }
    out.extend(held.map(|held| sag(held, tongues)));
    out
}

fn holds(held: &Held, tongues: &[&Words]) -> Fact {
    Fact::new(
        term(tongues, |w| &w.drawn.hanging.holds),
        Said::each(tongues, |w| {
            let each: Vec<String> = held.reactions.iter().map(|r| rounded(r, "", w)).collect();
            fill(
                &w.drawn.hanging.holds_said,
                &[("forces", &each.join("\u{2002}"))],
            )
        }),
    )
}

/// A sag that nobody sees, mm: own rule.
const SEEN_MM: f64 = 0.1;

fn sag(held: &Held, tongues: &[&Words]) -> Fact {
    Fact {
        term: term(tongues, |w| &w.drawn.hanging.sag),
        lines: vec![Said::each(tongues, |w| {
            let words = &w.drawn.hanging;
            let n = |x: f64| plain(x, 2, w);
            let (least, most) = held.lasting;
            let steady = n(least) == n(most) && n(least) == n(held.sag.value);
            let pattern = if most < SEEN_MM {
                return fill(&words.sag_little, &[("least", &n(SEEN_MM))]);
            } else if steady {
                &words.sag_steady
            } else {
                &words.sag_said
            };
            let values = [
                ("first", n(held.sag.value)),
                ("least", n(least)),
                ("most", n(most)),
            ];
            fill(pattern, &values.each_ref().map(|(k, v)| (*k, v.as_str())))
        })],
        note: Some(Said::each(tongues, |w| {
            let words = &w.drawn.hanging;
            let pattern = if held.worst.sag <= held.worst.limit {
                &words.within
            } else {
                &words.beyond
            };
            fill(pattern, &[("limit", &plain(held.worst.limit, 2, w))])
        })),
    }
}
