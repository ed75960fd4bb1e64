//! Days, weeks and hours at the loom, the rate of weaving by stretch of the piece, and the points of
//! the chart of the making. All of it comes from the notes.

mod days;
mod ledger;
mod missing;
mod rate;

pub use days::Spread;
pub use missing::Estimate;
pub use rate::Stretch;

use super::figure::Figure;
use super::size::Size;
use super::uncertain::Uncertain;
use super::web::Web;
use crate::quantity::{Area, Day, Dimension, Hours, Length};
use crate::record::Piece;

/// Time at the loom, from the notes.
#[derive(Debug, Clone, PartialEq)]
pub struct TimeAtWork {
    /// First day noted.
    pub first: Day,
    /// Last day noted.
    pub last: Day,
    /// Days noted.
    pub days: usize,
    /// Days without hours.
    pub days_without_hours: usize,
    /// Hours noted, together.
    pub hours: Hours,
    /// Weaving an hour over the stretch that has both heights and hours.
    pub area_an_hour: Option<Area>,
    /// Height over the days.
    pub points: Vec<Point>,
    /// Days from the first to the last, both counted.
    pub span: i64,
    /// Weeks with a day at the loom, Monday to Sunday (ISO 8601-1).
    pub weeks: usize,
    /// Days noted on each day of the week, Monday first.
    pub weekdays: [usize; 7],
    /// Hours noted, together, with their doubt.
    pub noted: Figure<Hours>,
    /// How the hours are spread over the days; `None` where no day has hours.
    pub spread: Option<Spread>,
    /// Hours of the days without, where the record asks for an estimate and three days have hours.
    pub estimate: Option<Estimate>,
    /// From each noted height to the next.
    pub stretches: Vec<Stretch>,
    /// From the first noted height to the last.
    pub woven: Option<Stretch>,
    /// The face as it hangs over all hours, cm² an hour: warping and finishing are among the hours.
    /// `None` where a day has no hours and no estimate was asked for.
    pub whole_rate: Option<Uncertain>,
    /// Whether the noted heights run over the whole woven height; `None` where none is noted.
    pub runs_whole: Option<bool>,
}

/// One entry of the chart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// The day.
    pub day: Day,
    /// Hours that day, if noted.
    pub hours: Option<Hours>,
    /// Height woven so far, if noted.
    pub height: Option<Length>,
}

impl TimeAtWork {
    /// Reckons the time, or `None` without notes.
    pub fn of(piece: &Piece, web: &Web, size: &Size) -> Option<TimeAtWork> {
        let mut points: Vec<Point> = piece
            .notes
            .entries
            .iter()
            .map(|n| Point {
                day: n.day.value,
                hours: n.hours.as_ref().map(|h| h.value.value),
                height: n.height.as_ref().map(|h| h.value.value),
            })
            .collect();
        points.sort_by_key(|p| p.day);
        let days = days::work_days(&piece.notes);
        let (first, last) = (days.first()?.day, days.last()?.day);
        let width = width(piece, web);
        let spread = Spread::of(&days);
        let noted = Uncertain::sum(days.iter().filter_map(|d| d.hours.as_ref()));
        let estimate = if piece.estimates_hours() {
            Estimate::of(&days, spread.as_ref())
        } else {
            None
        };
        let without = days.iter().filter(|d| d.hours.is_none()).count();
        let woven = Stretch::whole(&days, width.as_ref());
        let all_hours = all_hours(&noted, without, estimate.as_ref());
        let along = if piece.top().sideways() {
            size.mean_width.value
        } else {
            size.mean_height.value
        };
        Some(TimeAtWork {
            first,
            last,
            days: days.len(),
            days_without_hours: without,
            hours: points.iter().filter_map(|p| p.hours).sum(),
            area_an_hour: woven
                .as_ref()
                .and_then(|w| w.rate.as_ref())
                .map(|r| Area::of(r.value * 1e-4)),
            span: last.ordinal() - first.ordinal() + 1,
            weeks: days::weeks(&days),
            weekdays: days::weekdays(&days),
            whole_rate: all_hours
                .map(|h| &size.area.number().times(1e4) / &h)
                .filter(|r| r.value > 0.0 && r.value.is_finite() && r.u().is_finite()),
            noted: Figure::new(noted, ["notes"]),
            spread,
            estimate,
            stretches: Stretch::all(&days, width.as_ref()),
            woven,
            runs_whole: rate::runs_whole(&days, web.woven.or(Some(along))),
            points,
        })
    }

    /// All hours: those noted, and the estimate of the rest where there is one.
    pub fn total(&self) -> Uncertain {
        match &self.estimate {
            Some(e) => self.noted.number() + &e.hours,
            None => self.noted.number().clone(),
        }
    }

    /// Whether the notes may be taken for the whole work: every day has hours, and where heights are
    /// noted they run over the whole height.
    pub fn is_complete(&self) -> bool {
        self.days_without_hours == 0 && self.runs_whole != Some(false)
    }

