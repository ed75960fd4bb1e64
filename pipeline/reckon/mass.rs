//! What the piece should weigh from its yarns, and what the scale says.

use super::figure::Figure;
use super::ledger::Entry;
use super::printed::{printed, significant};
use super::size::Size;
use super::uncertain::Uncertain;
use super::web::Web;
use crate::quantity::{ArealMass, Length, Mass};
use crate::record::{Piece, Used, Weft};

/// Masses of the piece and its yarns.
#[derive(Debug, Clone, PartialEq)]
pub struct Masses {
    /// Warp inside the piece: ends × (woven + hems + tied ends) × tex.
    pub warp: Option<Figure<Mass>>,
    /// Warp strung on the loom: ends × warp length × tex.
    pub warp_strung: Option<Figure<Mass>>,
    /// Warp cut off as waste.
    pub thrums: Option<Figure<Mass>>,
    /// Each weft yarn in the order of the record.
    pub weft: Vec<WeftMass>,
    /// Each part in the order of the record, with its mass if given.
    pub parts: Vec<(String, Option<Figure<Mass>>)>,
    /// Warp, weft and parts together, where all are known.
    pub predicted: Option<Figure<Mass>>,
    /// The scale's reading.
    pub weighed: Option<Figure<Mass>>,
    /// Weighed less predicted.
    pub residual: Option<Figure<Mass>>,
    /// The best mass there is over the area.
    pub areal: Option<Figure<ArealMass>>,
    /// Yarns and parts whose mass is not known.
    pub unknown: Vec<String>,
    warp_worked: String,
}

/// One weft yarn's mass in the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct WeftMass {
    /// The yarn's name, or its number in the list.
    pub name: String,
    /// The mass, if the record tells.
    pub mass: Option<Figure<Mass>>,
    formula: &'static str,
    worked: String,
}

/// A nominal count and the true yarn differ: 3 % standard uncertainty is taken (common practice, no
/// source; ply twist alone shortens a yarn by one to four percent).
const COUNT_U: f64 = 0.03;
/// Weft that is used but ends up on the floor, in trimmed ends: 2 % of what was used is taken as the
/// standard uncertainty of what is in the piece (own rule).
const TRIMMED_U: f64 = 0.02;
/// Mass per area that is usual for a wall tapestry, g/m² (common practice, no source).
pub const USUAL_AREAL: std::ops::RangeInclusive<f64> = 800.0..=2000.0;

impl Masses {
    /// Reckons the masses.
    pub fn of(piece: &Piece, web: &Web, size: &Size) -> Masses {
        let warp = warp_mass(piece, web, web.end_in_piece.as_ref());
        let warp_strung = warp_mass(piece, web, web.end_strung.as_ref());
        let weft: Vec<WeftMass> = piece
            .weft
            .iter()
            .enumerate()
            .map(|(i, w)| weft_mass(i, w))
            .collect();
        let parts: Vec<(String, Option<Figure<Mass>>)> = piece
            .parts
            .iter()
            .map(|p| {
                let name = &p.name.value;
                let mass = p
                    .used
                    .as_ref()
                    .map(|u| Figure::read(&u.value, &format!("parts.{name}.used")));
                (name.clone(), mass)
            })
            .collect();
        let mut unknown = Vec::new();
        if warp.is_none() {
            unknown.push("warp".to_string());
        }
        let missing_weft = weft.iter().filter(|w| w.mass.is_none());
        unknown.extend(missing_weft.map(|w| w.name.clone()));
        let missing_parts = parts.iter().filter(|(_, mass)| mass.is_none());
        unknown.extend(missing_parts.map(|(name, _)| name.clone()));

        let predicted = unknown.is_empty().then(|| {
            let known = warp
                .iter()
                .chain(weft.iter().filter_map(|w| w.mass.as_ref()))
                .chain(parts.iter().filter_map(|(_, m)| m.as_ref()));
            let from: Vec<String> = known.clone().flat_map(|f| f.from.clone()).collect();
            let weft: f64 = weft
                .iter()
                .filter_map(|w| w.mass.as_ref())
                .map(|m| m.value.g())
                .sum();
            let trimmed = Uncertain::input(0.0, TRIMMED_U * weft, "weft, trimmed ends");
            let sum = &Uncertain::sum(known.map(Figure::number)) + &trimmed;
            Figure::new(sum, from)
        });
        let weighed = piece
            .measured
            .mass
            .as_ref()
            .map(|m| Figure::read(&m.value, "measured.mass"));
        let residual = predicted.as_ref().zip(weighed.as_ref()).map(|(p, w)| {
            let from = ["measured.mass".to_string()].into_iter();
            Figure::new(w.number() - p.number(), from.chain(p.from.clone()))
        });
        let areal = weighed.as_ref().or(predicted.as_ref()).and_then(|m| {
            let from = m.from.iter().chain(&size.area.from).cloned();
            (size.area.value.m2() > 0.0).then(|| Figure::new(m.number() / size.area.number(), from))
        });
        let thrums = warp_strung.as_ref().zip(warp.as_ref()).and_then(|(s, w)| {
            let from = s.from.iter().chain(&w.from).cloned();
            let waste: Figure<Mass> = Figure::new(s.number() - w.number(), from);
            (waste.value.g() >= 0.0).then_some(waste)
        });
        let tex = piece.warp.count.as_ref().map_or(0.0, |c| c.resultant.tex());
        let warp_worked = web.ends.as_ref().zip(web.end_in_piece.as_ref()).map_or(
            String::new(),
            |(ends, end)| {
                format!(
                    "{} × {} m × {} g/km / 1000",
                    significant(ends.value, 6),
                    significant(end.value.m(), 5),
                    significant(tex, 6)
                )
            },
        );
        Masses {
            thrums,
            warp,
            warp_strung,
            weft,
            parts,
            predicted,
            weighed,
            residual,
            areal,
            unknown,
            warp_worked,
        }
    }

