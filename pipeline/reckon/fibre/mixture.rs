//! Masses of the fibres of some yarns, dry and with the law's moisture, and their shares: the
//! arithmetic of Regulation (EU) No 1007/2011, Annex VIII.
//!
//! A yarn's declared shares are taken as its band has them: by mass with the agreed allowances in
//! them. A yarn without a humidity counts as weighed at its agreed allowance, so that masses add
//! without conversion; one with a humidity is brought to dry mass with what its fibres hold there.

use super::allowance::{Allowance, allowance};
use super::law::{american_wool, label_name};
use super::moisture::{REGAIN_U, regain_at};
use crate::reckon::printed::significant;
use crate::reckon::uncertain::Uncertain;
use crate::record::{Past, RuleSet, Share, WrittenFibre, fibre_written};

/// A yarn as it goes into the reckoning.
#[derive(Debug, Clone)]
pub(super) struct YarnIn<'a> {
    /// How a sentence calls it.
    pub name: String,
    /// What it is made of.
    pub shares: &'a [Share],
    /// Its mass in the piece, in grams, where that is known.
    pub mass: Option<&'a Uncertain>,
    /// Relative humidity of the air it was weighed in, percent.
    pub humidity: Option<f64>,
    /// Whether it is decoration.
    pub decorative: bool,
    /// Whether it is the warp.
    pub warp: bool,
}

/// One fibre of a mixture.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Portion {
    /// What the label calls it.
    pub name: &'static str,
    /// Dry mass, in grams.
    pub dry: Uncertain,
    /// Mass with the agreed allowance, in grams.
    pub legal: Uncertain,
    /// Percent of the mixture, where every mass is known.
    pub share: Option<Uncertain>,
    /// The allowances that its yarns were given.
    pub allowances: Vec<Allowance>,
    /// How the dry mass of its first yarns was reckoned, with numbers.
    pub worked: Vec<String>,
    /// How many yarns hold it.
    pub yarns: usize,
}

/// The fibres of some yarns.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Mixture {
    /// The largest mass first, ties by name.
    pub portions: Vec<Portion>,
    /// Yarns without a mass or fibre, and fibres that are not known.
    pub unknown: Vec<String>,
    /// Whether a yarn's fibre, not only its mass, is not known.
    pub unknown_fibre: bool,
    /// What is written of virgin wool.
    pub virgin: Virgin,
}

/// What the yarns say of virgin wool.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Virgin {
    /// Some wool is written as virgin.
    pub written: bool,
    /// Some wool is not.
    pub other_wool: bool,
    /// Virgin wool is spun together with more than one other fibre.
    pub blended: bool,
}

/// Terms kept to show how a sum was made.
const TERMS: usize = 4;

#[derive(Default)]
struct Gathered {
    dry: Vec<Uncertain>,
    legal: Vec<Uncertain>,
    allowances: Vec<Allowance>,
    worked: Vec<String>,
}

/// One fibre of one yarn.
struct Strand {
    dry: Uncertain,
    legal: Uncertain,
    worked: String,
}

impl Mixture {
    /// Reckons the fibres of the yarns under a rule set.
    pub fn of<'a>(yarns: impl IntoIterator<Item = &'a YarnIn<'a>>, rule: RuleSet) -> Mixture {
        let mut out = Mixture::default();
        let mut gathered: Vec<(&'static str, Gathered)> = Vec::new();
        for yarn in yarns {
            let total: f64 = yarn.shares.iter().map(|s| s.percent.value).sum();
            let mass = yarn.mass.filter(|m| m.value > 0.0 && m.value.is_finite());
            if mass.is_none() || total <= 0.0 {
                out.unknown.push(yarn.name.clone());
            }
            out.unknown_fibre |= total <= 0.0;
            let mut written: Vec<(WrittenFibre, f64)> = Vec::new();
            for share in yarn.shares {
                match fibre_written(&share.fibre) {
                    Some(fibre) if share.percent.value > 0.0 => {
                        written.push((fibre, share.percent.value / total));
                    }
                    // A share of nothing is no fibre of the yarn.
                    Some(_) => {}
                    None => {
                        out.unknown.push(share.fibre.value.clone());
                        out.unknown_fibre = true;
                    }
                }
            }
            out.virgin.look(&written);
            for (i, (fibre, _)) in written.iter().enumerate() {
                let name = label_name(fibre, rule);
                let at = gathered.iter().position(|(n, _)| *n == name);
                let at = at.unwrap_or_else(|| {
                    gathered.push((name, Gathered::default()));
                    gathered.len() - 1
                });
                if let (Some(sum), Some(mass)) = (gathered.get_mut(at), mass) {
                    let allowed = allowance(fibre, rule);
                    sum.1
                        .add(strand(&written, i, mass, yarn.humidity, rule), allowed);
                }
            }
        }
        out.portions = gathered.into_iter().map(|(n, g)| g.portion(n)).collect();
        out.portions.sort_by(|a, b| {
            let by_mass = b.legal.value.total_cmp(&a.legal.value);
            by_mass.then_with(|| a.name.cmp(b.name))
        });
        out.share_out();
        out
    }

