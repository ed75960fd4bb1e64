//! The bar on its brackets: what each bracket holds, how far the bar sags at first and for good, what
//! strains it, and better places for the brackets.

use super::beam::{Beam, Bent, Local, Peak, Spread};
use super::load::{GRAVITY, Load};
use super::materials::{Material, material};
use super::places;
use super::section::Section;
use crate::quantity::{Length, Reading};
use crate::reckon::Uncertain;
use crate::record::{BarShape, Hanging};

/// Own rule: a span sags at most a five-hundredth of itself and at most 3 mm (no museum's limit was
/// found). An end beyond the last bracket counts as half a span.
const LIMIT: (f64, f64) = (1.0 / 500.0, 3.0);

/// Own rule: beyond a three-hundredth of the span a level edge is seen to hang.
pub const SEEN: f64 = 1.0 / 300.0;

/// A bar with the piece on it.
#[derive(Debug, Clone, PartialEq)]
pub struct HungBar {
    /// What it is made of.
    pub material: Material,
    /// The words for its section.
    pub section_text: String,
    /// Its section.
    pub section: Section,
    /// Its length, mm.
    pub length: f64,
    /// Whether the length was written; else it is the one advised.
    pub length_given: bool,
    /// Its own weight, N.
    pub weight: Uncertain,
    /// The same on brackets, where they can carry it.
    pub held: Option<Held>,
    /// Most sag if held at both ends, mm; nothing where the load lies beside the bar.
    pub ends_held: Option<f64>,
    /// Best places for as many brackets as there are (two where none are given), and the sag then.
    pub best: Option<(Vec<f64>, f64)>,
    /// Fewest brackets, at their best places, that keep the lasting sag within the limit.
    pub needed: Option<usize>,
}

/// The bar on its brackets.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// Places of the brackets, mm from the left end, from left to right.
    pub at: Vec<f64>,
    /// Whether the places were written; else they are the best ones.
    pub given: bool,
    /// What each holds up, N; below zero it would have to hold down.
    pub reactions: Vec<Uncertain>,
    /// Where the bar sags most, mm from its left end.
    pub sag_at: f64,
    /// The sag there, mm.
    pub sag: Uncertain,
    /// The polynomial that the sag is read from.
    pub sag_by: Local,
    /// The lasting sag there, mm, from least to most.
    pub lasting: (f64, f64),
    /// How far the left and right end hang below the brackets' line, mm.
    pub ends: (f64, f64),
    /// The stretch that comes nearest to the limit.
    pub worst: Stretch,
    /// The largest share of its length that a stretch sags for good.
    pub steepest: f64,
    /// The greatest moment, either way: mm, N mm.
    pub moment: Peak,
    /// The polynomial that the moment is read from.
    pub moment_by: Local,
    /// Greatest bending stress, MPa.
    pub stress: Uncertain,
}

/// A span, or twice the end beyond a bracket, with its lasting sag.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Its length, mm.
    pub length: f64,
    /// The most lasting sag in it, mm: either way in a span, downwards at an end.
    pub sag: f64,
    /// The most it should be, mm.
    pub limit: f64,
}

impl HungBar {
    /// The bar; `None` where material or section is not known. `advised` is the length to take where none
    /// is written, mm.
    pub fn of(load: &Load, hanging: &Hanging, advised: Option<f64>) -> Option<HungBar> {
        let bar = hanging.bar.as_ref()?;
        let stuff = material(bar.material.as_ref()?.value);
        let section = bar.section.as_ref()?;
        let given = bar.length.as_ref().map(|l| l.value.value.mm());
        let length = given.or(advised).filter(|l| *l > 0.0)?;
        let mut at: Vec<f64> = hanging
            .brackets
            .iter()
            .map(|b| b.value.value.mm())
            .collect();
        at.sort_by(f64::total_cmp);
        let fixings = hanging.fixings.as_ref().map(|n| n.value as usize);
        let n = if at.is_empty() {
            fixings.unwrap_or(2)
        } else {
            at.len()
        };
        let mut hung = HungBar::new(load, stuff, section.value.shape, length);
        hung.section_text = section.value.text.clone();
        hung.length_given = given.is_some();
        hung.best = hung.best_places(load, n);
        let places = match &hung.best {
            Some((best, _)) if at.is_empty() => best.clone(),
            _ => at.clone(),
        };
        hung.held = hung.on(load, &places, !at.is_empty());
        hung.doubt(load, hanging);
        let limits = |n: usize| {
            let (best, _) = hung.best_places(load, n)?;
            let worst = hung.on(load, &best, false)?.worst;
            (worst.sag <= worst.limit).then_some(n)
        };
        hung.needed = (2..=places::MOST).find_map(limits);
        Some(hung)
    }

