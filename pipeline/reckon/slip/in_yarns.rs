//! Slips in the yarns: what was used of each, which are listed, what was weighed with them.

use super::candidate::{Candidate, Desk, Kind, LENGTHS, MASSES};
use super::facts::{Facts, grams, odd, tex, usual};
use crate::quantity::{Mass, Reading};
use crate::record::{Piece, Used};
use std::collections::BTreeMap;

impl Desk<'_> {
    pub(super) fn yarns(&mut self, piece: &Piece) {
        let each: Vec<Option<f64>> = piece
            .weft
            .iter()
            .map(|w| grams(w.used.as_ref()?, tex(&w.count)))
            .collect();
        let usual = usual(&each);
        let mut oddness: Vec<f64> = each.iter().flatten().map(|g| odd(*g, usual)).collect();
        oddness.sort_by(f64::total_cmp);
        let mut listed: BTreeMap<(String, String), usize> = BTreeMap::new();
        for (i, yarn) in piece.weft.iter().enumerate() {
            let name = yarn
                .name
                .as_ref()
                .map_or_else(|| format!("weft {}", i + 1), |n| n.value.clone());
            let Some(used) = &yarn.used else { continue };
            let tex_now = tex(&yarn.count);
            let now = grams(used, tex_now);
            let put = |f: &mut Facts, g: f64| {
                if let (Some(weft), Some(now)) = (f.weft, now) {
                    f.weft = Some(weft - now + g);
                    // The oddest of the others, or this one as it would be.
                    let own = odd(now, usual);
                    let (oddest, next) = match oddness.as_slice() {
                        [.., next, oddest] => (*oddest, *next),
                        [oddest] => (*oddest, 0.0),
                        [] => (0.0, 0.0),
                    };
                    let others = if own >= oddest { next } else { oddest };
                    f.oddest = others.max(odd(g, usual));
                    f.negative = f.negative + u32::from(g <= 0.0) - u32::from(now <= 0.0);
                }
            };
            let field = format!("weft[{i}].used");
            let label = format!("`used` of {name}");
            match used {
                Used::Given(r) => {
                    self.reading(&field, &label, r, MASSES, |f, v| put(f, v.v));
                }
                Used::Reeled(r) => {
                    let grams = |mm: f64| mm * tex_now.unwrap_or(0.0) * 1e-6;
                    self.reading(&field, &label, r, LENGTHS, |f, v| put(f, grams(v.v)));
                    if let Some(count) = &yarn.count {
                        let mm = r.value.value.mm();
                        let field = format!("weft[{i}].count");
                        let label = format!("the `count` of {name}");
                        self.count(&field, &label, count, |f, tex| put(f, mm * tex * 1e-6));
                    }
                }
                Used::Weighed(s) => {
                    let (before, after) = (s.before.value.value.g(), s.after.value.value.g());
                    let field = format!("weft[{i}].weighed");
                    let label = format!("`before` of {name}");
                    self.reading(
                        &format!("{field}.before"),
                        &label,
                        &s.before,
                        MASSES,
                        |f, v| {
                            put(f, v.v - after);
                        },
                    );
                    let label = format!("`after` of {name}");
                    self.reading(
                        &format!("{field}.after"),
                        &label,
                        &s.after,
                        MASSES,
                        |f, v| {
                            put(f, before - v.v);
                        },
                    );
                    let mut facts = self.facts.clone();
                    put(&mut facts, after - before);
                    let words = format!("`before` and `after` of {name} have changed places");
                    self.add(Kind::BeforeAfter, &field, &s.before.place, words, facts);
                }
            }
            // The same name or the same figure once more.
            let figure = match used {
                Used::Given(r) => r.value.text.clone(),
                Used::Reeled(r) => r.value.text.clone(),
                Used::Weighed(s) => format!("{} {}", s.before.value.text, s.after.value.text),
            };
            let key = (name.to_lowercase(), figure);
            let seen = listed.entry(key).or_insert(0);
            *seen += 1;
            if *seen > 1 {
                let mut facts = self.facts.clone();
                if let (Some(weft), Some(now)) = (facts.weft, now) {
                    facts.weft = Some(weft - now);
                }
                let words = format!("{name} is listed twice and was used once");
                self.add(
                    Kind::Twice,
                    &format!("weft[{i}]"),
                    &yarn.place,
                    words,
                    facts,
                );
            }
        }
    }

    /// Slips that leave a figure open: it is taken as what the scale wants, and counts as the less
    /// likely the more unusual it is.
    pub(super) fn open(&mut self, piece: &Piece) {
        let (Some(predicted), Some(mass)) = (self.facts.predicted(), self.facts.mass) else {
            return;
        };
        let wanted = mass.v - predicted;
        let doubt = 0.022 * mass.v;
        let known: Vec<f64> = piece
            .weft
            .iter()
            .filter_map(|w| grams(w.used.as_ref()?, tex(&w.count)))
            .filter(|g| *g > 0.0)
            .collect();
        let (Some(weft), false) = (self.facts.weft, known.is_empty()) else {
            return;
        };
        let open = |x: f64, usual: f64, spread: f64| {
            let z = libm::log(x / usual) / spread;
            // A lognormal figure, taken over the width that the scale's doubt leaves it.
            -z * z / 2.0 + libm::log(doubt / (x * spread))
        };
        if wanted > 0.0 {
            let usual = weft / known.len() as f64;
            let mut facts = self.facts.clone();
            facts.weft = Some(weft + wanted);
            self.found.push(Candidate {
                kind: Kind::LeftOut,
                field: "weft".to_string(),
                place: piece.weft.first().map_or(&self.file, |w| &w.place).clone(),
                words: format!("a yarn of about {} is not listed", about(wanted)),
                facts,
                value: None,
                open: open(wanted, usual, 0.8),
            });
        } else if wanted < 0.0 {
            // Cones and tubes weigh some ten to two hundred grams (common practice, no source).
            let mut facts = self.facts.clone();
            facts.weft = Some(weft + wanted);
            let heavy = known.iter().any(|g| *g > -wanted);
            if heavy {
                self.found.push(Candidate {
                    kind: Kind::Cone,
                    field: "weft".to_string(),
                    place: piece.weft.first().map_or(&self.file, |w| &w.place).clone(),
                    words: format!(
                        "a cone of about {} was weighed with its yarn and not taken off",
                        about(-wanted)
                    ),
                    facts,
                    value: None,
                    open: open(-wanted, 90.0, 0.7),
                });
            }
        }
    }
}

fn about(g: f64) -> String {
    Reading::<Mass>::parse(&format!("{:.0} g", (g / 10.0).round().max(1.0) * 10.0))
        .map_or(String::new(), |r| r.text)
}
