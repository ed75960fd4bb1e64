//! The condition sheet's list of what the piece is and what tape and scale said. How it left the studio
//! stands in `leaving`.

use super::print::{sides_of, unit, weight};
use super::registrar::RegistrarView;
use crate::paper::common::made;
use crate::paper::dates;
use crate::paper::fibres;
use crate::paper::figures::{THIN, mass, short};
use crate::paper::said::{Fact, Said};
use crate::paper::words::{Words, fill};
use crate::quantity::{Length, Reading};
use crate::reckon::Uncertain;
use crate::record::Measures;

/// A word in each language.
pub(super) fn term(tongues: &[&Words], get: fn(&Words) -> &String) -> Said {
    Said::each(tongues, |w| get(w).clone())
}

/// A fact with a remark below it.
pub(super) fn noted(fact: Fact, note: Said) -> Fact {
    Fact {
        note: Some(note),
        ..fact
    }
}

/// What it is, and what it measures.
pub(super) fn identity(view: &RegistrarView, tongues: &[&Words]) -> Vec<Vec<Fact>> {
    vec![what(view, tongues), measured(view, tongues)]
}

fn what(view: &RegistrarView, tongues: &[&Words]) -> Vec<Fact> {
    let p = &view.public;
    let own = |get: fn(&Words) -> &String, value: &Option<String>| {
        value
            .as_ref()
            .map(|v| Fact::new(term(tongues, get), Said::own(v)))
    };
    let maker = match &p.makers {
        None => Fact::new(term(tongues, |w| &w.terms.maker), Said::own(&p.weaver)),
        Some(all) => Fact::new(
            term(tongues, |w| &w.terms.makers),
            Said::each(tongues, |w| {
                fill(&w.facts.made_by_many, &[("count", &all.count.to_string())])
            }),
        ),
    };
    let mut when = made(p, tongues);
    if let Some(place) = &p.place {
        when = when.then(Said::own(format!(", {place}")));
    }
    let content = fibres::sentence(p, tongues);
    let all = [
        Some(Fact::new(
            term(tongues, |w| &w.terms.object),
            term(tongues, |w| &w.facts.object),
        )),
        Some(maker),
        Some(Fact::new(term(tongues, |w| &w.terms.made), when)),
        own(|w| &w.terms.technique, &p.technique),
        (!content.is_empty()).then(|| Fact {
            term: term(tongues, |w| &w.terms.fibres),
            lines: content,
            note: None,
        }),
        fibres::lining(p, tongues).map(|v| Fact::new(term(tongues, |w| &w.terms.lining), v)),
        own(|w| &w.terms.inscription, &p.inscription),
    ];
    all.into_iter().flatten().collect()
}

/// One reading in the paper's unit, without it: centimetres with the places it was written with, or
/// inches to the nearest eighth.
fn reading(r: &Reading<Length>, measures: Measures, w: &Words) -> String {
    if measures == Measures::In {
        return super::print::bare(r.value.mm(), measures, w);
    }
    let places = match r.half_place.mm() {
        half if half >= 5.0 => 0,
        half if half >= 0.5 => 1,
        _ => 2,
    };
    crate::paper::figures::decimal(r.value.cm(), places, w)
}

/// Readings in their order: "120.6, 120.3, 120.2 cm, from left to right".
fn row(all: &[Reading<Length>], several: &str, measures: Measures, w: &Words) -> String {
    let one = |measures: Measures| {
        let each: Vec<String> = all.iter().map(|r| reading(r, measures, w)).collect();
        // A comma is a decimal mark in most languages.
        format!("{}{THIN}{}", each.join(" / "), unit(measures))
    };
    // An eighth of an inch is too coarse to compare with: the centimetres stand behind it.
    let figures = match measures {
        Measures::Cm => one(Measures::Cm),
        Measures::In => format!("{} ({})", one(Measures::In), one(Measures::Cm)),
        Measures::Both => format!("{} ({})", one(Measures::Cm), one(Measures::In)),
    };
    if all.len() < 2 {
        return figures;
    }
    fill(several, &[("readings", &figures)])
}

fn measured(view: &RegistrarView, tongues: &[&Words]) -> Vec<Fact> {
    let p = &view.public;
    let m = p.measures;
    let mut out = vec![
        Fact::new(
            term(tongues, |w| &w.drawn.condition.height),
            Said::each(tongues, |w| {
                row(&view.heights, &w.drawn.condition.heights, m, w)
            }),
        ),
        Fact::new(
            term(tongues, |w| &w.drawn.condition.width),
            Said::each(tongues, |w| {
                row(&view.widths, &w.drawn.condition.widths, m, w)
            }),
        ),
        Fact::new(
            term(tongues, |w| &w.drawn.condition.diagonals),
            Said::each(tongues, |w| match &view.diagonals {
                Some(both) => row(both, &w.drawn.condition.diagonals_said, m, w),
                None => w.drawn.condition.not_measured.clone(),
            }),
        ),
        Fact::new(
            term(tongues, |w| &w.drawn.condition.square),
            Said::each(tongues, |w| square(view, w)),
        ),
    ];
    if let Some(depth) = p.extent.depth {
        out.push(Fact::new(
            term(tongues, |w| &w.drawn.condition.thickness),
            Said::each(tongues, |w| super::print::thin(depth.length.mm(), w)),
        ));
    }
    let weighed = Fact::new(
        term(tongues, |w| &w.terms.mass),
        Said::each(tongues, |w| match (&p.mass, &view.mass) {
            (Some(weighed), _) => mass(weighed, m, w),
            (None, Some(kg)) => fill(
                &w.drawn.condition.not_weighed,
                &[("mass", &weight(kg, m, w))],
            ),
            (None, None) => w.drawn.condition.not_recorded.clone(),
        }),
    );
    out.push(match (&p.mass, &view.mass) {
        (Some(_), _) | (_, Some(_)) => {
            noted(weighed, term(tongues, |w| &w.drawn.condition.mass_moves))
        }
        _ => weighed,
    });
    out.push(Fact::new(
        term(tongues, |w| &w.terms.measured),
        when_measured(view, tongues),
    ));
    out
}

