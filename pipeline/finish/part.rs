//! Dealing out the pieces of a large archive, so that many machines can each finish a part of it.

use sha2::{Digest, Sha256};
use std::str::FromStr;

/// One part of several.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Part {
    k: u32,
    n: u32,
}

/// The most parts that an archive is dealt into.
const MOST: u32 = 10_000;

impl Part {
    /// Whether a piece belongs to this part. It depends on the piece's name alone: a piece that comes or goes moves no
    /// other (the first 64 bits of the name's SHA-256, modulo the number of parts).
    pub fn holds(self, slug: &str) -> bool {
        let digest = Sha256::digest(slug.as_bytes());
        let first = digest
            .iter()
            .take(8)
            .fold(0u64, |all, b| all << 8 | u64::from(*b));
        first % u64::from(self.n) == u64::from(self.k - 1)
    }

    /// Into how many parts the archive is dealt.
    pub fn of(self) -> u32 {
        self.n
    }
}

impl FromStr for Part {
    type Err = String;

    /// `2/5` is the second of five.
    fn from_str(text: &str) -> Result<Part, String> {
        let parsed = text.split_once('/').and_then(|(k, n)| {
            let (k, n) = (k.trim().parse().ok()?, n.trim().parse().ok()?);
            (1 <= k && k <= n && n <= MOST).then_some(Part { k, n })
        });
        parsed.ok_or_else(|| {
            format!("write which part of how many, from 1/1 to {MOST}/{MOST}, such as 2/5")
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_piece_is_in_exactly_one_part_and_parts_are_about_even() {
        for n in [1, 2, 3, 7, 64] {
            let parts: Vec<Part> = (1..=n).map(|k| Part { k, n }).collect();
            let mut sizes = vec![0; n as usize];
            for i in 0..10_000 {
                let slug = format!("piece-{i}");
                let of: Vec<usize> = (0..parts.len())
                    .filter(|p| parts[*p].holds(&slug))
                    .collect();
                assert_eq!(of.len(), 1, "{slug} of {n}");
                sizes[of[0]] += 1;
            }
            let mean = 10_000.0 / f64::from(n);
            // Six standard deviations of a binomial count.
            assert!(
                sizes
                    .iter()
                    .all(|s| (f64::from(*s) - mean).abs() < 6.0 * mean.sqrt()),
                "{sizes:?}"
            );
        }
    }

    #[test]
    fn a_part_is_written_as_one_of_several() {
        assert_eq!("2/5".parse(), Ok(Part { k: 2, n: 5 }));
        for wrong in ["0/5", "6/5", "5", "a/b", "1/0", "-1/2", "1/99999"] {
            assert!(wrong.parse::<Part>().is_err(), "{wrong}");
        }
    }
}