    /// Whether every yarn's fibre and mass was known, and there is anything.
    pub fn complete(&self) -> bool {
        self.unknown.is_empty() && self.total() > 0.0
    }

    /// Grams with the agreed allowances, of all that is known.
    pub fn total(&self) -> f64 {
        self.portions.iter().map(|p| p.legal.value).sum()
    }

    /// 100 · Pi(1 + ai) / Σ Pj(1 + aj): Annex VIII, chapter 2, I.8.2. A reading in both the part and the
    /// whole is respected.
    fn share_out(&mut self) {
        if !self.complete() {
            return;
        }
        let whole = Uncertain::sum(self.portions.iter().map(|p| &p.legal));
        for p in &mut self.portions {
            p.share = Some((&p.legal / &whole).times(100.0));
        }
    }

    /// Whether wool as the United States mean it is in it.
    pub fn wool(&self) -> bool {
        self.portions.iter().any(|p| american_wool(p.name))
    }
}

impl Virgin {
    fn look(&mut self, yarn: &[(WrittenFibre, f64)]) {
        for (fibre, _) in yarn.iter().filter(|(f, _)| f.fibre.name == "wool") {
            let virgin = fibre.past == Past::Virgin;
            self.written |= virgin;
            self.other_wool |= !virgin;
            self.blended |= virgin && yarn.len() > 2;
        }
    }
}

impl Gathered {
    fn add(&mut self, strand: Strand, allowed: Allowance) {
        self.dry.push(strand.dry);
        self.legal.push(strand.legal);
        if !self.allowances.contains(&allowed) {
            self.allowances.push(allowed);
        }
        if self.worked.len() < TERMS {
            self.worked.push(strand.worked);
        }
    }

    fn portion(self, name: &'static str) -> Portion {
        Portion {
            name,
            dry: Uncertain::sum(&self.dry),
            legal: Uncertain::sum(&self.legal),
            share: None,
            yarns: self.dry.len(),
            allowances: self.allowances,
            worked: self.worked,
        }
    }
}

/// One fibre's part of a yarn. With conventional shares s, allowances a and real regains R the dry
/// masses are dᵢ = M · sᵢ/(1 + aᵢ) / Σ sⱼ(1 + Rⱼ)/(1 + aⱼ); with R = a that is M · sᵢ/(1 + aᵢ).
fn strand(
    yarn: &[(WrittenFibre, f64)],
    which: usize,
    mass: &Uncertain,
    humidity: Option<f64>,
    rule: RuleSet,
) -> Strand {
    let allowed = |f: &WrittenFibre| 1.0 + allowance(f, rule).percent / 100.0;
    let (fibre, share) = &yarn[which];
    let factor = allowed(fibre);
    let g = significant(mass.value, 5);
    let of = if *share < 1.0 {
        format!("{} × ", significant(*share, 4))
    } else {
        String::new()
    };
    let Some(humidity) = humidity else {
        let legal = mass.times(*share);
        return Strand {
            dry: legal.times(1.0 / factor),
            legal,
            worked: format!("{of}{g} / {}", significant(factor, 5)),
        };
    };
    let terms: Vec<Uncertain> = yarn
        .iter()
        .map(|(f, s)| {
            let held = match regain_at(f.fibre.name, humidity) {
                Some(r) => {
                    let source = format!("regain of {} in air", f.fibre.name);
                    Uncertain::input(r, REGAIN_U, source)
                }
                None => Uncertain::exact(allowance(f, rule).percent),
            };
            (&held.times(0.01) + &Uncertain::exact(1.0)).times(s / allowed(f))
        })
        .collect();
    let held = Uncertain::sum(&terms);
    let dry = (mass / &held).times(share / factor);
    Strand {
        worked: if yarn.len() == 1 {
            format!("{g} / {}", significant(held.value * factor, 5))
        } else {
            format!(
                "{of}{g} / {} / {}",
                significant(factor, 5),
                significant(held.value, 5)
            )
        },
        legal: dry.times(factor),
        dry,
    }
}