/// The day, by whom, and in what air.
fn when_measured(view: &RegistrarView, tongues: &[&Words]) -> Said {
    let p = &view.public;
    let air = |w: &Words| {
        let words = &w.drawn.condition;
        let warm = view.air.0.map(|t| format!("{}{THIN}°C", short(t, w)));
        let damp = view.air.1.map(|h| {
            fill(
                &words.humidity,
                &[("humidity", &format!("{}{THIN}%", short(h, w)))],
            )
        });
        let both: Vec<String> = [warm, damp].into_iter().flatten().collect();
        both.join(", ")
    };
    Said::each(tongues, |w| {
        let day = p.measured_on.map(|d| dates::day(d, w));
        let said = match (day, &p.measured_by) {
            (Some(day), Some(who)) => {
                Some(fill(&w.facts.measured, &[("date", &day), ("who", who)]))
            }
            (Some(day), None) => Some(day),
            (None, who) => who.clone(),
        };
        let air = Some(air(w)).filter(|a| !a.is_empty());
        let all: Vec<String> = [said, air].into_iter().flatten().collect();
        if all.is_empty() {
            w.drawn.condition.not_recorded.clone()
        } else {
            all.join(&w.join.semicolon)
        }
    })
}

/// How far out of square, and at which corner most.
fn square(view: &RegistrarView, w: &Words) -> String {
    let words = &w.drawn.condition;
    let (Some(lean), Some(corners)) = (&view.lean, &view.corners) else {
        return match view.diagonals {
            Some(_) => words.square_doubtful.clone(),
            None => words.square_unknown.clone(),
        };
    };
    let pattern = if lean.value < 0.0 {
        &words.leans_right
    } else {
        &words.leans_left
    };
    let far = Uncertain::exact(lean.value.abs());
    let text = crate::reckon::printed(far.value, Some(lean.u()));
    let mm = super::print::marked(&text, w);
    let names = [
        &words.top_left,
        &words.top_right,
        &words.lower_right,
        &words.lower_left,
    ];
    let all = names.into_iter().zip(angles(corners));
    let worst = all.reduce(|a, b| {
        if (b.1 - 90.0).abs() > (a.1 - 90.0).abs() {
            b
        } else {
            a
        }
    });
    let (corner, angle) = worst.map_or(("", 90.0), |(n, a)| (n.as_str(), a));
    let angle = crate::paper::figures::decimal(angle, 1, w);
    fill(
        pattern,
        &[
            ("lean", &format!("{mm}{THIN}mm")),
            ("corner", corner),
            ("angle", &angle),
        ],
    )
}

/// Inner angles, degrees, from the top left corner clockwise.
fn angles(corners: &[[f64; 2]; 4]) -> [f64; 4] {
    [0, 1, 2, 3].map(|i| {
        let (here, next, before) = (corners[i], corners[(i + 1) % 4], corners[(i + 3) % 4]);
        let (a, b) = (
            [next[0] - here[0], next[1] - here[1]],
            [before[0] - here[0], before[1] - here[1]],
        );
        libm::atan2((a[0] * b[1] - a[1] * b[0]).abs(), a[0] * b[0] + a[1] * b[1]).to_degrees()
    })
}

/// A square's side for the legend: "10 × 10 cm".
pub(super) fn square_of(step: f64, view: &RegistrarView, w: &Words) -> String {
    sides_of(step, view.public.measures, w)
}

/// Where the readings tell less than the outline shows, what was taken as so.
pub(super) fn assumption(view: &RegistrarView, w: &Words) -> String {
    let words = &w.drawn.condition;
    if view.is_rectangle() {
        words.as_rectangle.clone()
    } else if view.lean.is_none() {
        words.as_even.clone()
    } else {
        words.as_measured.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::words::Lexicon;

    #[test]
    fn a_reading_keeps_the_places_it_was_written_with() {
        let lexicon = Lexicon::new();
        let w = lexicon.choose(&[])[0];
        let say = |text: &str, m| reading(&Reading::parse(text).unwrap(), m, w);
        assert_eq!(say("96 cm", Measures::Cm), "96");
        assert_eq!(say("113.6 mm", Measures::Cm), "11.36");
        assert_eq!(say("114 mm", Measures::Cm), "11.4");
        assert_eq!(say("120.60 cm", Measures::Cm), "120.60");
        // Source, published: yard and pound agreement (1959): 1 in = 25.4 mm; 120.6 cm are 47.48 in.
        assert_eq!(say("120.6 cm", Measures::In), "47½");
    }

    #[test]
    fn a_corner_is_as_wide_as_it_is() {
        // Source, exact case: a rhombus with diagonals 6 and 8 has corners of 2 atan(3/4) and 2 atan(4/3).
        let rhombus = [[0.0, 300.0], [400.0, 0.0], [800.0, 300.0], [400.0, 600.0]];
        let found = angles(&rhombus);
        assert!((found[0] - 73.7398).abs() < 1e-4, "{found:?}");
        assert!((found[1] - 106.2602).abs() < 1e-4, "{found:?}");
    }
}