    /// The slowest and the fastest stretch that gained something.
    pub fn slowest_and_fastest(&self) -> Option<(&Stretch, &Stretch)> {
        let mut known: Vec<(&Stretch, f64)> = self
            .stretches
            .iter()
            .filter_map(|s| Some((s, s.rate.as_ref()?.value)))
            .collect();
        // Of equals the earlier day comes first, and the later is not taken for another.
        known.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.to.cmp(&b.0.to)));
        let slowest = known.first()?.0;
        let most = known.last()?.1;
        let fastest = known.iter().find(|(_, rate)| *rate == most)?.0;
        Some((slowest, fastest))
    }
}

/// All hours, where they are known for every day or estimated for the rest.
fn all_hours(noted: &Uncertain, without: usize, estimate: Option<&Estimate>) -> Option<Uncertain> {
    let all = match estimate {
        Some(e) => noted + &e.hours,
        None if without == 0 => noted.clone(),
        None => return None,
    };
    (all.value > 0.0 && all.value.is_finite()).then_some(all)
}

/// Width in the loom in mm: as read, or as sett and ends make it.
fn width(piece: &Piece, web: &Web) -> Option<Uncertain> {
    let read = piece
        .loom
        .width
        .as_ref()
        .map(|w| Figure::read(&w.value, "loom.width").number().clone());
    read.or_else(|| web.width.map(|w| Uncertain::exact(w.mm())))
        .filter(|w| w.value > 0.0)
}

#[cfg(test)]
mod tests {
    use super::super::Reckoning;
    use super::*;
    use crate::read::{notes_from, piece_from, studio_from};

    const PIECE: &str = "\
title: Low Water
made: 2026-03/2026-06
warp: {fibre: {cotton: 100}}
weft: [{fibre: {wool: 100}}]
measured: {height: 100 cm, width: 200 cm}
loom: {width: 200 cm, woven: 100 cm}
";

    fn reckoned(more: &str, notes: &str) -> Reckoning {
        let studio = "studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n";
        let studio = studio_from(&"studio.yaml".into(), studio).0.unwrap();
        let text = format!("{PIECE}{more}");
        let (piece, slips) = piece_from("p", &"piece.yaml".into(), &text);
        let mut piece = piece.unwrap_or_else(|| panic!("{slips:?}"));
        piece.notes = notes_from(&"notes.md".into(), notes).0;
        Reckoning::of(&studio, &piece)
    }

    fn time(more: &str, notes: &str) -> TimeAtWork {
        reckoned(more, notes).time.unwrap()
    }

    #[test]
    fn days_weeks_and_weekdays_are_those_of_the_calendar() {
        // Source, published: the documentation of Kusto's week_of_year (ISO 8601): 2020-12-31 lies in week
        // 53; with 2021-01-01 and -03 in the same week and 2021-01-04 in the next.
        let t = time(
            "",
            "## 2020-12-31 · 1 h\n## 2021-01-01 · 2 h\n## 2021-01-03 · 3 h\n## 2021-01-04 · 4 h\n## 2021-01-04 · 2 h\n",
        );
        assert_eq!((t.days, t.weeks, t.span), (4, 2, 5));
        assert_eq!(t.weekdays, [1, 0, 0, 1, 1, 0, 1]);
        assert_eq!(t.hours.hours(), 12.0);
        assert_eq!(
            t.spread.unwrap().longest.hours(),
            6.0,
            "a day's entries are added"
        );
    }

    #[test]
    fn each_stretch_has_its_own_rate_and_what_was_unwoven_none() {
        // Source, exact case: 200 cm wide; 10 cm in 5 h are 400 cm²/h, 5 cm in 5 h 200; 15 cm in all over
        // 13 h, three of them unwinding, are 3000/13.
        let t = time(
            "",
            "## 2026-03-02 · 8 h\n## 2026-03-03 · 4 h · 10 cm\n## 2026-03-04 · 5 h · 20 cm\n## 2026-03-05 · 3 h · 20 cm\n## 2026-03-06 · 5 h · 25 cm\n",
        );
        let rates: Vec<Option<f64>> = t
            .stretches
            .iter()
            .map(|s| s.rate.as_ref().map(|r| r.value))
            .collect();
        assert_eq!(rates.len(), 3);
        assert!((rates[0].unwrap() - 400.0).abs() < 1e-9);
        assert_eq!(rates[1], None);
        assert!((rates[2].unwrap() - 200.0).abs() < 1e-9);
        assert!((t.area_an_hour.unwrap().cm2() - 3000.0 / 13.0).abs() < 1e-9);
        let (slow, fast) = t.slowest_and_fastest().unwrap();
        assert_eq!((slow.to.day, fast.to.day), (6, 4));
        // Source, exact case: a rate is gained × width / hours, so to first order its relative doubts
        // add in quadrature: two heights to ± 0.5 cm, width to ± 0.5 cm, hours to ± 0.5 h, each /√3.
        let a = 0.5 / 3.0_f64.sqrt();
        let want =
            (2.0 * (a / 10.0) * (a / 10.0) + (a / 200.0) * (a / 200.0) + (a / 5.0) * (a / 5.0))
                .sqrt();
        let got = t.stretches[0].rate.as_ref().unwrap().relative();
        assert!((got - want).abs() < 1e-12, "{got} {want}");
    }

