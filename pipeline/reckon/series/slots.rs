//! The numbers that matter. A piece without a written number may have any; of a long stretch of numbers that no piece
//! names only some have to be looked at.

use super::{Remaining, Span, Written};
use std::collections::BTreeSet;

/// What a slot stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Slot {
    /// One number.
    One(u32),
    /// Any of a long stretch, between as many single numbers on both sides as there are pieces without a number.
    Any(u32, u32),
    /// Any from a number on.
    Beyond(u32),
}

/// The numbers of a series in rising order, long stretches drawn together.
///
/// A stretch that nobody names, with u pieces without a number in all, is cut to its first u numbers, one for the whole
/// middle, and its last u: a piece in the middle has room for all the others on either side wherever in the middle it is,
/// so the middle numbers are all alike; and no numbering needs more than u of them. Above the highest written number there
/// are u single numbers, and u + 1 slots that stand for any above: one for a piece that is asked about, u for those that
/// come after it.
#[derive(Debug, Clone)]
pub(super) struct Slots {
    all: Vec<Slot>,
    highest_written: Option<u32>,
}

impl Slots {
    pub fn of(written: &Written) -> Slots {
        let unnumbered = written.members.iter().filter(|m| m.numbers.is_empty());
        let free = u32::try_from(unnumbered.count()).unwrap_or(u32::MAX);
        let named: BTreeSet<u32> = written
            .members
            .iter()
            .flat_map(|m| m.numbers.iter().copied())
            .filter(|n| *n > 0)
            .collect();
        let mut all = Vec::new();
        let mut next = 1u32;
        for n in &named {
            unnamed(&mut all, next, n - 1, written.of, free);
            all.push(Slot::One(*n));
            next = n.saturating_add(1);
        }
        if let Some(of) = written.of {
            next = unnamed(&mut all, next, of, None, free);
        }
        let highest_written = named.last().copied();
        if free > 0 {
            let singles = next..next.saturating_add(free);
            let beyond = singles.end;
            all.extend(singles.map(Slot::One));
            all.extend((0..=free).map(|_| Slot::Beyond(beyond)));
        }
        Slots {
            all,
            highest_written,
        }
    }

    pub fn len(&self) -> usize {
        self.all.len()
    }

    pub fn highest_written(&self) -> Option<u32> {
        self.highest_written
    }

    /// The slot of a number.
    pub fn of_number(&self, number: u32) -> Option<usize> {
        self.all
            .binary_search_by(|slot| match slot {
                Slot::One(n) => n.cmp(&number),
                Slot::Any(a, b) if *b < number => a.cmp(&number),
                Slot::Any(a, _) if *a > number => std::cmp::Ordering::Greater,
                Slot::Any(..) => std::cmp::Ordering::Equal,
                Slot::Beyond(_) => std::cmp::Ordering::Greater,
            })
            .ok()
    }

    /// How many slots lie within a count.
    pub fn within(&self, of: u32) -> usize {
        self.all
            .iter()
            .take_while(|slot| match slot {
                Slot::One(n) => *n <= of,
                Slot::Any(_, b) => *b <= of,
                Slot::Beyond(_) => false,
            })
            .count()
    }

    /// The number of a slot that stands for one.
    pub fn number(&self, slot: usize) -> Option<u32> {
        match self.all.get(slot)? {
            Slot::One(n) => Some(*n),
            Slot::Any(..) | Slot::Beyond(_) => None,
        }
    }

    /// The numbers of a slot that has an end.
    pub fn span(&self, slot: usize) -> Option<Span> {
        match self.all.get(slot)? {
            Slot::One(n) => Some((*n, *n)),
            Slot::Any(a, b) => Some((*a, *b)),
            Slot::Beyond(_) => None,
        }
    }

    /// Slots as numbers.
    pub fn remaining(&self, slots: impl Iterator<Item = usize>) -> Remaining {
        let mut spans: Vec<Span> = Vec::new();
        let mut upwards = false;
        for slot in slots {
            let (a, b) = match self.all[slot] {
                Slot::One(n) => (n, n),
                Slot::Any(a, b) => (a, b),
                Slot::Beyond(_) => {
                    upwards = true;
                    continue;
                }
            };
            match spans.last_mut() {
                Some((_, end)) if end.checked_add(1) == Some(a) => *end = b,
                _ => spans.push((a, b)),
            }
        }
        Remaining { spans, upwards }
    }
}

/// The slots of numbers up to `to` that nobody names, and the number after them. No stretch goes beyond the count:
/// numbers above it count only where the count is left out of account.
fn unnamed(all: &mut Vec<Slot>, from: u32, to: u32, of: Option<u32>, free: u32) -> u32 {
    let after = from.max(to.saturating_add(1));
    match of.filter(|of| (from..to).contains(of)) {
        Some(of) => {
            stretch(all, from, of, free);
            stretch(all, of + 1, to, free);
        }
        None => stretch(all, from, to, free),
    }
    after
}

/// The slots of a stretch that nobody names.
fn stretch(all: &mut Vec<Slot>, from: u32, to: u32, free: u32) {
    if from > to || from == 0 {
        return;
    }
    let length = u64::from(to - from) + 1;
    if length <= 2 * u64::from(free) + 1 {
        (from..=to).for_each(|n| all.push(Slot::One(n)));
        return;
    }
    (from..from + free).for_each(|n| all.push(Slot::One(n)));
    all.push(Slot::Any(from + free, to - free));
    (to - free + 1..=to).for_each(|n| all.push(Slot::One(n)));
}
