//! The light budget of a piece in a show: what it is to get there, what it gets otherwise in the same year, what
//! it may get by its weakest yarn, and what would keep it inside.
//!
//! The year is the 365 days that end with the show's last day. A dose is light times hours (reciprocity); what a
//! class of material may get in a year is CIE 157:2004's (see [`Responsivity::a_year`]).

use super::light::{Light, Responsivity, Weakest};
use crate::quantity::{Day, Dimension};
use crate::record::Piece;

/// Light on some days of every week, from a first to a last day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shining {
    /// lx.
    pub lux: f64,
    /// Hours on a day that it shines.
    pub hours_a_day: f64,
    /// Days a week, 0 to 7.
    pub days_a_week: f64,
    /// The first day.
    pub first: Day,
    /// The last day.
    pub last: Day,
}

impl Shining {
    /// Days of the calendar from the first to the last, both counted.
    pub fn days(&self) -> f64 {
        days_between(self.first.ordinal(), self.last.ordinal())
    }

    /// Of these, the days that it shines on.
    pub fn lit_days(&self) -> f64 {
        self.days() * self.days_a_week / 7.0
    }

    /// lx·h.
    pub fn dose(&self) -> f64 {
        self.lux * self.hours_a_day * self.lit_days()
    }

    /// The part of it in the 365 days that end with a day; nothing where none of it lies there.
    pub fn in_year_to(&self, end: Day) -> Option<Shining> {
        let begin = end.ordinal() - 364;
        let first = if self.first.ordinal() < begin {
            Day::from_ordinal(begin)?
        } else {
            self.first
        };
        let last = self.last.min(end);
        (first <= last).then_some(Shining {
            first,
            last,
            ..*self
        })
    }
}

#[allow(clippy::cast_precision_loss)] // Days of a show are few.
fn days_between(first: i64, last: i64) -> f64 {
    (last - first + 1).max(0) as f64
}

/// A piece's light over the year of a show.
#[derive(Debug, Clone, PartialEq)]
pub struct Budget {
    /// The show itself.
    pub show: Shining,
    /// lx·h in other shows of the year, each by its name.
    pub others: Vec<(String, f64)>,
    /// lx·h where it hangs otherwise, and on how many days; nothing where that is not told.
    pub home: Option<(f64, f64)>,
    /// The yarn that decides; nothing where no fastness is told.
    pub weakest: Option<Weakest>,
    /// Whether some yarn's fastness is not told.
    pub others_unknown: bool,
}

/// What would keep a piece within its year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Remedy {
    /// The light with which it may stay to the end, lx; below 1 nothing helps.
    pub lux: f64,
    /// The last day on which it may hang in the light that is planned; nothing where not even the first day fits.
    pub last_day: Option<Day>,
}

impl Budget {
    /// The budget of a piece in a show, with the other shows that it goes to.
    pub fn of(piece: &Piece, show: Shining, others: &[(String, Shining)]) -> Budget {
        let light = Light::of(piece);
        let others: Vec<(String, Shining)> = others
            .iter()
            .filter_map(|(name, other)| Some((name.clone(), other.in_year_to(show.last)?)))
            .collect();
        let away: f64 = show.days().min(YEAR) + others.iter().map(|(_, o)| o.days()).sum::<f64>();
        let display = piece.display.as_ref();
        let home = display.and_then(|d| {
            let lux = d.light.as_ref()?.value.value.base();
            let hours = d.hours_a_day.as_ref()?.value;
            let days = d.days.as_ref().map_or(YEAR, |d| d.value);
            let left = days.min(YEAR - away).max(0.0);
            (0.0..=24.0)
                .contains(&hours)
                .then_some((lux * hours * left, left))
        });
        Budget {
            others: others
                .iter()
                .map(|(name, o)| (name.clone(), o.dose()))
                .collect(),
            home,
            others_unknown: !light.unknown.is_empty(),
            weakest: light.weakest,
            show,
        }
    }

    /// What it gets besides the show, lx·h.
    pub fn elsewhere(&self) -> f64 {
        self.home.map_or(0.0, |h| h.0) + self.others.iter().map(|(_, dose)| dose).sum::<f64>()
    }

    /// All of the year, lx·h.
    pub fn year(&self) -> f64 {
        self.elsewhere() + self.show.dose()
    }

    /// The class of its weakest yarn. Where nobody told any fastness the piece counts as the most fugitive.
    pub fn class(&self) -> Responsivity {
        let told = self.weakest.as_ref();
        told.map_or(Responsivity::High, Weakest::responsivity)
    }

    /// What it may get in a year, lx·h.
    pub fn allowed(&self) -> f64 {
        self.class().a_year()
    }

    /// Whether it gets more in the year than it may.
    pub fn is_over(&self) -> bool {
        self.year() > self.allowed()
    }

    /// Whether the show's light is brighter than its class may have at all.
    pub fn is_too_bright(&self) -> bool {
        self.show.lux > self.class().brightest()
    }