    /// The mass to state: the scale's, else the prediction.
    pub fn stated(&self) -> Option<&Figure<Mass>> {
        self.weighed.as_ref().or(self.predicted.as_ref())
    }

    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let kg = |name: String, what: String, f: &Figure<Mass>| {
            Entry::uncertain(name, what, &f.number().times(0.001), "kg").from(f.from.clone())
        };
        let said = |f: &Figure<Mass>| printed(f.value.kg(), f.u.map(Mass::kg));
        let mut all = Vec::new();
        if let Some(warp) = &self.warp {
            all.push(
                kg("mass.warp".into(), "warp in the piece".into(), warp)
                    .by("ends × length of each in the piece × tex / 1000", format!("{} = {} g", self.warp_worked, significant(warp.value.g(), 5)))
                    .source("tex is g/km (ISO 1144); Brooks, Cotton Manufacturing, weight of a piece; 3 % for a nominal count (common practice, no source)"),
            );
        }
        if let Some(strung) = &self.warp_strung {
            all.push(
                kg(
                    "mass.warp-strung".into(),
                    "warp strung on the loom".into(),
                    strung,
                )
                .by("metres strung × tex / 1000", "")
                .source("tex is g/km (ISO 1144); Brooks, Cotton Manufacturing, weight of a piece"),
            );
        }
        if let (Some(thrums), Some(strung), Some(warp)) =
            (&self.thrums, &self.warp_strung, &self.warp)
        {
            all.push(
                kg(
                    "mass.thrums".into(),
                    "warp cut off as thrums".into(),
                    thrums,
                )
                .by(
                    "warp strung − warp in the piece",
                    format!("{} − {} kg", said(strung), said(warp)),
                )
                .source("mass balance"),
            );
        }
        for (i, weft) in self.weft.iter().enumerate() {
            if let Some(mass) = &weft.mass {
                all.push(
                    kg(
                        format!("mass.weft-{}", i + 1),
                        format!("{} in the piece", weft.name),
                        mass,
                    )
                    .by(weft.formula, weft.worked.clone())
                    .source("the weaver's scale, or tex (ISO 1144)"),
                );
            }
        }
        for (name, mass) in &self.parts {
            if let Some(mass) = mass {
                all.push(
                    kg(
                        format!("mass.part.{}", name.replace(' ', "-")),
                        name.clone(),
                        mass,
                    )
                    .by("as given", "")
                    .source("the record"),
                );
            }
        }
        if let Some(predicted) = &self.predicted {
            let terms: Vec<String> = self
                .warp
                .iter()
                .chain(self.weft.iter().filter_map(|w| w.mass.as_ref()))
                .chain(self.parts.iter().filter_map(|(_, m)| m.as_ref()))
                .map(|m| significant(m.value.g(), 5))
                .collect();
            all.push(
                kg(
                    "mass.predicted".into(),
                    "what warp, weft and parts together make".into(),
                    predicted,
                )
                .by(
                    "warp + every weft + every part",
                    format!(
                        "{} = {} g",
                        terms.join(" + "),
                        significant(predicted.value.g(), 5)
                    ),
                )
                .source("mass balance; 2 % of the weft for trimmed ends (own rule)"),
            );
        }
        if let Some(weighed) = &self.weighed {
            all.push(
                kg("mass.weighed".into(), "what the scale says".into(), weighed)
                    .by("as read", "")
                    .source("the reading; GUM (JCGM 100:2008), 4.3.7"),
            );
        }
        if let (Some(r), Some(w), Some(p)) = (&self.residual, &self.weighed, &self.predicted) {
            all.push(
                kg("mass.residual".into(), "scale less yarns".into(), r)
                    .by(
                        "weighed − predicted",
                        format!("{} − {} kg", said(w), said(p)),
                    )
                    .source("mass balance"),
            );
        }
        if let Some(areal) = &self.areal {
            let (least, most) = USUAL_AREAL.into_inner();
            all.push(
                Entry::uncertain("mass.per-area", "mass per area", areal.number(), "g/m2")
                    .by(
                        "mass / area",
                        format!("{least:.0} to {most:.0} g/m2 is usual for a wall tapestry"),
                    )
                    .source("definition; the usual range is common practice, no source")
                    .from(areal.from.clone()),
            );
        }
        if !self.unknown.is_empty() {
            all.push(
                Entry::words(
                    "mass.unknown",
                    "left out of the prediction: mass not known",
                    self.unknown.join(", "),
                )
                .source("the record"),
            );
        }
        all
    }
}

