//! The studio sheet's facts of money. Amounts in another currency count nowhere and are named.

use super::StudioView;
use super::facts::fact;
use crate::paper::dates;
use crate::paper::figures::{money, short};
use crate::paper::said::{Fact, Said};
use crate::paper::words::{Words, fill};
use crate::quantity::Money;
use crate::reckon::WorkHours;
use rust_decimal::prelude::ToPrimitive;

/// Price, materials, what an hour brings, stages.
pub(super) fn money_facts(view: &StudioView, tongues: &[&Words]) -> Vec<Fact> {
    let m = &view.money;
    let mut out = Vec::new();
    out.extend(amount(tongues, |w| &w.ledger.price, &m.price));
    out.extend(amount(tongues, |w| &w.ledger.insured, &m.insured));
    out.extend(m.materials.as_ref().map(|all| {
        let mut f = fact(tongues, |w| &w.ledger.materials, |w| money(&all.total, w));
        if !all.lacking.is_empty() {
            f.note = Some(Said::each(tongues, |w| {
                fill(&w.ledger.lacking, &[("names", &all.lacking.join(", "))])
            }));
        }
        f
    }));
    out.extend(amount(tongues, |w| &w.ledger.result, &m.result));
    let hours = |h: &WorkHours, w: &Words| short(h.hours.to_f64().unwrap_or_default(), w);
    out.extend(m.per_hour.as_ref().zip(m.hours.as_ref()).map(|(sum, h)| {
        fact(
            tongues,
            |w| &w.ledger.per_hour,
            |w| {
                let values = [("money", money(sum, w)), ("hours", hours(h, w))];
                let values = values.each_ref().map(|(k, v)| (*k, v.as_str()));
                fill(&w.ledger.per_hour_said, &values)
            },
        )
    }));
    if let (Some(asked), Some(rate), Some(h)) = (&m.asked, &m.rate, &m.hours) {
        let mut f = fact(
            tongues,
            |w| &w.ledger.asked,
            |w| {
                let values = [
                    ("money", money(asked, w)),
                    ("hours", hours(h, w)),
                    ("rate", money(rate, w)),
                ];
                let values = values.each_ref().map(|(k, v)| (*k, v.as_str()));
                fill(&w.ledger.asked_said, &values)
            },
        );
        f.note = m.over_asked.as_ref().map(|over| {
            let below = over.amount.is_sign_negative();
            let size = Money {
                amount: over.amount.abs(),
                currency: over.currency,
            };
            Said::each(tongues, |w| {
                let pattern = if below {
                    &w.ledger.below
                } else {
                    &w.ledger.above
                };
                fill(pattern, &[("money", &money(&size, w))])
            })
        });
        out.push(f);
    }
    out.extend(amount(tongues, |w| &w.ledger.per_area, &m.per_area));
    out.extend(stages(view, tongues));
    if !m.left_out.is_empty()
        && let Some(last) = out.last_mut()
    {
        let names: Vec<String> = (m.left_out.iter())
            .map(|(what, sum)| format!("{what} {sum}"))
            .collect();
        let said = Said::each(tongues, |w| {
            fill(&w.ledger.left_out, &[("names", &names.join(", "))])
        });
        last.lines.push(said);
    }
    out
}

/// One sum, where it is known.
fn amount(tongues: &[&Words], get: fn(&Words) -> &String, sum: &Option<Money>) -> Option<Fact> {
    let sum = sum.as_ref()?;
    Some(fact(tongues, get, |w| money(sum, w)))
}

fn stages(view: &StudioView, tongues: &[&Words]) -> Option<Fact> {
    let stages = view.money.stages.as_ref()?;
    let on = |what: &str| {
        let found = view.stage_dates.iter().find(|(name, _)| name == what)?;
        found.1.as_ref()
    };
    Some(Fact {
        term: Said::each(tongues, |w| w.ledger.stages.clone()),
        lines: stages
            .each
            .iter()
            .map(|(what, sum)| {
                Said::each(tongues, |w| {
                    let day = on(what).map(|d| format!(", {}", dates::in_words(d, w)));
                    format!("{what}: {}{}", money(sum, w), day.unwrap_or_default())
                })
            })
            .collect(),
        note: (stages.rest.as_ref())
            .filter(|rest| !rest.amount.is_zero())
            .map(|rest| {
                Said::each(tongues, |w| {
                    fill(&w.ledger.open, &[("money", &money(rest, w))])
                })
            }),
    })
}
