//! A moment as a list of signers has it.

use std::fmt;

/// `YYYYMMDD`, `YYYYMMDDHHMM` or `YYYYMMDDHHMMSS`, with or without `Z`. Zones are not told apart: a seal is
/// dated by the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment {
    /// Fourteen figures, with noughts for what is not said.
    figures: u64,
}

impl Moment {
    /// Reads one; nothing where it is none.
    pub fn parse(text: &str) -> Option<Moment> {
        let figures = text.strip_suffix('Z').unwrap_or(text);
        let fits =
            matches!(figures.len(), 8 | 12 | 14) && figures.bytes().all(|b| b.is_ascii_digit());
        let padded: u64 = fits
            .then(|| format!("{figures:0<14}").parse().ok())
            .flatten()?;
        let (month, day) = (padded / 100_000_000 % 100, padded / 1_000_000 % 100);
        let (hour, minute, second) = (padded / 10_000 % 100, padded / 100 % 100, padded % 100);
        let real = (1..=12).contains(&month)
            && (1..=31).contains(&day)
            && hour < 24
            && minute < 60
            && second < 60;
        real.then_some(Moment { figures: padded })
    }

    /// The first moment of a day written as `2026-07-02`.
    pub fn of_day(day: &str) -> Option<Moment> {
        let mut parts = day.split('-');
        let mut part = |len: usize| parts.next().filter(|p| p.len() == len);
        let (year, month, day) = (part(4)?, part(2)?, part(2)?);
        if parts.next().is_some() {
            return None;
        }
        Moment::parse(&format!("{year}{month}{day}"))
    }

    /// The last moment of its day.
    pub fn end_of_day(self) -> Moment {
        Moment {
            figures: self.figures / 1_000_000 * 1_000_000 + 235_959,
        }
    }

    /// As a list of signers has it: the day, in UTC.
    pub fn in_list(self) -> String {
        format!("{:08}Z", self.figures / 1_000_000)
    }
}

/// The day: `2026-07-02`.
impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let day = self.figures / 1_000_000;
        write!(
            f,
            "{:04}-{:02}-{:02}",
            day / 10_000,
            day / 100 % 100,
            day % 100
        )
    }
}
