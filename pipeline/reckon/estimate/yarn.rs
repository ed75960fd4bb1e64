//! Yarn to order for the next piece: weft by colour from the masses of finished ones, warp from the loom.

use super::Wanted;
use super::model::{Column, Estimated, Traits};
use super::past::Past;
use crate::quantity::{Length, Mass};

/// Added to what the pieces themselves held: bobbin ends, samples, a colour that is not met twice (common practice, no
/// source).
pub const WASTE: f64 = 0.15;

/// Waste of each warp end where no piece tells it: what is tied to the loom and can not be woven (common practice, no
/// source).
const LOOM_WASTE: f64 = 500.0;

/// The weft to order.
#[derive(Debug, Clone, PartialEq)]
pub struct Weft {
    /// All of it as it will be in the piece, in g.
    pub held: Estimated,
    /// To order of each colour, the largest first, waste counted: the likely mass in the shares that finished pieces had.
    pub each: Vec<Mass>,
    /// Pieces whose shares were counted. None: equal shares.
    pub shares_from: usize,
}

impl Weft {
    pub(super) fn of(past: &[&Past], wanted: &Wanted, level: f64) -> Option<Weft> {
        let known: Vec<(Traits, f64)> = past
            .iter()
            .filter_map(|p| Some((p.traits(), p.weft?.g())))
            .collect();
        let held = Estimated::of(&known, &wanted.traits(), level, &[Column::Sett])?;
        let told: Vec<&[f64]> = past
            .iter()
            .map(|p| p.shares.as_slice())
            .filter(|s| s.len() > 1)
            .collect();
        let to_order = held.likely * (1.0 + WASTE);
        let each = shares(&told, wanted.colours)
            .into_iter()
            .map(|share| Mass::from_g(share * to_order))
            .collect();
        Some(Weft {
            held,
            each,
            shares_from: told.len(),
        })
    }
}

/// Shares of `colours` yarns, the largest first, together 1. For each finished piece the curve of its yarns is drawn,
/// how much the first tenth of them, the first half, all of them hold (Lorenz's curve, the largest first); the mean of
/// the curves is read off at each yarn.
fn shares(told: &[&[f64]], colours: usize) -> Vec<f64> {
    let held_by = |part: f64| {
        if told.is_empty() {
            return part;
        }
        let all: f64 = told.iter().map(|shares| held(shares, part)).sum();
        all / told.len() as f64
    };
    let at = |i: usize| held_by(i as f64 / colours as f64);
    (0..colours).map(|i| at(i + 1) - at(i)).collect()
}

/// What the largest yarns of a piece hold together, by straight lines between yarns.
fn held(shares: &[f64], part: f64) -> f64 {
    let yarns = part * shares.len() as f64;
    let whole = yarns.floor() as usize;
    let full: f64 = shares.iter().take(whole).sum();
    full + (yarns - whole as f64) * shares.get(whole).copied().unwrap_or(0.0)
}

/// The warp to order.
#[derive(Debug, Clone, PartialEq)]
pub struct Warp {
    /// Warp ends.
    pub ends: u32,
    /// Width in the loom.
    pub width: Length,
    /// What is woven between the hems, on the loom.
    pub woven: Length,
    /// Length of each end as strung.
    pub each: Length,
    /// All of it.
    pub length: Length,
    /// The yarn it was reckoned with, and its mass; nothing where no piece tells a count.
    pub yarn: Option<(String, Mass)>,
    /// What had to be assumed, for no piece tells it.
    pub assumed: Vec<Assumed>,
}

/// What no finished piece tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Assumed {
    /// That nothing is lost in width.
    NoDrawIn,
    /// That nothing is lost in height.
    NoTakeUp,
    /// 500 mm of each end for the loom.
    LoomWaste,
    /// No hems.
    NoHems,
}

impl Warp {
    /// Ends are sett × width in the loom, each as long as web, hems and what the loom wastes; draw-in, take-up and waste
    /// are the middle ones of the finished pieces.
    pub(super) fn of(past: &[&Past], wanted: &Wanted) -> Option<Warp> {
        let sett = wanted.ends_per_cm?;
        let mut assumed = Vec::new();
        let mut told = |values: Vec<f64>, otherwise: f64, what: Assumed| {
            median(values).unwrap_or_else(|| {
                assumed.push(what);
                otherwise
            })
        };
        let all = |of: &dyn Fn(&Past) -> Option<f64>| past.iter().filter_map(|p| of(p)).collect();
        let draw_in = told(all(&|p| p.draw_in), 0.0, Assumed::NoDrawIn);
        let take_up = told(all(&|p| p.take_up), 0.0, Assumed::NoTakeUp);
        let waste = told(
            all(&|p| p.loom_waste.map(Length::mm)),
            LOOM_WASTE,
            Assumed::LoomWaste,
        );
        let hems = told(all(&|p| p.hems.map(Length::mm)), 0.0, Assumed::NoHems);
        let (across, along) = if wanted.sideways {
            (wanted.height, wanted.width)
        } else {
            (wanted.width, wanted.height)
        };
        let room = |lost: f64| (1.0 - lost).max(0.5);
        let width = across.mm() / room(draw_in);
        let woven = along.mm() / room(take_up);
        let ends = (sett * width / 10.0).round();
        if !(1.0..=1e6).contains(&ends) {
            return None;
        }
        let each = woven + hems + waste;
        let length = each * ends;
        let latest = past.iter().filter(|p| p.warp.is_some());
        let latest = latest.max_by_key(|p| p.last_day);
        Some(Warp {
            ends: ends as u32,
            width: Length::from_mm(width),
            woven: Length::from_mm(woven),
            each: Length::from_mm(each),
            length: Length::from_mm(length),
            // tex is g in 1000 m.
            yarn: latest
                .and_then(|p| p.warp.clone())
                .map(|(name, tex)| (name, Mass::from_g(length * 1e-6 * tex))),
            assumed,
        })
    }
}

/// The middle one; the mean of the two middle ones.
pub(super) fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let n = values.len();
    let (low, high) = (values.get(n.checked_sub(1)? / 2)?, values.get(n / 2)?);
    Some((low + high) / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_of_as_many_colours_are_the_piece_s_own() {
        // Source, exact case: read off at its own yarns a curve gives the yarns back.
        let own = [0.5, 0.3, 0.2];
        for (got, want) in shares(&[&own], 3).iter().zip(own) {
            assert!((got - want).abs() < 1e-12);
        }
        let more = shares(&[&own, &[0.6, 0.4]], 24);
        assert!((more.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert!(more.windows(2).all(|w| w[0] >= w[1] - 1e-12), "{more:?}");
        assert_eq!(shares(&[], 4), [0.25; 4]);
    }

    #[test]
    fn the_middle_of_an_even_number_lies_between() {
        assert_eq!(median(vec![4.0, 1.0, 2.0, 3.0]), Some(2.5));
        assert_eq!(median(vec![4.0, 1.0, 2.0]), Some(2.0));
        assert_eq!(median(Vec::new()), None);
    }
}