    /// What would keep it inside; nothing where it is inside.
    pub fn remedy(&self) -> Option<Remedy> {
        if !self.is_over() {
            return None;
        }
        let left = (self.allowed() - self.elsewhere()).max(0.0);
        let lit = self.show.hours_a_day * self.show.lit_days();
        let a_day = self.show.lux * self.show.hours_a_day * self.show.days_a_week / 7.0;
        // Whole days from the first on.
        #[allow(clippy::cast_possible_truncation)]
        let days = (left / a_day).floor() as i64;
        let last_day = (days > 0)
            .then(|| Day::from_ordinal(self.show.first.ordinal() + days - 1))
            .flatten();
        Some(Remedy {
            lux: (left / lit).floor(),
            last_day,
        })
    }
}

const YEAR: f64 = 365.0;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::piece_from;

    fn day(text: &str) -> Day {
        Day::parse(text).unwrap()
    }

    fn piece(light: &str, display: &str) -> Piece {
        let text = format!(
            "title: Low Water\nmade: 2026\nwarp: {{fibre: {{cotton: 100}}}}\nweft: [{{fibre: {{wool: 100}}, light: {light}}}]\n\
             measured: {{height: 1 m, width: 1 m}}\n{display}\n"
        );
        let (piece, findings) = piece_from("p", &"piece.yaml".into(), &text);
        assert!(findings.is_empty(), "{findings:?}");
        piece.unwrap()
    }

    fn show() -> Shining {
        Shining {
            lux: 60.0,
            hours_a_day: 7.0,
            days_a_week: 6.0,
            first: day("2027-02-05"),
            last: day("2027-04-01"),
        }
    }

    #[test]
    fn a_show_of_eight_weeks_is_light_times_hours_times_open_days() {
        // Source, exact case: 56 days, 48 of them open, 7 hours of 60 lx: 20,160 lx·h.
        assert_eq!(
            (show().days(), show().lit_days(), show().dose()),
            (56.0, 48.0, 20_160.0)
        );
    }

    #[test]
    fn a_year_holds_the_show_the_other_shows_and_the_wall_at_home() {
        // Source, exact case: 20,160 in the show, 10 days of 100 lx for 7 hours in another, and at home 10 lx for
        // 10 hours on the 299 days that are left of 365; 15,000 lx·h a year for blue wool 1 to 3 (CIE 157:2004).
        let other = Shining {
            lux: 100.0,
            days_a_week: 7.0,
            first: day("2026-11-01"),
            last: day("2026-11-10"),
            ..show()
        };
        let piece = piece("3", "display: {light: 10 lx, hours_a_day: 10}");
        let budget = Budget::of(&piece, show(), &[("Ebb".into(), other)]);
        assert_eq!(budget.others, [("Ebb".to_string(), 7000.0)]);
        assert_eq!(budget.home, Some((29_900.0, 299.0)));
        assert_eq!(budget.year(), 57_060.0);
        assert!(budget.is_over() && budget.is_too_bright());
        assert_eq!(
            budget.remedy(),
            Some(Remedy {
                lux: 0.0,
                last_day: None
            })
        );
    }

    #[test]
    fn the_remedy_is_dimmer_light_or_an_earlier_end_and_both_keep_it_inside() {
        // Source, exact case: 15,000 of 20,160 lx·h: 44 lx to the end (15,000 / (7 · 48) = 44.6), or 41 days
        // (15,000 / (60 · 7 · 6/7) = 41.7).
        let budget = Budget::of(&piece("2", ""), show(), &[]);
        let remedy = budget.remedy().unwrap();
        assert_eq!(
            (remedy.lux, remedy.last_day),
            (44.0, Some(day("2027-03-17")))
        );
        let dimmer = Shining {
            lux: remedy.lux,
            ..show()
        };
        assert!(!Budget::of(&piece("2", ""), dimmer, &[]).is_over());
        let shorter = Shining {
            last: remedy.last_day.unwrap(),
            ..show()
        };
        assert!(!Budget::of(&piece("2", ""), shorter, &[]).is_over());
        let a_day_more = Shining {
            last: day("2027-03-18"),
            ..show()
        };
        assert!(Budget::of(&piece("2", ""), a_day_more, &[]).is_over());
    }

    #[test]
    fn what_lies_before_the_year_does_not_count_and_unknown_yarns_count_as_the_most_fugitive() {
        let old = Shining {
            first: day("2026-03-01"),
            last: day("2026-04-10"),
            ..show()
        };
        // Source, exact case: the year to 2027-04-01 begins on 2026-04-02: nine of its days.
        assert_eq!(old.in_year_to(show().last).unwrap().days(), 9.0);
        let none = Budget::of(&piece("", ""), show(), &[]);
        assert!(none.allowed() == 15_000.0 && none.is_over() && none.others_unknown);
    }
}