    /// Adds what bar length, bracket places and centre of mass as written leave open: each is moved by its
    /// standard uncertainty either way and everything is reckoned again (GUM 5.1.3, note 2: slopes by
    /// differences). The section counts as it is written.
    fn doubt(&mut self, load: &Load, hanging: &Hanging) {
        let Some(held) = &self.held else { return };
        let mut moved: Vec<(String, HungBar, HungBar)> = Vec::new();
        let u = |r: &Reading<Length>| r.standard_uncertainty().mm();
        let solved = |bar: &HungBar, load: &Load, at: &[f64]| {
            let mut bar = bar.clone();
            bar.held = bar.on(load, at, held.given);
            bar
        };
        let bar = hanging.bar.as_ref().and_then(|b| b.length.as_ref());
        if let Some(length) = bar {
            let with = |step: f64| {
                let mut bar = self.clone();
                bar.length += step;
                bar.weight = self.weight.times(bar.length / self.length);
                solved(&bar, load, &held.at)
            };
            let u = u(&length.value);
            moved.push(("hanging.bar.length".to_string(), with(u), with(-u)));
        }
        let mut brackets: Vec<&Reading<Length>> =
            hanging.brackets.iter().map(|b| &b.value).collect();
        brackets.sort_by(|a, b| a.value.mm().total_cmp(&b.value.mm()));
        if held.given && brackets.len() == held.at.len() {
            for (i, bracket) in brackets.iter().enumerate() {
                let with = |step: f64| {
                    let mut at = held.at.clone();
                    at[i] += step;
                    solved(self, load, &at)
                };
                let u = u(bracket);
                moved.push((format!("hanging.brackets[{i}]"), with(u), with(-u)));
            }
        }
        if let Some(centre) = &hanging.centre_of_mass {
            let with = |step: f64| {
                let mut load = load.clone();
                load.off_centre += step;
                solved(self, &load, &held.at)
            };
            let u = centre.value.u.mm();
            moved.push(("hanging.centre_of_mass".to_string(), with(u), with(-u)));
        }
        let widened = |x: &Uncertain, of: &dyn Fn(&HungBar) -> Option<f64>| {
            let mut x = x.clone();
            for (name, more, less) in &moved {
                if let (Some(more), Some(less)) = (of(more), of(less)) {
                    let one = Uncertain::input(0.0, 1.0, name.as_str());
                    x = Uncertain::derived(x.value, &[(&x, 1.0), (&one, (more - less) / 2.0)]);
                }
            }
            x
        };
        let reactions = held
            .reactions
            .iter()
            .enumerate()
            .map(|(k, r)| widened(r, &|b| b.held.as_ref()?.reactions.get(k).map(|r| r.value)))
            .collect();
        let sag = widened(&held.sag, &|b| Some(b.held.as_ref()?.sag.value));
        let stress = widened(&held.stress, &|b| Some(b.held.as_ref()?.stress.value));
        let weight = widened(&self.weight, &|b| Some(b.weight.value));
        self.held = Some(Held {
            reactions,
            sag,
            stress,
            ..held.clone()
        });
        self.weight = weight;
    }

    /// A bar that is held nowhere yet.
    pub fn new(load: &Load, stuff: Material, shape: BarShape, length: f64) -> HungBar {
        let section = Section::of(shape);
        let kg = stuff.density * section.area * length * 1e-9;
        let weight = Uncertain::input(
            kg * GRAVITY,
            kg * GRAVITY * stuff.density_u,
            "density of the bar",
        );
        let mut hung = HungBar {
            material: stuff,
            section_text: String::new(),
            section,
            length,
            length_given: false,
            weight,
            held: None,
            ends_held: None,
            best: None,
            needed: None,
        };
        let ends = hung.bend(load, &[0.0, length], true);
        hung.ends_held = ends.map(|bent| bent.most_sag(0.0, length).value);
        hung
    }

