//! What most likely happened to a damaged file: decay leaves other traces than a hand.
//!
//! A disk that dies returns zeros for whole blocks, or turns single bits over; a copy that broke off is short; a
//! file that somebody saved anew agrees with the zip's own CRC-32, though not with the manifest.

use std::io::{self, Read};

use serde::Serialize;

use super::holder::Holder;
use crate::bag::{Algorithm, Hashes};
use crate::disk::CHUNK;

/// Zeros in a row that no photograph or paper has, and half the smallest block a disk loses (512 octets).
const ZEROED: u64 = 256;
/// Files up to this size are searched for one bit that was turned over: each bit costs a step.
const LARGEST_SEARCHED: u64 = 256 * 1024 * 1024;
/// The generator of CRC-32 as the zip format uses it, lowest power first.
const GENERATOR: u32 = 0xedb8_8320;

/// What most likely happened. Octets are counted from 0.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Damage {
    /// The end is missing.
    CutShort {
        /// Octets that are there.
        octets: u64,
        /// Octets there should be.
        of: u64,
    },
    /// Something stands behind the end.
    Grown {
        /// Octets that are there.
        octets: u64,
        /// Octets there should be.
        of: u64,
    },
    /// A stretch has become zeros.
    Zeroed {
        /// Where the first such stretch begins.
        at: u64,
        /// How many octets have become zeros, in all stretches.
        octets: u64,
    },
    /// Exactly one bit is turned over: turned back, the checksum is right.
    TurnedBit {
        /// The octet it is in.
        octet: u64,
        /// Which bit, the lowest being 0.
        bit: u8,
    },
    /// Some octets differ from a good copy.
    TurnedOctets {
        /// How many.
        octets: u64,
        /// The first of them.
        first: u64,
        /// The last of them.
        last: u64,
    },
    /// The zip was written with these octets: somebody or a program saved the file anew after the bag was made.
    Rewritten,
    /// It holds what another file of the bag should hold.
    ChangedPlaces {
        /// That other file.
        with: String,
    },
    /// It has hardly an octet in common with a good copy: another file was put in its place.
    Replaced,
}

impl Damage {
    /// In a sentence for the weaver.
    pub fn words(&self) -> String {
        match self {
            Self::CutShort { octets, of } => {
                format!("it is cut short: {octets} of its {of} octets are there")
            }
            Self::Grown { octets, of } => {
                format!("something was added behind its end: {octets} octets instead of {of}")
            }
            Self::Zeroed { at, octets } => format!(
                "the disk lost a part: {octets} octets from octet {at} on have become zeros"
            ),
            Self::TurnedBit { octet, bit } => format!(
                "a single bit was turned over (bit {bit} of octet {octet}); turned back, the file is whole"
            ),
            Self::TurnedOctets {
                octets: 1, first, ..
            } => format!("it has decayed: octet {first} is not that of the good copy"),
            Self::TurnedOctets {
                octets,
                first,
                last,
            } => format!(
                "it has decayed: {octets} octets between {first} and {last} are not those of the good copy"
            ),
            Self::Rewritten => {
                "it was saved anew after the bag was made: this is no decay of the disk".to_owned()
            }
            Self::ChangedPlaces { with } => format!("it holds what `{with}` should hold"),
            Self::Replaced => "another file was put in its place".to_owned(),
        }
    }
}

