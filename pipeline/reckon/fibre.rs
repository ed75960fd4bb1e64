//! Fibre content by mass, as the chosen rule set wants it stated.
//!
//! Each yarn's declared shares are taken by mass with the agreed allowances already in them, as a
//! yarn's own label has them, and the yarns as weighed at their agreed allowance (Regulation (EU)
//! No 1007/2011, article 19(3) and Annex IX); masses then add without conversion. The figures are
//! reckoned from yarn, not analysed in a laboratory, and are stated so.

use super::mass::Masses;
use crate::quantity::Mass;
use crate::record::{Piece, RuleSet, Share, fibre_named};

/// Fibre content under one rule set.
#[derive(Debug, Clone, PartialEq)]
pub struct FibreContent {
    /// The rule set.
    pub rule: RuleSet,
    /// The law it is stated under.
    pub basis: &'static str,
    /// The face first, then a lining if there is one.
    pub sections: Vec<Section>,
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
}

/// One fibre of a section.
#[derive(Debug, Clone, PartialEq)]
pub struct FibreLine {
    /// The permitted name in English, or `None` for "other fibres".
    pub fibre: Option<&'static str>,
    /// Its share.
    pub percent: Option<Percent>,
}

/// A share of the mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Percent {
    /// Whole percents, as stated; a section's add up to 100.
    pub whole: u32,
    /// Before rounding.
    pub exact: f64,
}

impl FibreContent {
    /// Reckons the content of a piece under one rule set.
    pub fn of(piece: &Piece, masses: &Masses, rule: RuleSet) -> FibreContent {
        let mut face = Mixture::default();
        face.add(
            "warp",
            &piece.warp.fibre,
            masses.warp.as_ref().map(|f| f.value),
        );
        for (yarn, weft) in piece.weft.iter().zip(&masses.weft) {
            face.add(&weft.name, &yarn.fibre, weft.mass.as_ref().map(|f| f.value));
        }
        let mut sections = vec![face.section(None, rule)];
        for (part, (name, mass)) in piece.parts.iter().zip(&masses.parts) {
            // A heading is an accessory and is left out (Annex VII); a lining is a component.
            if part.name.value == "lining" && !part.fibre.is_empty() {
                let mut lining = Mixture::default();
                // Its own shares need no mass of the whole.
                let mass = mass.as_ref().map_or(Mass::from_g(1.0), |m| m.value);
                lining.add(name, &part.fibre, Some(mass));
                sections.push(lining.section(Some(name.clone()), rule));
            }
        }
        FibreContent {
            rule,
            basis: match rule {
                RuleSet::Eu => "Regulation (EU) No 1007/2011",
                RuleSet::Uk => {
                    "Textile Products (Labelling and Fibre Composition) Regulations 2012"
                }
                RuleSet::Us => "15 USC 68b and 16 CFR 303",
                RuleSet::Ca => "Textile Labelling and Advertising Regulations, C.R.C., c. 1551",
            },
            sections,
        }
    }
}

#[derive(Default)]
struct Mixture {
    /// Grams by fibre, in order of first appearance.
    grams: Vec<(&'static str, f64)>,
    unknown: Vec<String>,
    /// Whether a yarn's fibre, not only its mass, is not known.
    unknown_fibre: bool,
}

impl Mixture {
    fn add(&mut self, name: &str, shares: &[Share], mass: Option<Mass>) {
        let total: f64 = shares.iter().map(|s| s.percent.value).sum();
        if mass.is_none() || shares.is_empty() || total <= 0.0 {
            self.unknown.push(name.to_string());
        }
        self.unknown_fibre |= shares.is_empty();
        let mass = mass.map_or(0.0, Mass::g);
        for share in shares {
            match fibre_named(&share.fibre) {
                Some(fibre) => {
                    let g = if total > 0.0 {
                        mass * share.percent.value / total
                    } else {
                        0.0
                    };
                    match self.grams.iter_mut().find(|(f, _)| *f == legal(fibre.name)) {
                        Some((_, sum)) => *sum += g,
                        None => self.grams.push((legal(fibre.name), g)),
                    }
                }
                None => {
                    self.unknown.push(share.fibre.value.clone());
                    self.unknown_fibre = true;
                }
            }
        }
    }

