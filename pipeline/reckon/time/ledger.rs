//! The ledger's entries of the time at the loom.

use super::rate::{Stretch, usual};
use super::{Spread, TimeAtWork};
use crate::quantity::Length;
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;
use crate::reckon::uncertain::Uncertain;

const WEEKDAYS: [&str; 7] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
];

impl TimeAtWork {
    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let mut all = self.counts();
        if self.spread.is_some() {
            all.push(
                Entry::uncertain("time.hours", "hours noted", self.noted.number(), "h")
                    .by(
                        "sum of the hours of all entries",
                        format!(
                            "{} of {} days have hours",
                            self.days - self.days_without_hours,
                            self.days
                        ),
                    )
                    .source("sum; each reading is known to half its last place (GUM 4.3.7)")
                    .from(["notes"]),
            );
        }
        if let Some(spread) = &self.spread {
            all.extend(spread.entries());
        }
        all.extend(self.missing());
        let rates = self.stretches.iter().filter_map(|s| {
            let name = format!("time.rate.{}", s.to);
            s.entry(name, "rate of weaving from height to height")
        });
        all.extend(rates);
        if let Some((slowest, fastest)) = self.slowest_and_fastest() {
            all.extend(slowest.entry("time.slowest".into(), "the slowest stretch"));
            all.extend(fastest.entry("time.fastest".into(), "the fastest stretch"));
        }
        let idle = self.stretches.iter().filter(|s| s.gained().mm() <= 0.0);
        let idle: Vec<String> = idle.map(|s| s.to.to_string()).collect();
        if !idle.is_empty() {
            all.push(
                Entry::words(
                    "time.without-gain",
                    "days at whose end the height had not grown: unwoven, sewn or wound on",
                    idle.join(", "),
                )
                .by("height ≤ the height noted before", "")
                .source("definition")
                .from(["notes"]),
            );
        }
        if let Some(woven) = &self.woven {
            all.extend(woven.entry("time.rate".into(), "rate of weaving over all noted heights"));
        }
        all.extend(self.whole());
        all
    }

    fn counts(&self) -> Vec<Entry> {
        let count = |name: &str, what: &str, n: f64, formula: &str, source: &str| {
            Entry::number(name, what, n, "")
                .by(formula, "")
                .source(source)
                .from(["notes"])
        };
        let week = "ISO 8601-1: a week begins on Monday";
        let mut all = vec![
            count(
                "time.days",
                "days noted",
                self.days as f64,
                "different dates among the entries",
                "count",
            ),
            count(
                "time.days-without-hours",
                "days noted without hours",
                self.days_without_hours as f64,
                "dates of which no entry gives hours",
                "count",
            ),
            count(
                "time.weeks",
                "weeks with a day at the loom",
                self.weeks as f64,
                "different weeks among the dates",
                week,
            ),
            Entry::number(
                "time.span",
                "days from the first entry to the last, both counted",
                self.span as f64,
                "d",
            )
            .by(
                "last − first + 1",
                format!("{} to {}", self.first, self.last),
            )
            .source("Gregorian calendar")
            .from(["notes"]),
        ];
        for (name, n) in WEEKDAYS.iter().zip(self.weekdays) {
            all.push(count(
                &format!("time.weekday.{name}"),
                &format!("days noted on a {}{}", name[..1].to_uppercase(), &name[1..]),
                n as f64,
                "dates that fall on it",
                "Gregorian calendar",
            ));
        }
        all
    }

    fn missing(&self) -> Vec<Entry> {
        let Some((e, spread)) = self.estimate.as_ref().zip(self.spread) else {
            return Vec::new();
        };
        let estimate = Entry::uncertain(
            "time.hours-estimated",
            "ESTIMATED hours of the days without hours; nobody noted them",
            &e.hours,
            "h",
        )
        .by(
            "m × median; u = s √(m + m² π / 2n), with n days noted and s their standard deviation",
            format!(
                "{} × {} h; n = {}, s = {} h",
                e.days,
                significant(spread.median.hours(), 5),
                spread.days,
                significant(spread.deviation.unwrap_or(0.0), 4)
            ),
        )
        .source("own rule; standard deviation by GUM 4.2.2, standard error of a median of normal numbers")
        .from(["notes", "missing_hours"]);
        let total = Entry::uncertain(
            "time.hours-with-estimate",
            "hours noted and ESTIMATED hours together",
            &self.total(),
            "h",
        )
        .by(
            "noted + estimated",
            format!(
                "{} h + {} h",
                significant(self.noted.value.hours(), 6),
                significant(e.hours.value, 6)
            ),
        )
        .source("sum")
        .from(["time.hours", "time.hours-estimated"]);
        vec![estimate, total]
    }

    fn whole(&self) -> Vec<Entry> {
        let Some(rate) = &self.whole_rate else {
            return Vec::new();
        };
        let (least, most) = usual();
        let hours = self.total().value;
        let estimated = if self.estimate.is_some() {
            ", ESTIMATED ones among them"
        } else {
            ""
        };
        vec![
            Entry::uncertain(
                "time.whole-rate",
                format!("face over all hours, warping and finishing among them{estimated}"),
                rate,
                "cm2/h",
            )
            .by(
                "area / hours",
                format!(
                    "{} cm² / {} h",
                    significant(rate.value * hours, 6),
                    significant(hours, 6)
                ),
            )
            .source("definition; plausible between 1 and 350 cm² an hour (own rule)")
            .from(["size.area", "time.hours"]),
            Entry::range(
                "time.usual-rate",
                "rate of weaving that one weaver gives as usual, from 10 ends an inch down to 4",
                (least, most),
                "cm2/h",
            )
            .by(
                "square feet a week × 30.48² / 40 h",
                "1 and 5 square feet a week",
            )
            .source(
                "J. Soroka, How long does it take to weave a tapestry?; a week taken as five days of eight hours",
            )
            .from([""; 0]),
        ]
    }
}

