//! The owner's sheet on light: what fades first, what it may get, what it gets.

use super::KeeperView;
use crate::paper::figures::{grouped, two_digits};
use crate::paper::words::{Words, fill};
use crate::reckon::{Dose, Responsivity};

/// Longer than this nobody plans ahead, years; beyond it no range of years is told.
const FORESEEN: f64 = 200.0;

/// What is said of light.
pub(super) fn said(view: &KeeperView, w: &Words) -> Vec<String> {
    let words = &w.keeping;
    // A colour of unknown fastness is taken for the most fugitive kind.
    let class = (view.weakest.as_ref()).map_or(Responsivity::High, |y| y.responsivity());
    let dose = grouped(class.a_year());
    let lux = class.brightest().to_string();
    let mut first = match &view.weakest {
        Some(yarn) => {
            let (low, high) = yarn.grade;
            let grade = if low == high {
                low.to_string()
            } else {
                format!("{low}–{high}")
            };
            let name = crate::paper::letters::line(&yarn.name);
            fill(
                &words.first_colour,
                &[
                    ("yarn", &name),
                    ("grade", &grade),
                    ("dose", &dose),
                    ("lux", &lux),
                ],
            )
        }
        None => fill(&words.colours_unknown, &[("dose", &dose), ("lux", &lux)]),
    };
    if view.weakest.is_some() && !view.of_unknown_fastness.is_empty() {
        let yarns = named(&view.of_unknown_fastness, w);
        first.push(' ');
        first.push_str(&fill(&words.others_unknown, &[("yarns", &yarns)]));
    }
    let mut out = vec![first];
    out.extend(view.home.as_ref().map(|home| at_home(view, home, class, w)));
    out.push(words.sun.clone());
    out
}

/// The light where it hangs, against a year's allowance and a first change.
fn at_home(view: &KeeperView, home: &Dose, class: Responsivity, w: &Words) -> String {
    let words = &w.keeping;
    let dose = grouped(two_digits(home.lux_hours.value));
    let share = home.lux_hours.value / class.a_year();
    let mut text = if share > 1.0 {
        let a_day = (home.terms.first()).map_or(0.0, |(lux, hours, _)| lux * hours);
        let days = libm::floor(class.a_year() / a_day.max(f64::MIN_POSITIVE));
        let times = crate::paper::figures::short(two_digits(share), w);
        fill(
            &words.over,
            &[
                ("dose", &dose),
                ("times", &times),
                ("days", &days.to_string()),
            ],
        )
    } else {
        fill(&words.within, &[("dose", &dose)])
    };
    let years = (view.weakest.as_ref())
        .and_then(|yarn| home.years(yarn, home.filtered != Some(true)))
        .filter(|(least, _)| *least <= FORESEEN);
    if let Some((least, most)) = years {
        let [least, most] = [least, most].map(|y| crate::paper::figures::short(two_digits(y), w));
        text.push(' ');
        text.push_str(&fill(&words.fade, &[("least", &least), ("most", &most)]));
    }
    text
}

/// The first few by name, the others by their number.
fn named(all: &[String], w: &Words) -> String {
    const NAMED: usize = 5;
    if all.len() <= NAMED {
        return w.all_of(all);
    }
    let count = (all.len() - NAMED).to_string();
    let list = all
        .iter()
        .take(NAMED)
        .cloned()
        .collect::<Vec<_>>()
        .join(", ");
    fill(&w.join.and_more, &[("list", &list), ("count", &count)])
}
