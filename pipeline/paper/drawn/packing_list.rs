//! What lies in the parcel and what goes beside it, to be ticked off.

use super::CarrierView;
use super::print::long;
use crate::paper::said::Said;
use crate::paper::words::{Words, fill};

/// The list, one thing a line.
pub(super) fn of(view: &CarrierView, tongues: &[&Words]) -> Vec<Said> {
    let term = |get: fn(&Words) -> &String| Said::each(tongues, |w| get(w).clone());
    let bar = match view.bar {
        Some(mm) => Said::each(tongues, |w| {
            let length = long(mm, view.public.measures, w);
            let inside = view.roll.parcel.as_ref().map(|p| p.inner[0].mm());
            let pattern = if inside.is_some_and(|inside| mm > inside) {
                &w.drawn.packing.bar_apart
            } else {
                &w.drawn.packing.bar
            };
            fill(pattern, &[("length", &length)])
        }),
        None => term(|w| &w.drawn.packing.bar_plain),
    };
    vec![
        term(|w| &w.drawn.packing.the_piece),
        bar,
        term(|w| &w.drawn.packing.papers),
        term(|w| &w.drawn.packing.photographed),
        term(|w| &w.drawn.packing.dry),
    ]
}
