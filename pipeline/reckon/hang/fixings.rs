//! Fixings in the wall: what each carries, what two would carry alone, and the pull that a batten's depth
//! makes. No fixing is rated here.

use super::bar::HungBar;
use super::load::Load;
use super::support::Chosen;
use crate::reckon::caution::OVERHEAD;
use crate::reckon::{Entry, Uncertain, significant};
use crate::record::{Hanging, Support};

/// How many times its load a fixing is chosen for unless the record says otherwise: common practice for a
/// load at rest, no source.
pub const FACTOR: f64 = 5.0;

/// The load on the wall.
#[derive(Debug, Clone, PartialEq)]
pub struct Fixings {
    /// Piece and bar together, N.
    pub total: Uncertain,
    /// How many fixings, if written (else as many as brackets).
    pub number: Option<usize>,
    /// How many times its load each is to be chosen for.
    pub factor: f64,
    /// What each carries where all carry alike, N.
    pub each: Option<Uncertain>,
    /// What each of two carries where two neighbours carry all, N.
    pub of_two: Uncertain,
    /// The most that one carries: of two, or by the bar's greatest reaction, N.
    pub most: Uncertain,
    /// The pull out of the wall of all fixings together, N, where the batten's section is known.
    pub pull: Option<Pull>,
    factor_given: bool,
    with_bar: bool,
}

/// The pull that a load in front of the wall makes.
#[derive(Debug, Clone, PartialEq)]
pub struct Pull {
    /// Distance of the load from the wall, mm.
    pub out: f64,
    /// From the fixings down to the batten's foot, mm.
    pub arm: f64,
    /// The pull, N.
    pub pull: Uncertain,
}

impl Fixings {
    /// The load on the wall. `thickness` is the cloth's, mm.
    pub fn of(
        load: &Load,
        hanging: Option<&Hanging>,
        bar: Option<&HungBar>,
        chosen: &Chosen,
        thickness: &Uncertain,
    ) -> Fixings {
        let total = match bar {
            Some(bar) => &load.weight + &bar.weight,
            None => load.weight.clone(),
        };
        let written = hanging
            .and_then(|h| h.fixings.as_ref())
            .map(|n| n.value as usize);
        let brackets = hanging.map_or(0, |h| h.brackets.len());
        let number = written.or((brackets > 1).then_some(brackets));
        let factor = hanging.and_then(|h| h.factor.as_ref()).map(|f| f.value);
        let of_two = total.times(if number == Some(1) { 1.0 } else { 0.5 });
        let held = bar.and_then(|b| b.held.as_ref());
        let reactions = held.into_iter().flat_map(|h| &h.reactions);
        let most = reactions
            .fold(
                &of_two,
                |most, r| if r.value > most.value { r } else { most },
            )
            .clone();
        let on_wall = matches!(chosen.support, Some(Support::HookAndLoop | Support::Batten));
        let pull = bar.filter(|_| on_wall).map(|bar| {
            let out = &Uncertain::exact(bar.section.thick) + &thickness.times(0.5);
            let arm = bar.section.high / 2.0;
            Pull {
                out: out.value,
                arm,
                pull: (&total * &out).times(1.0 / arm),
            }
        });
        Fixings {
            each: number.map(|n| total.times(1.0 / n as f64)),
            of_two,
            most,
            pull,
            number,
            factor: factor.unwrap_or(FACTOR),
            factor_given: factor.is_some(),
            with_bar: bar.is_some(),
            total,
        }
    }

    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let s = |x: f64| significant(x, 4);
        let total = self.total.value;
        let what = if self.with_bar {
            "piece and bar"
        } else {
            "the piece, without a bar (none is written)"
        };
        let parts: &[&str] = if self.with_bar {
            &["hanging.weight", "hanging.bar-weight"]
        } else {
            &["hanging.weight"]
        };
        let factor_source = if self.factor_given {
            "as written"
        } else {
            "common practice, no source: five times a load at rest"
        };
        let mut all = vec![
            Entry::uncertain(
                "hanging.wall-load",
                format!("what the wall carries: {what}"),
                &self.total,
                "N",
            )
            .by(
                if self.with_bar {
                    "W + bar's weight"
                } else {
                    "W"
                },
                s(total),
            )
            .source("statics")
            .from(parts.iter().copied()),
        ];
        if let Some((each, n)) = self.each.as_ref().zip(self.number) {
            all.push(
                Entry::uncertain(
                    "hanging.fixing-load",
                    format!("what each of {n} fixings carries where all carry alike"),
                    each,
                    "N",
                )
                .by("W / N", format!("{} / {n}", s(total)))
                .source("statics")
                .from(["hanging.wall-load", "hanging.fixings"]),
            );
        }
        if self.number != Some(1) {
            all.push(
                Entry::uncertain("hanging.fixing-load-two", "what each of two neighbours carries if they carry all, which no batten or wall rules out", &self.of_two, "N")
                    .by("W / 2", format!("{} / 2", s(total))).source("own rule").from(["hanging.wall-load"]),
            );
        }
        all.push(
            Entry::uncertain("hanging.fixing-design-load", "what each fixing should be chosen for by whoever judges wall and anchors: the most that one may carry, times the factor", &self.most.times(self.factor), "N")
                .by("most on one fixing · factor", format!("{} · {}", s(self.most.value), s(self.factor)))
                .source(factor_source).from(["hanging.fixing-load-two", "hanging.factor"]),
        );
        if let Some(p) = &self.pull {
            all.push(
                Entry::uncertain("hanging.pull-out", "pull out of the wall on all fixings together, because the piece hangs in front of it; the fixings taken at half the batten's height, all weight taken at the cloth", &p.pull, "N")
                    .by("T = W e / h", format!("{} · {} / {}", s(total), s(p.out), s(p.arm)))
                    .source("statics: moments about the batten's foot").from(["hanging.wall-load", "hanging.bar.section", "measured.thickness"]),
            );
            all.push(
                Entry::uncertain(
                    "hanging.pull-out-two",
                    "the same on each of two, times the factor",
                    &p.pull.times(self.factor / 2.0),
                    "N",
                )
                .by(
                    "T / 2 · factor",
                    format!("{} / 2 · {}", s(p.pull.value), s(self.factor)),
                )
                .source(factor_source)
                .from(["hanging.pull-out", "hanging.factor"]),
            );
        }
        all.into_iter().map(|e| e.caution(OVERHEAD)).collect()
    }
}
