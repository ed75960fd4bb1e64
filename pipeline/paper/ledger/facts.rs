//! The studio sheet's facts but for money: time at the loom, measured against reckoned, finishing, owners.

use super::StudioView;
use super::view::Done;
use crate::paper::drawn::{doubted, long, plain, weight};
use crate::paper::said::{Fact, Said};
use crate::paper::words::{Words, fill};
use crate::paper::{dates, figures};
use crate::reckon::{Misfit, Stretch, Uncertain};

/// A fact of one line, said in each language.
pub(super) fn fact(
    tongues: &[&Words],
    term: fn(&Words) -> &String,
    say: impl Fn(&Words) -> String,
) -> Fact {
    Fact::new(
        Said::each(tongues, |w| term(w).clone()),
        Said::each(tongues, say),
    )
}

/// Days, hours, rates.
pub(super) fn time(view: &StudioView, tongues: &[&Words]) -> Vec<Fact> {
    let Some(t) = &view.time else {
        return Vec::new();
    };
    let mut out = vec![fact(
        tongues,
        |w| &w.ledger.loom,
        |w| {
            let span = if t.first == t.last {
                dates::day(t.first, w)
            } else {
                let (from, to) = (dates::day(t.first, w), dates::day(t.last, w));
                fill(&w.dates.days, &[("from", &from), ("to", &to)])
            };
            let (days, weeks) = (t.days.to_string(), t.weeks.to_string());
            let values = [("days", &*days), ("weeks", &*weeks), ("span", &*span)];
            fill(&w.ledger.loom_said, &values)
        },
    )];
    let total = t.total().value;
    if total > 0.0 {
        let mut hours = fact(
            tongues,
            |w| &w.ledger.hours,
            |w| {
                let pattern = if t.estimate.is_some() {
                    &w.ledger.hours_estimated
                } else {
                    &w.ledger.hours_said
                };
                fill(pattern, &[("hours", &figures::short(total, w))])
            },
        );
        if t.estimate.is_none() && t.days_without_hours > 0 {
            hours.note = Some(Said::each(tongues, |w| {
                let count = t.days_without_hours.to_string();
                fill(&w.ledger.days_without, &[("count", &count)])
            }));
        }
        out.push(hours);
    }
    out.extend(t.spread.as_ref().filter(|s| s.days > 1).map(|s| {
        fact(
            tongues,
            |w| &w.ledger.day,
            |w| {
                let [median, least, most] =
                    [s.median, s.shortest, s.longest].map(|h| figures::short(h.hours(), w));
                let values = [("median", &*median), ("least", &*least), ("most", &*most)];
                fill(&w.ledger.day_said, &values)
            },
        )
    }));
    let mut lines = Vec::new();
    let rated = |get: fn(&Words) -> &String, rate: f64| {
        Said::each(tongues, |w| fill(get(w), &[("rate", &plain(rate, 3, w))]))
    };
    lines.extend(
        t.area_an_hour
            .map(|a| rated(|w| &w.ledger.weaving_said, a.cm2())),
    );
    lines.extend((t.whole_rate.as_ref()).map(|r| rated(|w| &w.ledger.whole_said, r.value)));
    let ends = t.slowest_and_fastest().filter(|(a, b)| a != b);
    lines.extend(ends.map(|(slow, fast)| {
        Said::each(tongues, |w| {
            let rate = |s: &Stretch| plain(s.rate.as_ref().map_or(0.0, |r| r.value), 3, w);
            let days = |s: &Stretch| {
                let [from, to] = [s.from, s.to].map(|d| dates::day_of_year(d, w));
                fill(&w.dates.days, &[("from", &from), ("to", &to)])
            };
            let values = [
                ("slow", rate(slow)),
                ("slow_days", days(slow)),
                ("fast", rate(fast)),
                ("fast_days", days(fast)),
            ];
            let values = values.each_ref().map(|(k, v)| (*k, v.as_str()));
            fill(&w.ledger.slow_fast, &values)
        })
    }));
    if !lines.is_empty() {
        out.push(Fact {
            term: Said::each(tongues, |w| w.ledger.weaving.clone()),
            lines,
            note: None,
        });
    }
    out
}