/// What the damaged file alone tells; `size` is what it should have, where that is known.
pub(super) fn alone(
    holder: &Holder,
    member: usize,
    (algorithm, checksum): (Algorithm, &str),
    size: Option<u64>,
) -> Option<Damage> {
    let mut crc = crc32fast::Hasher::new();
    let mut zeros = Zeros::default();
    let mut octets: u64 = 0;
    each_piece(&mut holder.stream(member).ok()?, &mut |piece| {
        crc.update(piece);
        zeros.look(piece);
        octets += piece.len() as u64;
    })
    .ok()?;
    match size {
        Some(of) if octets < of => return Some(Damage::CutShort { octets, of }),
        Some(of) if octets > of => return Some(Damage::Grown { octets, of }),
        _ => {}
    }
    let (found, told) = (crc.finalize(), holder.crc(member));
    if told == Some(found) {
        return Some(Damage::Rewritten);
    }
    if let Some(told) = told
        && octets <= LARGEST_SEARCHED
        && let Some((octet, bit)) = turned_bit(told ^ found, octets)
        && checksum_turned_back(holder, member, algorithm, (octet, bit)).as_deref()
            == Some(checksum)
    {
        return Some(Damage::TurnedBit { octet, bit });
    }
    zeros.found()
}

/// What a comparison with a good copy tells.
pub(super) fn beside(damaged: &mut dyn Read, good: &mut dyn Read) -> io::Result<Option<Damage>> {
    let (mut here, mut there) = (vec![0; CHUNK], vec![0; CHUNK]);
    let (mut octets, mut of, mut apart, mut zeroed): (u64, u64, u64, u64) = (0, 0, 0, 0);
    let (mut first, mut last) = (0, 0);
    loop {
        let (got, wanted) = (fill(damaged, &mut here)?, fill(good, &mut there)?);
        for (at, (a, b)) in here[..got].iter().zip(&there[..wanted]).enumerate() {
            if a != b {
                first = if apart == 0 {
                    octets + at as u64
                } else {
                    first
                };
                last = octets + at as u64;
                apart += 1;
                zeroed += u64::from(*a == 0);
            }
        }
        octets += got as u64;
        of += wanted as u64;
        if got < CHUNK && wanted < CHUNK {
            break;
        }
    }
    let common = octets.min(of);
    Ok(if apart > common - common / 4 {
        // Octets of unlike files agree in one of 256 places, and more where both hold text.
        (zeroed < apart)
            .then_some(Damage::Replaced)
            .or(Some(Damage::Zeroed {
                at: first,
                octets: zeroed,
            }))
    } else if octets < of {
        Some(Damage::CutShort { octets, of })
    } else if octets > of {
        Some(Damage::Grown { octets, of })
    } else if apart == 0 {
        None
    } else if zeroed == apart && apart > 8 {
        Some(Damage::Zeroed {
            at: first,
            octets: zeroed,
        })
    } else {
        Some(Damage::TurnedOctets {
            octets: apart,
            first,
            last,
        })
    })
}

/// Which bit of a file of `octets` was turned over, when exactly one was: CRC-32 is linear, so the difference
/// of two of them is that of a file with this one bit set, and each place leaves a difference of its own
/// (the generator is primitive, of period 2³² − 1 bits).
fn turned_bit(difference: u32, octets: u64) -> Option<(u64, u8)> {
    let mut state = GENERATOR;
    for back in 0..octets.saturating_mul(8) {
        if state == difference {
            let bit = 7 - u8::try_from(back % 8).unwrap_or(0);
            return Some((octets - 1 - back / 8, bit));
        }
        state = (state >> 1) ^ (GENERATOR & (state & 1).wrapping_neg());
    }
    None
}

fn checksum_turned_back(
    holder: &Holder,
    member: usize,
    algorithm: Algorithm,
    at: (u64, u8),
) -> Option<String> {
    let mut hashes = Hashes::new(&[algorithm].into());
    let mut turned = TurnedBack::new(holder.stream(member).ok()?, at);
    each_piece(&mut turned, &mut |piece| hashes.update(piece)).ok()?;
    hashes.finish().remove(&algorithm)
}

/// A stream with one bit turned over.
pub(super) struct TurnedBack<R> {
    from: R,
    at: (u64, u8),
    passed: u64,
}

impl<R: Read> TurnedBack<R> {
    /// Turns over the given bit of the given octet.
    pub(super) fn new(from: R, at: (u64, u8)) -> Self {
        Self {
            from,
            at,
            passed: 0,
        }
    }
}

