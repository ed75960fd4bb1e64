//! Every single slip there may be in a record: what was mistaken, where, and the figures without it.

use super::facts::{Facts, Value, grams, odd, tex, usual};
use super::rewriting::{Pen, others, transposed};
use crate::quantity::{Dimension, Length, Mass, Reading, YarnCount};
use crate::record::{At, Piece, Place, Used};
use std::collections::BTreeMap;

/// A kind of slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Centimetres for inches, grams for ounces, ends a centimetre for ends an inch.
    Unit,
    /// The wrong count system.
    CountSystem,
    /// Plies passed over or forgotten.
    Plies,
    /// Two neighbouring digits changed places.
    Digits,
    /// The decimal point is one place off.
    Point,
    /// Height and width changed places.
    HeightWidth,
    /// The wrong edge is said to be the top.
    Top,
    /// Hems counted in where they should not be.
    Hems,
    /// The weight before and the weight after changed places.
    BeforeAfter,
    /// A yarn is not listed.
    LeftOut,
    /// A yarn is listed twice.
    Twice,
    /// The cone was weighed with the yarn.
    Cone,
}

/// One slip, and the figures as they would be without it.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    pub kind: Kind,
    /// The field, such as `measured.mass`.
    pub field: String,
    pub place: Place,
    /// "`mass` is `4.31 lb` and not `4.31 kg`".
    pub words: String,
    pub facts: Facts,
    /// The figure without the slip, where it is one figure.
    pub value: Option<f64>,
    /// Where the slip leaves a figure open: the logarithm of how likely the figure is that would fit.
    pub open: f64,
}

const LENGTHS: &[&str] = &["mm", "cm", "m", "in"];
const MASSES: &[&str] = &["g", "kg", "oz", "lb"];
const SETTS: &[&str] = &["ends/cm", "epi"];

/// All of them.
pub(super) fn all(piece: &Piece, facts: &Facts) -> Vec<Candidate> {
    let mut desk = Desk {
        facts,
        found: Vec::new(),
        file: piece.place.clone(),
    };
    desk.loom(piece);
    desk.measured(piece);
    desk.yarns(piece);
    desk.open(piece);
    desk.found
}

struct Desk<'a> {
    facts: &'a Facts,
    found: Vec<Candidate>,
    file: Place,
}