/// What was measured against what follows from the rest of the record.
pub(super) fn figures(view: &StudioView, tongues: &[&Words]) -> Vec<Fact> {
    let measures = view.owner.public.measures;
    let m = &view.masses;
    let kg = |f: &crate::reckon::Figure<crate::quantity::Mass>, w: &Words| {
        weight(&f.number().times(1e-3), measures, w)
    };
    let mut out = Vec::new();
    let l = |w: &Words| w.ledger.clone();
    match (&m.weighed, &m.predicted, &m.residual) {
        (Some(weighed), Some(reckoned), Some(residual)) => {
            out.push(fact(
                tongues,
                |w| &w.ledger.mass,
                |w| {
                    let values = [
                        ("weighed", kg(weighed, w)),
                        ("reckoned", kg(reckoned, w)),
                        ("difference", kg(residual, w)),
                    ];
                    let values = values.each_ref().map(|(k, v)| (*k, v.as_str()));
                    fill(&l(w).mass_said, &values)
                },
            ));
        }
        (None, Some(reckoned), _) => out.push(fact(
            tongues,
            |w| &w.ledger.mass,
            |w| fill(&l(w).mass_reckoned, &[("reckoned", &kg(reckoned, w))]),
        )),
        (Some(weighed), _, _) => out.push(fact(
            tongues,
            |w| &w.ledger.mass,
            |w| fill(&l(w).mass_weighed, &[("weighed", &kg(weighed, w))]),
        )),
        (None, None, _) => {}
    }
    out.extend(m.areal.as_ref().map(|a| {
        fact(
            tongues,
            |w| &w.ledger.areal,
            |w| doubted(a.number(), "g/m²", w),
        )
    }));
    let percent = |x: &Uncertain, w: &Words| doubted(&x.times(100.0), "%", w);
    out.extend(
        view.web
            .draw_in
            .as_ref()
            .map(|x| fact(tongues, |w| &w.ledger.draw_in, |w| percent(x, w))),
    );
    out.extend(
        view.web
            .take_up
            .as_ref()
            .map(|x| fact(tongues, |w| &w.ledger.take_up, |w| percent(x, w))),
    );
    if let (Some(lean), Some(angle)) = (&view.size.lean, view.size.out_of_square) {
        out.push(fact(
            tongues,
            |w| &w.ledger.lean,
            |w| {
                // Which way it leans stands in the reckoning.
                let lean = doubted(&lean.number().times(lean.value.mm().signum()), "mm", w);
                let angle = plain(libm::round(angle.abs() * 100.0) / 100.0, 3, w);
                fill(&l(w).lean_said, &[("lean", &lean), ("angle", &angle)])
            },
        ));
    }
    out.extend(view.size.worst.as_ref().map(|misfit: &Misfit| {
        fact(
            tongues,
            |w| &w.ledger.misfit,
            |w| {
                let by = long(misfit.by.mm().abs(), measures, w);
                fill(
                    &l(w).misfit_said,
                    &[
                        ("reading", &figures::as_written(&misfit.text, w)),
                        ("length", &by),
                    ],
                )
            },
        )
    }));
    out
}

/// What was done after cutting off, in her words.
pub(super) fn finishing(view: &StudioView, tongues: &[&Words]) -> Vec<Fact> {
    let term = |what: Done| -> fn(&Words) -> &String {
        match what {
            Done::WarpEnds => |w| &w.ledger.warp_ends,
            Done::Hems => |w| &w.ledger.hems,
            Done::Slits => |w| &w.ledger.slits,
            Done::Blocking => |w| &w.ledger.blocking,
            Done::Mothproofing => |w| &w.ledger.mothproofing,
        }
    };
    view.finishing
        .iter()
        .map(|(what, said)| {
            let get = term(*what);
            Fact::new(Said::each(tongues, |w| get(w).clone()), Said::own(said))
        })
        .collect()
}

/// Every owner, and the light where it hangs.
pub(super) fn keepers(view: &StudioView, tongues: &[&Words]) -> Vec<Fact> {
    let mut out: Vec<Fact> = view
        .keepers
        .iter()
        .map(|k| Fact {
            term: Said::each(tongues, |w| dates::since(&k.from, w)),
            lines: [Some(&k.who), k.address.as_ref(), k.how.as_ref()]
                .into_iter()
                .flatten()
                .map(Said::own)
                .collect(),
            note: None,
        })
        .collect();
    out.extend(view.shown.as_ref().map(|(light, hours)| {
        fact(
            tongues,
            |w| &w.ledger.shown,
            |w| match hours {
                Some(h) => {
                    let hours = figures::short(*h, w);
                    fill(&w.ledger.shown_said, &[("light", light), ("hours", &hours)])
                }
                None => light.clone(),
            },
        )
    }));
    out
}
