//! The next piece, from the finished ones: hours and weeks with an interval that keeps its promise, yarn to order, cost
//! and price.

mod least_squares;
mod model;
mod past;
mod price;
mod yarn;

pub use least_squares::{Fit, Forecast, t_quantile};
pub use model::{Column, Estimated, FEWEST, LeftOut, Traits};
pub use past::{NoHours, Past};
pub use price::{Price, thirds};
pub use yarn::{Assumed, WASTE, Warp, Weft};

use crate::quantity::{Length, Money};

/// The piece that is asked about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// Height as it hangs.
    pub height: Length,
    /// Width as it hangs.
    pub width: Length,
    /// Ends in a centimetre of the loom.
    pub ends_per_cm: Option<f64>,
    /// Weft yarns.
    pub colours: usize,
    /// Whether it is woven on its side.
    pub sideways: bool,
    /// Hours at the loom in a week, if she says so; else her record tells.
    pub hours_a_week: Option<f64>,
}

impl Wanted {
    /// What the model asks.
    pub fn traits(&self) -> Traits {
        Traits {
            area: self.height.by(self.width).m2(),
            sett: self.ends_per_cm,
            colours: self.colours,
        }
    }

    /// The same with what is not said filled in from her record: the middle sett and the middle number of colours.
    pub fn filled(mut self, past: &[&Past]) -> Wanted {
        let sett = yarn::median(past.iter().filter_map(|p| p.ends_per_cm).collect());
        self.ends_per_cm = self.ends_per_cm.or(sett);
        if self.colours == 0 {
            let colours = past.iter().map(|p| p.colours as f64).collect();
            self.colours = yarn::median(colours).map_or(1, |c| (c.round() as usize).max(1));
        }
        self
    }
}

impl Past {
    /// What the model asks of it.
    pub fn traits(&self) -> Traits {
        Traits {
            area: self.area.m2(),
            sett: self.ends_per_cm,
            colours: self.colours,
        }
    }
}

/// Everything that is estimated for the next piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// What was asked, filled in.
    pub wanted: Wanted,
    /// The probability of every interval.
    pub level: f64,
    /// Hours at the loom.
    pub hours: Option<Estimated>,
    /// Weeks of the calendar from the first day at the loom to the last.
    pub weeks: Option<Weeks>,
    /// Weft.
    pub weft: Option<Weft>,
    /// Warp.
    pub warp: Option<Warp>,
    /// Cost and price.
    pub price: Option<Price>,
}

/// Weeks of the calendar.
#[derive(Debug, Clone, PartialEq)]
pub struct Weeks {
    /// The likely number.
    pub likely: f64,
    /// The interval, if there is one.
    pub range: Option<(f64, f64)>,
    /// Hours a week that they are reckoned with; nothing where they were estimated from the weeks of finished pieces.
    pub hours_a_week: Option<f64>,
}

/// Days of a mean month of the Gregorian calendar: 365.2425 / 12.
pub const DAYS_A_MONTH: f64 = 30.436_875;

impl Estimate {
    /// Estimates from those pieces that count. `rate` is what an hour costs.
    pub fn of(past: &[&Past], wanted: Wanted, level: f64, rate: Option<&Money>) -> Estimate {
        let wanted = wanted.filled(past);
        let traits = wanted.traits();
        let known = |of: &dyn Fn(&Past) -> Option<f64>| -> Vec<(Traits, f64)> {
            let told = past.iter().filter_map(|p| Some((p.traits(), of(p)?)));
            told.collect()
        };
        let hours = known(&|p| p.hours.ok().map(|h| h.hours()));
        let hours = Estimated::of(&hours, &traits, level, &Column::ALL);
        let weeks = match wanted.hours_a_week {
            Some(by) => hours.as_ref().map(|h| Weeks {
                likely: h.likely / by,
                range: h.range.map(|(low, high)| (low / by, high / by)),
                hours_a_week: Some(by),
            }),
            None => {
                Estimated::of(&known(&|p| p.weeks), &traits, level, &Column::ALL).map(|w| Weeks {
                    likely: w.likely,
                    range: w.range,
                    hours_a_week: None,
                })
            }
        };
        let price = Price::of(past, &traits, level, hours.as_ref(), rate);
        Estimate {
            weft: Weft::of(past, &wanted, level),
            warp: Warp::of(past, &wanted),
            wanted,
            level,
            hours,
            weeks,
            price,
        }
    }
}