/// Ends × length × tex: tex is grams a kilometre (ISO 1144), so grams = ends × metres × tex / 1000.
fn warp_mass(piece: &Piece, web: &Web, end: Option<&Figure<Length>>) -> Option<Figure<Mass>> {
    let tex = piece.warp.count.as_ref()?.resultant.tex();
    let (ends, end) = (web.ends.as_ref()?, end?);
    let nominal = Uncertain::input(1.0, COUNT_U, "warp.count, nominal");
    let metres = &(ends * end.number()) * &nominal;
    let from = ["loom.ends", "warp.count"].map(str::to_string).into_iter();
    Some(Figure::new(
        // mm × g/km = 10⁻⁶ g.
        metres.times(tex * 1e-6),
        from.chain(end.from.clone()),
    ))
}

fn weft_mass(i: usize, weft: &Weft) -> WeftMass {
    let name = weft
        .name
        .as_ref()
        .map_or_else(|| format!("weft {}", i + 1), |n| n.value.clone());
    let field = format!("weft[{i}]");
    let (mass, formula, worked) = match &weft.used {
        None => (None, "", String::new()),
        Some(Used::Given(m)) => (
            Some(Figure::read(&m.value, &format!("{field}.used"))),
            "as given",
            String::new(),
        ),
        Some(Used::Weighed(s)) => {
            let before = Figure::read(&s.before.value, &format!("{field}.weighed.before"));
            let after = Figure::read(&s.after.value, &format!("{field}.weighed.after"));
            (
                Some(Figure::new(
                    before.number() - after.number(),
                    [format!("{field}.weighed")],
                )),
                "before − after",
                format!("{} − {}", s.before.value.text, s.after.value.text),
            )
        }
        Some(Used::Reeled(l)) => {
            let mass = weft.count.as_ref().map(|count| {
                let length = Figure::read(&l.value, &format!("{field}.used"));
                let nominal = Uncertain::input(1.0, COUNT_U, format!("{field}.count, nominal"));
                let grams = (length.number() * &nominal).times(count.resultant.tex() * 1e-6);
                Figure::new(grams, [format!("{field}.used"), format!("{field}.count")])
            });
            let tex = weft.count.as_ref().map_or(0.0, |c| c.resultant.tex());
            (
                mass,
                "length × tex / 1000",
                format!("{} × {} g/km", l.value.text, significant(tex, 6)),
            )
        }
    };
    WeftMass {
        name,
        mass,
        formula,
        worked,
    }
}