    #[test]
    fn a_day_without_hours_leaves_its_stretch_without_a_rate() {
        let t = time("", "## 2026-03-03 · 4 h · 10 cm\n## 2026-03-04 · 20 cm\n");
        assert_eq!(t.days_without_hours, 1);
        assert!(t.stretches[0].rate.is_none());
        assert!(t.area_an_hour.is_none());
        assert!(t.whole_rate.is_none());
    }

    #[test]
    fn missing_hours_are_estimated_only_when_asked_for_and_say_so() {
        let notes = "## 2026-03-02 · 4 h\n## 2026-03-03 · 6 h\n## 2026-03-04 · 8 h\n## 2026-03-05\n## 2026-03-06\n";
        assert!(time("", notes).estimate.is_none());
        assert!(time("missing_hours: leave", notes).estimate.is_none());
        let r = reckoned("missing_hours: estimate", notes);
        let t = r.time.as_ref().unwrap();
        let e = t.estimate.as_ref().unwrap();
        // Source, exact case: 4, 6 and 8 h have the median 6 and the standard deviation 2; two days are
        // 12 h; u² = 2·4 + 4·4·π/6.
        assert!((e.hours.value - 12.0).abs() < 1e-12);
        let u = (8.0 + 16.0 * std::f64::consts::PI / 6.0).sqrt();
        assert!((e.hours.u() - u).abs() < 1e-12);
        assert!((t.total().value - 30.0).abs() < 1e-12);
        assert_eq!(t.hours.hours(), 18.0, "noted hours stay as they are");
        let shouted = r
            .entries()
            .into_iter()
            .filter(|x| x.name.contains("estimate"));
        assert_eq!(shouted.filter(|x| x.what.contains("ESTIMATED")).count(), 2);
        let few = time(
            "missing_hours: estimate",
            "## 2026-03-02 · 4 h\n## 2026-03-05\n",
        );
        assert!(
            few.estimate.is_none(),
            "two days tell nothing of the spread"
        );
    }

    #[test]
    fn shares_of_time_hold_whatever_the_days_are() {
        let mut seed = 11_u64;
        let mut next = |n: u64| {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) % n
        };
        for _ in 0..200 {
            let n = 2 + next(25);
            let notes: String = (0..n)
                .map(|i| {
                    format!(
                        "## 2026-{:02}-{:02} · {}.{} h · {} cm\n",
                        1 + i / 28,
                        1 + i % 28,
                        next(12),
                        1 + next(9),
                        i + next(3)
                    )
                })
                .collect();
            let moved = notes.replace("2026-", "2027-");
            let (t, later) = (time("", &notes), time("", &moved));
            assert_eq!(t.weekdays.iter().sum::<usize>(), t.days);
            assert_eq!(t.hours, later.hours, "another year, the same hours");
            let s = t.spread.unwrap();
            assert!(
                s.shortest <= s.lower
                    && s.lower <= s.median
                    && s.median <= s.upper
                    && s.upper <= s.longest
            );
            let gained: f64 = t.stretches.iter().map(|x| x.gained().mm()).sum();
            assert!((gained - t.woven.as_ref().unwrap().gained().mm()).abs() < 1e-9);
            // The whole rate is a mean of the stretches' rates, so it lies between them where all gained.
            if let Some((slow, fast)) = t
                .slowest_and_fastest()
                .filter(|_| t.stretches.iter().all(|x| x.rate.is_some()))
            {
                let all = t.area_an_hour.unwrap().cm2();
                let rate = |x: &Stretch| x.rate.as_ref().unwrap().value;
                assert!(rate(slow) <= all + 1e-9 && all <= rate(fast) + 1e-9);
            }
        }
    }

    #[test]
    fn absurd_notes_neither_stop_it_nor_give_nonsense() {
        for notes in [
            "## 0000-01-01 · 99999999999999999 h · 99999999999999999 m\n## 9999-12-31 · 0.00001 min · 0.00001 mm\n",
            "## 2026-03-02 · 0 h · 0 cm\n## 2026-03-03 · 0 h · 10 cm\n",
            "## 2026-03-02\n",
        ] {
            for more in ["", "missing_hours: estimate", "top: left"] {
                for entry in reckoned(more, notes).entries() {
                    let text = entry.to_json().to_string() + &entry.said();
                    let text = text.replace("information", "");
                    assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
                }
            }
        }
    }
}
