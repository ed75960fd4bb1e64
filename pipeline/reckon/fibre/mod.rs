//! Fibre content by mass, as each rule set wants it stated.
//!
//! Masses come from the weighing of the yarns; the law's moisture is put on them in `mixture`, its
//! lines and names are in `law`, what it asks and does not ask in `advice`, and the ledger in
//! `entries`. The figures are reckoned from yarn, not analysed in a laboratory, and are stated so: as
//! information, never as legal advice.

mod advice;
mod allowance;
mod entries;
mod law;
mod mixture;
mod moisture;
mod parts;
mod rounding;
#[cfg(test)]
mod tests;
mod words;

pub(super) use entries::required;
pub use rounding::largest_remainder;

use super::mass::Masses;
use super::uncertain::Uncertain;
use crate::quantity::Dimension;
use crate::record::{Piece, RuleSet, Used, WarpCounts, fibre_named};
use law::{HAIR, Lines};
use mixture::{Mixture, Portion, YarnIn};
use parts::Component;

/// What has no name of its own in the law.
const OTHER: &str = "other fibres";

/// Fibre content under one rule set.
#[derive(Debug, Clone, PartialEq)]
pub struct FibreContent {
    /// The rule set.
    pub rule: RuleSet,
    /// The law it is stated under.
    pub basis: &'static str,
    /// The face first, then each component that must be stated for itself (article 11).
    pub sections: Vec<Section>,
    /// Decorative yarn, if there is any.
    pub ornament: Option<Ornament>,
    /// Parts that are no textile and come from an animal (article 12), by name.
    pub animal_parts: Vec<String>,
    /// What became of the wish to call wool virgin; `None` where nobody wrote it, and under rule sets
    /// that are not European.
    pub virgin_wool: Option<Result<(), &'static str>>,
    /// The share of flax in percent where the warp is pure cotton and the weft pure flax (article 9(3)).
    pub cotton_linen: Option<f64>,
    /// Whether the label leaves the covered warp out, as the weaver chose (Annex VII (d)).
    pub warp_left_out: bool,
    /// The face with the other reading of Annex VII (d); the European rule sets alone know it.
    pub other_reading: Option<Section>,
    /// Whether wool of any kind is in the piece, as the United States mean it.
    pub wool: bool,
    components: Vec<Component>,
    weighed_in_air: Vec<(String, f64)>,
    /// Fibres that were weighed in air of a stated humidity, each with it once.
    held: Vec<(&'static str, f64)>,
    at_allowance: Vec<String>,
}

/// One component with a composition of its own (article 11).
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// `None` for the woven face, else the part's name.
    pub part: Option<String>,
    /// Lines in the order they are to be stated.
    pub lines: Vec<FibreLine>,
    /// Whether every yarn's fibre and mass was known. If not, no percentages are stated.
    pub complete: bool,
    /// What was not known.
    pub unknown: Vec<String>,
    portions: Vec<Portion>,
}

/// One fibre of a section.
#[derive(Debug, Clone, PartialEq)]
pub struct FibreLine {
    /// The permitted name in English, or `None` for "other fibres".
    pub fibre: Option<&'static str>,
    /// Its share.
    pub percent: Option<Percent>,
    /// For "other fibres": which they are.
    pub gathered: Vec<&'static str>,
}

/// A share of the mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Percent {
    /// Whole percents, as stated; a section's add up to 100.
    pub whole: u32,
    /// Before rounding.
    pub exact: f64,
}

/// Decorative yarn under one rule set.
#[derive(Debug, Clone, PartialEq)]
pub struct Ornament {
    /// The yarns, by name.
    pub yarns: Vec<String>,
    /// Its share in percent: of the finished product in the Union (article 10(1)), of the fibre of the
    /// face elsewhere. `None` where its mass is not known.
    pub share: Option<Uncertain>,
    /// The most that may be left out, percent.
    pub limit: f64,
    /// Whether it is left out of the composition.
    pub left_out: bool,
}