    fn section(mut self, part: Option<String>, rule: RuleSet) -> Section {
        // Descending order by what is known, ties by name (article 9(1)).
        self.grams
            .sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(b.0)));
        let total: f64 = self.grams.iter().map(|(_, g)| g).sum();
        let complete = self.unknown.is_empty() && total > 0.0;
        let named: Vec<(Option<&'static str>, f64)> = if complete {
            merge_small(&self.grams, total, rule)
        } else {
            self.grams.iter().map(|(f, g)| (Some(*f), *g)).collect()
        };
        let lines = if complete {
            let exact: Vec<f64> = named.iter().map(|(_, g)| 100.0 * g / total).collect();
            let whole = largest_remainder(&exact, 100);
            named
                .iter()
                .zip(exact.iter().zip(whole))
                .map(|((fibre, _), (exact, whole))| FibreLine {
                    fibre: *fibre,
                    percent: Some(Percent {
                        whole,
                        exact: *exact,
                    }),
                })
                .collect()
        } else {
            // Where masses alone are missing, one single fibre is all of it all the same.
            let only = self.grams.len() == 1 && !self.unknown_fibre;
            named
                .iter()
                .map(|(fibre, _)| FibreLine {
                    fibre: *fibre,
                    percent: only.then_some(Percent {
                        whole: 100,
                        exact: 100.0,
                    }),
                })
                .collect()
        };
        Section {
            part,
            lines,
            complete,
            unknown: self.unknown,
        }
    }
}

/// Flax and linen are two names of one fibre, polyamide and nylon too (Annex I, items 7 and 30).
fn legal(name: &'static str) -> &'static str {
    match name {
        "linen" => "flax",
        "nylon" => "polyamide",
        other => other,
    }
}

/// Under US and Canadian rules a fibre below 5 % is stated as "other fibre" (16 CFR 303.3; Canada by
/// the Bureau's guide), save wool, which the US always names (15 USC 68b(a)(2)). The EU and UK name
/// every known fibre (article 9(1)). Thresholds are compared before rounding.
fn merge_small(
    grams: &[(&'static str, f64)],
    total: f64,
    rule: RuleSet,
) -> Vec<(Option<&'static str>, f64)> {
    if matches!(rule, RuleSet::Eu | RuleSet::Uk) {
        return grams.iter().map(|(f, g)| (Some(*f), *g)).collect();
    }
    let mut out = Vec::new();
    let mut other = 0.0;
    for (fibre, g) in grams {
        let wool = rule == RuleSet::Us
            && fibre_named(fibre).is_some_and(|f| f.allowance == 17.0 && f.protein);
        if 100.0 * g / total < 5.0 && !wool {
            other += g;
        } else {
            out.push((Some(*fibre), *g));
        }
    }
    if other > 0.0 {
        out.push((None, other));
    }
    out
}

/// Rounds shares to whole units that add up to `units` and, given in descending order, keep it:
/// everybody gets the floor, but at least 1; the rest goes to the largest remainders.
pub fn largest_remainder(exact: &[f64], units: u32) -> Vec<u32> {
    let total: f64 = exact.iter().sum();
    if exact.is_empty() || total <= 0.0 {
        return vec![0; exact.len()];
    }
    let scaled: Vec<f64> = exact.iter().map(|x| f64::from(units) * x / total).collect();
    let mut whole: Vec<u32> = scaled.iter().map(|x| (x.floor() as u32).max(1)).collect();
    let mut order: Vec<usize> = (0..scaled.len()).collect();
    order.sort_by(|&a, &b| {
        let rest = |i: usize| scaled[i] - f64::from(whole[i]);
        rest(b).total_cmp(&rest(a)).then(a.cmp(&b))
    });
    let sum = |w: &[u32]| w.iter().sum::<u32>();
    for i in order.into_iter().cycle() {
        if sum(&whole) >= units {
            break;
        }
        whole[i] += 1;
    }
    // Shares lifted to 1 are taken back from the largest; of equals from the last, to keep the order.
    while sum(&whole) > units {
        let largest = (0..whole.len())
            .filter(|&i| whole[i] > 1)
            .max_by_key(|&i| (whole[i], i));
        match largest {
            Some(i) => whole[i] -= 1,
            None => break,
        }
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_agrees_with_the_regulation() {
        // Regulation (EU) No 1007/2011, Annex VIII, chapter 3, section IV, variants 1 and 4: the
        // published tables, in tenths of a percent.
        assert_eq!(
            largest_remainder(&[48.36647, 40.66197, 10.97156], 1000),
            [484, 406, 110]
        );
        assert_eq!(
            largest_remainder(&[48.62, 40.764, 10.616], 1000),
            [486, 408, 106]
        );
    }

    #[test]
    fn percents_always_add_to_a_hundred_and_keep_their_order() {
        let mut seed = 7_u64;
        let mut next = || {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) as f64 / f64::from(1_u32 << 31)
        };
        for _ in 0..20_000 {
            let n = 1 + (next() * 12.0) as usize;
            let mut shares: Vec<f64> = (0..n).map(|_| next() * next() + 1e-6).collect();
            shares.sort_by(|a, b| b.total_cmp(a));
            let whole = largest_remainder(&shares, 100);
            assert_eq!(whole.iter().sum::<u32>(), 100, "{shares:?}");
            assert!(
                whole.windows(2).all(|w| w[0] >= w[1]),
                "{shares:?} {whole:?}"
            );
            assert!(whole.iter().all(|w| *w > 0));
        }
    }
}
