//! Small sets of whole numbers, as bits.

/// A set of numbers below a bound.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Bits(Vec<u64>);

impl Bits {
    /// The empty set with room for numbers below `bound`.
    pub fn empty(bound: usize) -> Bits {
        Bits(vec![0; bound.div_ceil(64)])
    }

    pub fn insert(&mut self, i: usize) {
        self.0[i / 64] |= 1 << (i % 64);
    }

    pub fn remove(&mut self, i: usize) {
        self.0[i / 64] &= !(1 << (i % 64));
    }

    pub fn has(&self, i: usize) -> bool {
        self.0[i / 64] >> (i % 64) & 1 == 1
    }

    pub fn len(&self) -> usize {
        self.0.iter().map(|w| w.count_ones() as usize).sum()
    }

    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|w| *w == 0)
    }

    pub fn first(&self) -> Option<usize> {
        let at = self.0.iter().position(|w| *w != 0)?;
        Some(at * 64 + self.0[at].trailing_zeros() as usize)
    }

    pub fn last(&self) -> Option<usize> {
        let at = self.0.iter().rposition(|w| *w != 0)?;
        Some(at * 64 + 63 - self.0[at].leading_zeros() as usize)
    }

    /// In rising order.
    pub fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        self.0.iter().enumerate().flat_map(|(k, word)| {
            let mut left = *word;
            std::iter::from_fn(move || {
                if left == 0 {
                    return None;
                }
                let bit = left.trailing_zeros() as usize;
                left &= left - 1;
                Some(k * 64 + bit)
            })
        })
    }

    /// Takes out what is below `low` or above `high`; whether anything went.
    pub fn clip(&mut self, low: usize, high: usize) -> bool {
        let mut changed = false;
        for (k, word) in self.0.iter_mut().enumerate() {
            let (from, to) = (k * 64, k * 64 + 63);
            let mut mask = u64::MAX;
            if low > to || high < from {
                mask = 0;
            } else {
                if low > from {
                    mask &= u64::MAX << (low - from);
                }
                if high < to {
                    mask &= u64::MAX >> (to - high);
                }
            }
            changed |= *word & !mask != 0;
            *word &= mask;
        }
        changed
    }
}