impl Desk<'_> {
    fn add(&mut self, kind: Kind, field: &str, place: &Place, words: String, facts: Facts) {
        self.found.push(Candidate {
            kind,
            field: field.to_string(),
            place: place.clone(),
            words,
            facts,
            value: None,
            open: 0.0,
        });
    }

    fn valued(&mut self, value: f64) {
        if let Some(last) = self.found.last_mut() {
            last.value = Some(value);
        }
    }

    /// The slips of the pen in one reading; `put` puts the other value into the figures.
    fn reading<D: Dimension>(
        &mut self,
        field: &str,
        label: &str,
        reading: &At<Reading<D>>,
        units: &[&str],
        put: impl Fn(&mut Facts, Value),
    ) {
        for (pen, other) in others(&reading.value, units) {
            let kind = match pen {
                Pen::Unit => Kind::Unit,
                Pen::Digits => Kind::Digits,
                Pen::Point => Kind::Point,
            };
            let mut facts = self.facts.clone();
            put(&mut facts, Value::of(&other));
            let words = format!(
                "{label} is `{}` and not `{}`",
                other.text, reading.value.text
            );
            self.add(kind, field, &reading.place, words, facts);
            self.valued(other.value.base());
        }
    }

    fn count(
        &mut self,
        field: &str,
        label: &str,
        count: &At<YarnCount>,
        put: impl Fn(&mut Facts, f64),
    ) {
        let systems = count.value.in_other_systems().into_iter();
        let plies = count.value.with_other_plies().into_iter();
        let kinds = systems
            .map(|c| (Kind::CountSystem, c))
            .chain(plies.map(|c| (Kind::Plies, c)));
        for (kind, other) in kinds {
            let mut facts = self.facts.clone();
            put(&mut facts, other.resultant.tex());
            let words = format!("{label} is `{}` and not `{}`", other.text, count.value.text);
            self.add(kind, field, &count.place, words, facts);
            self.valued(other.resultant.tex());
        }
        // tex for dtex, and the other way round.
        let text = &count.value.text;
        let swapped = if text.contains("dtex") {
            text.replacen("dtex", "tex", 1)
        } else if text.contains("tex") && !text.contains("ktex") {
            text.replacen("tex", "dtex", 1)
        } else {
            return;
        };
        if let Ok(other) = YarnCount::parse(&swapped) {
            let mut facts = self.facts.clone();
            put(&mut facts, other.resultant.tex());
            let words = format!("{label} is `{swapped}` and not `{text}`");
            self.add(Kind::Unit, field, &count.place, words, facts);
        }
    }

    fn loom(&mut self, piece: &Piece) {
        let l = &piece.loom;
        if let Some(r) = &l.sett {
            self.reading("loom.sett", "`sett`", r, SETTS, |f, v| {
                f.sett = Some(Value {
                    v: v.v / 1000.0,
                    u: v.u,
                });
            });
        }
        if let Some(ends) = &l.ends {
            for text in transposed(&ends.value.to_string()) {
                if let Ok(n) = text.parse::<f64>() {
                    let mut facts = self.facts.clone();
                    facts.ends = Some(Value::exact(n));
                    let words = format!("`ends` is `{text}` and not `{}`", ends.value);
                    self.add(Kind::Digits, "loom.ends", &ends.place, words, facts);
                }
            }
            for n in [ends.value * 10, ends.value / 10] {
                if n > 0 && (n > ends.value || ends.value % 10 == 0) {
                    let mut facts = self.facts.clone();
                    facts.ends = Some(Value::exact(f64::from(n)));
                    let words = format!("`ends` is `{n}` and not `{}`", ends.value);
                    self.add(Kind::Point, "loom.ends", &ends.place, words, facts);
                }
            }
        }
        if let Some(r) = &l.width {
            self.reading("loom.width", "the loom's `width`", r, LENGTHS, |f, v| {
                f.loom_width = Some(v);
            });
        }
        if let Some(r) = &l.woven {
            self.reading("loom.woven", "`woven`", r, LENGTHS, |f, v| {
                f.woven = Some(v)
            });
            let hems = self.facts.both_hems();
            if hems > 0.0 {
                let mut facts = self.facts.clone();
                facts.woven = facts.woven.map(|w| Value {
                    v: w.v - hems,
                    u: w.u,
                });
                let words = format!(
                    "`woven`, `{}`, counts the hems and should not",
                    r.value.text
                );
                self.add(Kind::Hems, "loom.woven", &r.place, words, facts);
            }
        }
        if let Some(r) = &l.warp_length {
            self.reading("loom.warp_length", "`warp_length`", r, LENGTHS, |f, v| {
                f.warp_length = Some(v);
            });
        }
        if let Some(hems) = &l.hems {
            let hems = [(&hems.start, "start"), (&hems.finish, "finish")];
            for (i, (hem, name)) in hems.into_iter().enumerate() {
                if let Some(r) = hem {
                    let label = format!("the hem at the {name}");
                    let field = format!("loom.hems.{name}");
                    self.reading(&field, &label, r, LENGTHS, |f, v| f.hems[i] = Some(v));
                }
            }
        }
        if let Some(count) = &piece.warp.count {
            self.count("warp.count", "the warp's `count`", count, |f, tex| {
                f.warp_tex = Some(Value::exact(tex));
            });
        }
        let last = piece
            .notes
            .entries
            .iter()
            .filter_map(|n| n.height.as_ref())
            .max_by(|a, b| a.value.value.mm().total_cmp(&b.value.value.mm()));
        if let Some(last) = last {
            self.reading(
                "notes.height",
                "the last height noted",
                last,
                LENGTHS,
                |f, v| {
                    f.last_height = Some(v);
                },
            );
        }
    }

    fn measured(&mut self, piece: &Piece) {
        let m = &piece.measured;
        let lists: [(
            &str,
            &Vec<At<Reading<Length>>>,
            fn(&mut Facts) -> &mut Vec<Value>,
        ); 2] = [
            ("height", &m.height, |f| &mut f.heights),
            ("width", &m.width, |f| &mut f.widths),
        ];
        for (name, readings, list) in lists {
            for (i, r) in readings.iter().enumerate() {
                let field = format!("measured.{name}[{i}]");
                let label = if readings.len() == 1 {
                    format!("the measured `{name}`")
                } else {
                    format!("`{name}` number {}", i + 1)
                };
                self.reading(&field, &label, r, LENGTHS, |f, v| list(f)[i] = v);
            }
            // A whole list written in the wrong unit.
            if readings.len() > 1 {
                for unit in LENGTHS {
                    let whole: Option<Vec<Value>> = readings
                        .iter()
                        .map(|r| {
                            let all = others(&r.value, &[unit]);
                            all.iter()
                                .find(|(pen, _)| *pen == Pen::Unit)
                                .map(|(_, r)| Value::of(r))
                        })
                        .collect();
                    if let (Some(whole), Some(first)) = (whole, readings.first()) {
                        let mut facts = self.facts.clone();
                        *list(&mut facts) = whole;
                        let words = format!("every `{name}` is in {unit}");
                        let field = format!("measured.{name}");
                        self.add(Kind::Unit, &field, &first.place, words, facts);
                    }
                }
            }
        }
        if let Some(diagonals) = &m.diagonals {
            for (i, r) in diagonals.iter().enumerate() {
                let label = format!("diagonal number {}", i + 1);
                self.reading(
                    &format!("measured.diagonals[{i}]"),
                    &label,
                    r,
                    LENGTHS,
                    |f, v| {
                        if let Some(d) = &mut f.diagonals {
                            d[i] = v;
                        }
                    },
                );
            }
        }
        if let Some(r) = &m.thickness {
            self.reading("measured.thickness", "`thickness`", r, LENGTHS, |f, v| {
                f.thickness = Some(v);
            });
        }
        if let Some(r) = &m.mass {
            self.reading("measured.mass", "`mass`", r, MASSES, |f, v| {
                f.mass = Some(v)
            });
        }
        if let Some(first) = m.height.first() {
            let mut facts = self.facts.clone();
            std::mem::swap(&mut facts.heights, &mut facts.widths);
            let words = "the measured `height` and `width` have changed places".to_string();
            self.add(Kind::HeightWidth, "measured", &first.place, words, facts);
            // The hem measured with the face, along the warp.
            let hems = self.facts.both_hems();
            if hems > 0.0 {
                let mut facts = self.facts.clone();
                let (list, name) = if facts.sideways {
                    (&mut facts.widths, "width")
                } else {
                    (&mut facts.heights, "height")
                };
                for reading in list.iter_mut() {
                    reading.v -= hems;
                }
                let words = format!("the measured `{name}` counts the hems and should not");
                let field = format!("measured.{name}");
                self.add(Kind::Hems, &field, &first.place, words, facts);
            }
        }
        let mut facts = self.facts.clone();
        facts.sideways = !facts.sideways;
        let place = piece.top.as_ref().map_or(&self.file, |t| &t.place).clone();
        let words = if self.facts.sideways {
            "`top` is `finish` or `start`: it hangs as it was woven"
        } else {
            "`top` is `left` or `right`: it hangs on its side"
        };
        self.add(Kind::Top, "top", &place, words.to_string(), facts);
    }

    fn yarns(&mut self, piece: &Piece) {
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
    fn open(&mut self, piece: &Piece) {
        let (Some(predicted), Some(mass)) = (self.facts.predicted(), self.facts.mass) else {
            return;
        };
        let wanted = mass.v / 0.99 - predicted;
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