impl<R: Read> Read for TurnedBack<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let got = self.from.read(buffer)?;
        let (octet, bit) = self.at;
        if let Some(within) = octet.checked_sub(self.passed)
            && let Some(here) = usize::try_from(within)
                .ok()
                .and_then(|w| buffer[..got].get_mut(w))
        {
            *here ^= 1 << bit;
        }
        self.passed += got as u64;
        Ok(got)
    }
}

/// Stretches of zeros.
#[derive(Default)]
struct Zeros {
    passed: u64,
    run: u64,
    first: Option<u64>,
    octets: u64,
}

impl Zeros {
    fn look(&mut self, piece: &[u8]) {
        for octet in piece {
            self.passed += 1;
            if *octet == 0 {
                self.run += 1;
            } else {
                self.close();
            }
        }
    }

    fn close(&mut self) {
        if self.run >= ZEROED {
            self.first = self.first.or(Some(self.passed - 1 - self.run));
            self.octets += self.run;
        }
        self.run = 0;
    }

    fn found(mut self) -> Option<Damage> {
        self.passed += 1;
        self.close();
        self.first.map(|at| Damage::Zeroed {
            at,
            octets: self.octets,
        })
    }
}

fn each_piece(from: &mut dyn Read, sink: &mut dyn FnMut(&[u8])) -> io::Result<()> {
    let mut buffer = vec![0; CHUNK];
    loop {
        match fill(from, &mut buffer)? {
            0 => return Ok(()),
            got => sink(&buffer[..got]),
        }
    }
}

/// Fills the buffer as far as the stream goes.
fn fill(from: &mut dyn Read, buffer: &mut [u8]) -> io::Result<usize> {
    let mut filled = 0;
    while filled < buffer.len() {
        match from.read(&mut buffer[filled..]) {
            Ok(0) => break,
            Ok(got) => filled += got,
            Err(e) if e.kind() == io::ErrorKind::Interrupted => {}
            Err(e) => return Err(e),
        }
    }
    Ok(filled)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_turned_bit_is_found_by_its_crc() {
        let sound: Vec<u8> = (0..300_u32).map(|n| (n * 37 % 256) as u8).collect();
        let told = crc32fast::hash(&sound);
        for octet in 0..sound.len() {
            for bit in 0..8 {
                let mut turned = sound.clone();
                turned[octet] ^= 1 << bit;
                let difference = told ^ crc32fast::hash(&turned);
                assert_eq!(turned_bit(difference, 300), Some((octet as u64, bit)));
            }
        }
        assert_eq!(turned_bit(0, 300), None);
    }

    #[test]
    fn damage_is_told_apart_beside_a_good_copy() {
        let good: Vec<u8> = (0..5000_u32).map(|n| (n * 37 % 255 + 1) as u8).collect();
        let told = |damaged: &[u8]| beside(&mut &damaged[..], &mut &good[..]).unwrap();
        assert_eq!(told(&good), None);
        assert_eq!(
            told(&good[..4000]),
            Some(Damage::CutShort {
                octets: 4000,
                of: 5000
            })
        );
        let mut zeroed = good.clone();
        zeroed[512..1024].fill(0);
        assert_eq!(
            told(&zeroed),
            Some(Damage::Zeroed {
                at: 512,
                octets: 512
            })
        );
        let mut turned = good.clone();
        turned[7] ^= 1;
        turned[4000] ^= 0x10;
        assert_eq!(
            told(&turned),
            Some(Damage::TurnedOctets {
                octets: 2,
                first: 7,
                last: 4000
            })
        );
        let other: Vec<u8> = good.iter().map(|octet| octet.wrapping_add(9)).collect();
        assert_eq!(told(&other), Some(Damage::Replaced));
        let longer = [good.as_slice(), b"more"].concat();
        assert!(matches!(told(&longer), Some(Damage::Grown { .. })));
    }
}
