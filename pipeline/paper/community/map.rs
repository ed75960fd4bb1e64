//! The map for mounting: the wall to scale, every square with its number, from the front and mirrored from the back. It
//! holds numbers and no name, so that it may lie about while the wall is sewn and hung.

use super::views::MountView;
use super::{filled, named, of_ladder, term};
use crate::paper::common::Common;
use crate::paper::drawn::{Ruler, fitting_close, ruler, ruler_length};
use crate::paper::figures;
use crate::paper::said::Said;
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Press, Sheet};
use crate::quantity::{Length, Mass, Reading};
use serde::Serialize;

/// The room of a drawing, mm, on an A4 sheet on its side; a letter sheet has as much.
const ROOM: (f64, f64) = (226.0, 124.0);

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct SquaresMap {
    common: Common,
    name: Said,
    title: String,
    cautions: Vec<Said>,
    facts: Vec<Said>,
    /// The wall's width and height, mm.
    wall: (f64, f64),
    /// The border on each side, mm.
    border: f64,
    rows: u32,
    columns: u32,
    /// Squares that the map does not name: row and column.
    missing: Vec<(u32, u32)>,
    /// The number behind the colon of the scale.
    one_to: u32,
    ruler: Ruler,
    width: Said,
    height: Said,
    /// What is said below both drawings.
    legend: Vec<Said>,
    front: Side,
    back: Side,
}

/// The wall from one side.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Side {
    head: Said,
    /// Whether column 1 stands on the right.
    mirrored: bool,
    alt: String,
    note: Said,
}

impl Press {
    /// The map of squares. It is for whoever mounts the wall, and public.
    ///
    /// # Errors
    /// Where the template has a fault.
    pub fn squares_map(&self, view: &MountView, ladder: Option<&str>) -> Result<Sheet, PaperError> {
        let t = self.lexicon.choose(&view.public.languages);
        let name = named(&t, |w| &w.names.map);
        let (width, height) = view.wall;
        let one_to = fitting_close(width.mm(), height.mm(), ROOM);
        let lead = crate::paper::common::lead(&t);
        let (real, parts) = ruler_length(one_to);
        let (rows, columns) = (view.rows.to_string(), view.columns.to_string());
        let alt = |head: &str| {
            let alt = fill(
                &lead.community.map.alt,
                &[("rows", &rows), ("columns", &columns)],
            );
            format!("{head}. {alt}")
        };
        let measures = view.public.measures;
        let length = |l: Length| Said::each(&t, |w| figures::length(l, measures, w));
        let mut cautions = vec![term(&t, |w| &w.map.hanging)];
        if view.overhead {
            cautions.insert(0, term(&t, |w| &w.map.overhead));
        }
        cautions.push(term(&t, |w| &w.map.sewing));
        let unmapped = view.missing.len();
        let data = SquaresMap {
            common: Common::of(&view.public, &t, &name, &of_ladder(ladder)),
            name: term(&t, |w| &w.names.map),
            title: view.public.title.clone(),
            cautions,
            facts: facts(view, &t),
            wall: (width.mm(), height.mm()),
            border: view.border.mm(),
            rows: view.rows,
            columns: view.columns,
            missing: view.missing.clone(),
            one_to,
            ruler: ruler(one_to, real, parts, lead),
            width: length(width),
            height: length(height),
            legend: (unmapped > 0)
                .then(|| filled(&t, |w| &w.map.unmapped, &[("count", &unmapped.to_string())]))
                .into_iter()
                .collect(),
            front: Side {
                head: term(&t, |w| &w.map.front),
                mirrored: false,
                alt: alt(&lead.community.map.front),
                note: term(&t, |w| &w.map.numbers),
            },
            back: Side {
                head: term(&t, |w| &w.map.back),
                mirrored: true,
                alt: alt(&lead.community.map.back),
                note: term(&t, |w| &w.map.behind),
            },
        };
        self.set_of_many(
            &view.public,
            "squares-map",
            "/squares-map.typ",
            &data,
            ladder,
        )
    }
}

/// A mass in kilograms, told to ten grams; below one kilogram to the gram.
fn kg(value: f64, view: &MountView, w: &Words) -> String {
    let reading = Reading {
        text: String::new(),
        value: Mass::from_g(value * 1000.0),
        half_place: Mass::from_g(if value < 1.0 { 0.5 } else { 5.0 }),
    };
    figures::mass(&reading, view.public.measures, w)
}

fn facts(view: &MountView, t: &[&Words]) -> Vec<Said> {
    let measures = view.public.measures;
    let count = u64::from(view.rows) * u64::from(view.columns);
    let mut out = vec![
        filled(
            t,
            |w| &w.map.grid,
            &[
                ("rows", &view.rows.to_string()),
                ("columns", &view.columns.to_string()),
                ("count", &count.to_string()),
            ],
        ),
        term(t, |w| &w.map.numbers),
        Said::each(t, |w| {
            let size = view.public.extent.in_words(measures, w);
            fill(&w.community.map.wall, &[("size", &size)])
        }),
    ];
    let sized = |(width, height): (Length, Length), get: fn(&Words) -> &String| {
        Said::each(t, |w| {
            let (width, height) = (
                figures::length(width, measures, w),
                figures::length(height, measures, w),
            );
            fill(get(w), &[("height", &height), ("width", &width)])
        })
    };
    if let Some(reckoned) = view.reckoned {
        out.push(sized(reckoned, |w| &w.community.map.by_squares));
    }
    let inner =
        |l: Length, n: u32| Length::from_mm((l.mm() - 2.0 * view.border.mm()) / f64::from(n));
    let one = (
        inner(view.wall.0, view.columns),
        inner(view.wall.1, view.rows),
    );
    out.push(sized(one, |w| &w.community.map.each));
    if let Some((all, weighed, one)) = view.mass {
        out.push(Said::each(t, |w| {
            let pattern = if weighed {
                &w.community.map.mass
            } else {
                &w.community.map.mass_reckoned
            };
            let (all, one) = (kg(all, view, w), kg(one, view, w));
            fill(pattern, &[("mass", &all), ("one", &one)])
        }));
    }
    if let Some(load) = view.load {
        out.push(Said::each(t, |w| {
            let load = figures::short(figures::two_digits(load), w);
            fill(&w.community.map.load, &[("load", &load)])
        }));
    }
    out
}