impl Spread {
    fn entries(&self) -> Vec<Entry> {
        let source = "Hyndman and Fan 1996, definition 7";
        let from = ["notes"];
        let mut all = vec![
            Entry::number(
                "time.day-median",
                "half of the days are shorter",
                self.median.hours(),
                "h",
            )
            .by(
                "middle of the sorted days",
                format!("of {} days", self.days),
            )
            .source(source)
            .from(from),
            Entry::range(
                "time.day-quartiles",
                "the middle half of the days lies between",
                (self.lower.hours(), self.upper.hours()),
                "h",
            )
            .by(
                "quarter and three quarters of the sorted days",
                format!("of {} days", self.days),
            )
            .source(source)
            .from(from),
            Entry::range(
                "time.day-extremes",
                "the shortest and the longest day",
                (self.shortest.hours(), self.longest.hours()),
                "h",
            )
            .by("least and greatest", format!("of {} days", self.days))
            .source("definition")
            .from(from),
        ];
        if let Some(s) = self.deviation {
            all.push(
                Entry::number(
                    "time.day-deviation",
                    "standard deviation of the days",
                    s,
                    "h",
                )
                .by(
                    "√(Σ (h − mean)² / (n − 1))",
                    format!("of {} days", self.days),
                )
                .source("GUM 4.2.2")
                .from(from),
            );
        }
        all
    }
}

impl Stretch {
    fn entry(&self, name: String, what: &str) -> Option<Entry> {
        let (rate, hours) = (self.rate.as_ref()?, self.hours.as_ref()?);
        let width = |rate: &Uncertain| {
            let gained = self.gained().cm();
            (gained > 0.0).then(|| rate.value * hours.value / gained)
        };
        let cm = |l: Length| significant(l.cm(), 5);
        Some(
            Entry::uncertain(
                name,
                format!("{what}, {} to {}", self.from, self.to),
                rate,
                "cm2/h",
            )
            .by(
                "(height − height before) × width in the loom / hours since; hems, whose height is not noted, do not count",
                format!(
                    "({} − {}) cm × {} cm / {} h",
                    cm(self.high),
                    cm(self.low),
                    significant(width(rate)?, 5),
                    significant(hours.value, 5)
                ),
            )
            .source("definition")
            .from(["notes", "loom.width"]),
        )
    }
}