    /// Best places for so many brackets under the piece as if its mass were even, and the sag then.
    pub fn best_places(&self, load: &Load, n: usize) -> Option<(Vec<f64>, f64)> {
        let bend = |at: &[f64]| self.bend(load, at, false);
        let at = places::best(self.length, n, bend)?;
        let sag = bend(&at)?.most_sag(0.0, self.length).value;
        Some((at, sag))
    }

    /// The bar with its own weight and the piece's on it.
    fn bend(&self, load: &Load, at: &[f64], uneven: bool) -> Option<Bent> {
        let piece = self.piece(load, uneven)?;
        let w = load.weight.value;
        let loaded = Spread {
            start: piece.start * w,
            end: piece.end * w,
            ..piece
        };
        self.beam(at, vec![loaded, self.own(self.weight.value)])
            .solve()
    }

    fn beam(&self, at: &[f64], spread: Vec<Spread>) -> Beam {
        Beam {
            length: self.length,
            stiffness: self.material.stiffness * self.section.inertia,
            supports: at.to_vec(),
            spread,
            points: Vec::new(),
        }
    }

    fn piece(&self, load: &Load, uneven: bool) -> Option<Spread> {
        let piece = load.on_bar(self.length)?;
        if uneven {
            return Some(piece);
        }
        let loaded = load.width.value.min(self.length);
        super::load::uneven((self.length - loaded) / 2.0, loaded, 0.0)
    }

    fn own(&self, weight: f64) -> Spread {
        Spread::even(0.0, self.length, weight / self.length)
    }

    /// The bar on these brackets. Every figure is linear in the piece's weight and the bar's, and sag in
    /// 1/E, so their doubts are carried by the bar bent under 1 N of each.
    fn on(&self, load: &Load, at: &[f64], given: bool) -> Option<Held> {
        let both = self.bend(load, at, true)?;
        let piece = self.beam(at, vec![self.piece(load, true)?]).solve()?;
        let own = self.beam(at, vec![self.own(1.0)]).solve()?;
        let join = |of: &dyn Fn(&Bent) -> f64| {
            &load.weight.times(of(&piece)) + &self.weight.times(of(&own))
        };
        let peak = both.widest_sag(0.0, self.length);
        let doubt = Uncertain::input(1.0, self.material.stiffness_u, "stiffness of the bar");
        let sag = &join(&|b| b.sag_at(peak.at)) / &doubt;
        let moment = both.widest_moment();
        let modulus = self.section.modulus;
        let (least, most) = self.material.creep;
        let stretches = stretches(&both, most);
        Some(Held {
            reactions: (0..both.reactions.len())
                .map(|k| join(&|b| b.reactions[k]))
                .collect(),
            at: both.supports.clone(),
            given,
            sag_at: peak.at,
            sag_by: both.local(peak.at)?,
            moment_by: both.local(moment.at)?,
            lasting: (least * sag.value, most * sag.value),
            sag,
            ends: (both.sag_at(0.0), both.sag_at(self.length)),
            worst: *stretches
                .iter()
                .max_by(|a, b| a.strain().total_cmp(&b.strain()))?,
            steepest: stretches
                .iter()
                .map(|s| s.sag / s.length)
                .fold(0.0, f64::max),
            // The sign of the whole: piece and bar may bend it opposite ways at one place.
            stress: join(&|b| b.moment_at(moment.at) * moment.value.signum() / modulus),
            moment,
        })
    }
}

impl Stretch {
    /// Its sag over its limit.
    fn strain(&self) -> f64 {
        self.sag / self.limit
    }
}

/// Every span and end with its sag, grown by creep.
fn stretches(bent: &Bent, creep: f64) -> Vec<Stretch> {
    let length = bent.length();
    let spans = bent.supports.windows(2).map(|p| (p[0], p[1], p[1] - p[0]));
    let left = bent.supports.first().map(|x| (0.0, *x, 2.0 * x));
    let right = bent
        .supports
        .last()
        .map(|x| (*x, length, 2.0 * (length - x)));
    spans
        .chain(left)
        .chain(right)
        .filter(|(_, _, l)| *l > 0.0)
        .map(|(from, to, l)| Stretch {
            length: l,
            // An end that the load tips up is no sag.
            sag: if from == 0.0 || to == length {
                (creep * bent.most_sag(from, to).value).max(0.0)
            } else {
                (creep * bent.widest_sag(from, to).value).abs()
            },
            limit: (l * LIMIT.0).min(LIMIT.1),
        })
        .collect()
}
