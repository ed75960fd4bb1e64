//! When each owner's time begins and ends, as far as it is known.

use crate::check::days::sure;
use crate::quantity::{Day, Edtf, End};
use crate::record::Owner;

/// The bounds of one owner's time.
pub(in crate::check) struct Span<'a> {
    pub owner: &'a Owner,
    /// First and last day on which it can have begun.
    pub begun: Option<(Day, Day)>,
    /// First and last day on which it can have ended; nothing where no end is written.
    pub ended: Option<(Day, Day)>,
    /// It goes on for ever by what is written: `2010/..`.
    pub open: bool,
    /// Nothing in it is marked `?`, `~` or `%`.
    pub sure: bool,
}

/// Every owner's time, in the order written.
pub(in crate::check) fn spans(owners: &[Owner]) -> Vec<Span<'_>> {
    owners.iter().map(span).collect()
}

fn span(owner: &Owner) -> Span<'_> {
    let known = |end: &End| match end {
        End::Known(d) => Some((d.earliest(), d.latest())),
        End::Unknown | End::Open => None,
    };
    let date = &owner.from.value;
    let (begun, ended, open) = match date {
        Edtf::Interval(a, b) => (known(a), known(b), *b == End::Open),
        other => (other.earliest().zip(other.latest()), None, false),
    };
    Span {
        owner,
        begun,
        ended,
        open,
        sure: sure(date),
    }
}

/// Pairs of neighbours that stand in the order of time, nothing in them unsure.
pub(in crate::check) fn neighbours<'s, 'a>(
    all: &'s [Span<'a>],
) -> impl Iterator<Item = (&'s Span<'a>, &'s Span<'a>)> {
    all.windows(2)
        .map(|w| (&w[0], &w[1]))
        .filter(|(a, b)| a.sure && b.sure && !b.before(a))
}

impl Span<'_> {
    /// Whether it must have begun before the other did.
    pub fn before(&self, other: &Span) -> bool {
        self.begun
            .zip(other.begun)
            .is_some_and(|((_, latest), (earliest, _))| latest < earliest)
    }
}