impl FibreContent {
    /// Reckons the content of a piece under one rule set.
    pub fn of(piece: &Piece, masses: &Masses, rule: RuleSet) -> FibreContent {
        let yarns = yarns(piece, masses);
        let all = Mixture::of(&yarns, rule);
        let ornament = Ornament::of(&yarns, &all, masses, rule);
        let bare = ornament.as_ref().is_some_and(|o| o.left_out);
        let european = law::european(rule);
        let warp_left_out = european
            && piece
                .label
                .warp
                .as_ref()
                .is_some_and(|w| w.value == WarpCounts::LeftOut);
        let face = |without_warp: bool| {
            let counted: Vec<&YarnIn> = yarns
                .iter()
                .filter(|y| !(y.warp && without_warp || y.decorative && bare))
                .collect();
            let union = union_of(&counted);
            let mixture = Mixture::of(counted, rule);
            (Section::of(None, mixture, rule, union), union)
        };
        let ((main, virgin_wool), union) = face(warp_left_out);
        let cotton_linen = main
            .share_of("flax")
            .filter(|_| union && european && !warp_left_out);
        let other_reading = european.then(|| face(!warp_left_out).0.0);
        let mut sections = vec![main];
        let components = parts::components(piece, masses, &all);
        for component in components.iter().filter(|c| c.stated) {
            let part = component.mixture(piece, masses, rule);
            sections.push(Section::of(Some(component.name.clone()), part, rule, false).0);
        }
        let animal = piece
            .parts
            .iter()
            .filter(|p| p.animal_origin.as_ref().is_some_and(|a| a.value));
        let (weighed, plain): (Vec<&YarnIn>, Vec<&YarnIn>) = yarns
            .iter()
            .filter(|y| y.mass.is_some())
            .partition(|y| y.humidity.is_some());
        let mut held: Vec<(&'static str, f64)> = Vec::new();
        for yarn in &weighed {
            let fibres = yarn.shares.iter().filter_map(|s| fibre_named(&s.fibre));
            for pair in fibres.zip(std::iter::repeat(yarn.humidity.unwrap_or(0.0))) {
                let pair = (pair.0.name, pair.1);
                if !held.contains(&pair) {
                    held.push(pair);
                }
            }
        }
        FibreContent {
            rule,
            held,
            basis: law::basis(rule),
            ornament,
            animal_parts: animal.map(|p| p.name.value.clone()).collect(),
            virgin_wool,
            cotton_linen,
            warp_left_out,
            other_reading,
            wool: all.wool() || parts::wool(piece, rule),
            components,
            weighed_in_air: weighed
                .into_iter()
                .filter_map(|y| Some((y.name.clone(), y.humidity?)))
                .collect(),
            at_allowance: plain.into_iter().map(|y| y.name.clone()).collect(),
            sections,
        }
    }

    /// Whether the words "exclusive of ornamentation" must stand with the composition: in the United
    /// States (16 CFR 300.16 and 303.26) and Canada, where decoration is left out. The Union leaves it
    /// out in silence (article 10(1)).
    pub fn exclusive_of_ornament(&self) -> bool {
        !law::european(self.rule) && self.ornament.as_ref().is_some_and(|o| o.left_out)
    }

    /// Whether the label must say that there are non-textile parts of animal origin (article 12).
    pub fn says_animal_parts(&self) -> bool {
        law::european(self.rule) && !self.animal_parts.is_empty()
    }
}

/// Warp and weft in the order of the record.
fn yarns<'a>(piece: &'a Piece, masses: &'a Masses) -> Vec<YarnIn<'a>> {
    let mut out = vec![YarnIn {
        name: "warp".to_string(),
        shares: &piece.warp.fibre,
        mass: masses.warp.as_ref().map(|f| f.number()),
        humidity: None,
        decorative: false,
        warp: true,
    }];
    for (yarn, weft) in piece.weft.iter().zip(&masses.weft) {
        // Beyond nine tenths nothing is known of what yarn holds; then it counts as without humidity.
        // What was reeled off by length has the mass of its count, not of a scale in that air.
        let on_a_scale = !matches!(yarn.used, Some(Used::Reeled(_)));
        let humidity = yarn.humidity.as_ref().filter(|_| on_a_scale);
        out.push(YarnIn {
            name: weft.name.clone(),
            shares: &yarn.fibre,
            mass: weft.mass.as_ref().map(|f| f.number()),
            humidity: humidity
                .map(|h| h.value.value.base())
                .filter(|h| *h <= 90.0),
            decorative: yarn.decorative.as_ref().is_some_and(|d| d.value),
            warp: false,
        });
    }
    out
}

/// Whether the warp is pure cotton and every weft yarn pure flax (article 9(3)).
fn union_of(yarns: &[&YarnIn]) -> bool {
    let pure = |yarn: &YarnIn, names: &[&str]| {
        let mut held = yarn.shares.iter().filter(|s| s.percent.value > 0.0);
        let only = held.next().and_then(|s| fibre_named(&s.fibre));
        held.next().is_none() && only.is_some_and(|f| names.contains(&f.name))
    };
    yarns.iter().any(|y| y.warp)
        && yarns.len() > 1
        && yarns.iter().all(|y| match y.warp {
            true => pure(y, &["cotton"]),
            false => pure(y, &["flax", "linen"]),
        })
}

impl Ornament {
    fn of(yarns: &[YarnIn], all: &Mixture, masses: &Masses, rule: RuleSet) -> Option<Ornament> {
        let (ornament, ground): (Vec<&YarnIn>, Vec<&YarnIn>) =
            yarns.iter().partition(|y| y.decorative);
        if ornament.is_empty() {
            return None;
        }
        let (limit, even) = law::ornament_limit(rule);
        let mixture = Mixture::of(ornament.iter().copied(), rule);
        // Where other masses are not known the whole is larger than what is known of it, so the share
        // stands too high: the cautious side.
        let share = mixture.complete().then(|| {
            let part = Uncertain::sum(mixture.portions.iter().map(|p| &p.legal));
            let mut whole: Vec<&Uncertain> = all.portions.iter().map(|p| &p.legal).collect();
            if law::european(rule) {
                let parts = masses.parts.iter().filter_map(|(_, m)| m.as_ref());
                whole.extend(parts.map(|m| m.number()));
            }
            (&part / &Uncertain::sum(whole)).times(100.0)
        });
        let within = |x: f64| {
            if even {
                x <= limit + HAIR
            } else {
                x + HAIR < limit
            }
        };
        Some(Ornament {
            yarns: ornament.iter().map(|y| y.name.clone()).collect(),
            left_out: !ground.iter().all(|y| y.warp)
                && share.as_ref().is_some_and(|s| within(s.value)),
            share,
            limit,
        })
    }
}

impl Section {
    /// States a mixture, with what became of virgin wool.
    fn of(
        part: Option<String>,
        mut mixture: Mixture,
        rule: RuleSet,
        union: bool,
    ) -> (Section, Option<Result<(), &'static str>>) {
        let virgin = words::virgin_wool(&mixture, rule);
        let crossing = Lines {
            virgin: mixture.virgin.written,
            union,
        };
        let complete = mixture.complete();
        let mut lines = if complete {
            let shares: Vec<(&'static str, f64)> = mixture
                .portions
                .iter()
                .filter_map(|p| Some((p.name, p.share.as_ref()?.value)))
                .filter(|(_, share)| *share > 0.0)
                .collect();
            law::stated(&shares, rule, crossing)
        } else {
            // Where masses alone are missing, one single fibre is all of it all the same.
            let only = mixture.portions.len() == 1 && !mixture.unknown_fibre;
            let percent = only.then_some(Percent {
                whole: 100,
                exact: 100.0,
            });
            let line = |p: &Portion| FibreLine {
                fibre: (p.name != OTHER).then_some(p.name),
                percent,
                gathered: if p.name == OTHER {
                    vec![OTHER]
                } else {
                    Vec::new()
                },
            };
            mixture.portions.iter().map(line).collect()
        };
        if virgin == Some(Ok(())) {
            let wool = |name: &mut &'static str| {
                if *name == "wool" {
                    *name = "virgin wool";
                }
            };
            lines
                .iter_mut()
                .filter_map(|l| l.fibre.as_mut())
                .for_each(wool);
            mixture.portions.iter_mut().for_each(|p| wool(&mut p.name));
        }
        let section = Section {
            part,
            lines,
            complete,
            unknown: mixture.unknown,
            portions: mixture.portions,
        };
        (section, virgin)
    }

    /// A fibre's exact share in percent.
    fn share_of(&self, name: &str) -> Option<f64> {
        let portion = self.portions.iter().find(|p| p.name == name)?;
        portion.share.as_ref().map(|s| s.value)
    }
}
