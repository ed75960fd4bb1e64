//! SHA-256 and SHA-512 of files and streams, both from one reading.
//!
//! The algorithms (FIPS 180-4) come from the `sha2` crate; here are the types that keep a digest from
//! being mistaken for any other text, and the reading with a fixed buffer.

use std::fmt;
use std::io::{self, Read};
use std::path::Path;
use std::str::FromStr;
use std::sync::{Arc, mpsc};
use std::thread;

use data_encoding::{HEXLOWER, HEXLOWER_PERMISSIVE};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use sha2::{Digest, Sha256, Sha512};

use super::{CHUNK, DiskError, open_file};

/// Pieces that may wait for the slower of two digests.
const AHEAD: usize = 4;

macro_rules! digest_type {
    ($name:ident, $octets:literal, $hasher:ty, $about:literal) => {
        #[doc = $about]
        /// Printed and parsed as hexadecimal (printed in lower case, parsed in either).
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub [u8; $octets]);

        impl $name {
            /// The digest of octets held in memory.
            pub fn of(octets: &[u8]) -> Self {
                Self(<$hasher>::digest(octets).into())
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&HEXLOWER.encode(&self.0))
            }
        }

        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, concat!(stringify!($name), "({})"), self)
            }
        }

        impl FromStr for $name {
            type Err = NotADigest;

            fn from_str(text: &str) -> Result<Self, NotADigest> {
                let wrong = || NotADigest {
                    octets: $octets,
                    text: text.to_owned(),
                };
                let octets = HEXLOWER_PERMISSIVE
                    .decode(text.as_bytes())
                    .map_err(|_| wrong())?;
                Ok(Self(octets.try_into().map_err(|_| wrong())?))
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                String::deserialize(deserializer)?
                    .parse()
                    .map_err(de::Error::custom)
            }
        }
    };
}

digest_type!(
    Sha256Digest,
    32,
    Sha256,
    "A SHA-256 digest (FIPS 180-4), 32 octets."
);
digest_type!(
    Sha512Digest,
    64,
    Sha512,
    "A SHA-512 digest (FIPS 180-4), 64 octets."
);

/// A text that should have been a digest in hexadecimal.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("`{text}` is not a digest: {octets} octets in hexadecimal are needed")]
pub struct NotADigest {
    octets: usize,
    text: String,
}

/// What one reading of a stream tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Digests {
    /// SHA-256 of all octets.
    pub sha256: Sha256Digest,
    /// SHA-512 of all octets.
    pub sha512: Sha512Digest,
    /// How many octets there were.
    pub octets: u64,
}

/// Both digests, fed piece by piece.
#[derive(Clone, Default)]
pub struct Digester {
    sha256: Sha256,
    sha512: Sha512,
    octets: u64,
}

impl Digester {
    /// Takes the next octets.
    pub fn update(&mut self, octets: &[u8]) {
        self.sha256.update(octets);
        self.sha512.update(octets);
        self.octets += octets.len() as u64;
    }

    /// The digests of everything taken.
    pub fn finish(self) -> Digests {
        Digests {
            sha256: Sha256Digest(self.sha256.finalize().into()),
            sha512: Sha512Digest(self.sha512.finalize().into()),
            octets: self.octets,
        }
    }
}

/// Digests many streams in turn while somebody else takes the same octets. SHA-512 is computed on a thread of its
/// own, for it costs as much as everything else together; it may lag behind, and is asked for in the end.
pub struct TwoLanes {
    to_worker: mpsc::SyncSender<Order>,
    empty: mpsc::Receiver<Arc<Vec<u8>>>,
    worker: thread::JoinHandle<Vec<Sha512Digest>>,
    begun: Vec<(Sha256Digest, u64)>,
}

enum Order {
    Take(Arc<Vec<u8>>, usize),
    EndOfStream,
}

impl TwoLanes {
    /// Begins the second thread.
    pub fn begin() -> Self {
        let (to_worker, orders) = mpsc::sync_channel::<Order>(AHEAD);
        let (give_back, empty) = mpsc::channel();
        let worker = thread::spawn(move || {
            let mut done = Vec::new();
            let mut sha512 = Sha512::new();
            for order in orders {
                match order {
                    Order::Take(buffer, filled) => {
                        sha512.update(&buffer[..filled]);
                        // The other side may have given up.
                        let _ = give_back.send(buffer);
                    }
                    Order::EndOfStream => done.push(Sha512Digest(sha512.finalize_reset().into())),
                }
            }
            done
        });
        Self {
            to_worker,
            empty,
            worker,
            begun: Vec::new(),
        }
    }

    /// Takes one stream: `read` fills a buffer and gives how many octets it put there, none at the end; `take`
    /// gets each of them in turn.
    pub fn stream<E>(
        &mut self,
        mut read: impl FnMut(&mut [u8]) -> Result<usize, E>,
        mut take: impl FnMut(&[u8]) -> Result<(), E>,
    ) -> Result<(), E> {
        let mut sha256 = Sha256::new();
        let mut octets = 0;
        loop {
            let used = self.empty.try_recv().ok();
            let used = used.and_then(|buffer| Arc::try_unwrap(buffer).ok());
            let mut buffer = used.unwrap_or_else(|| vec![0; CHUNK]);
            let filled = read(&mut buffer)?;
            if filled == 0 {
                break;
            }
            let buffer = Arc::new(buffer);
            // The worker listens until it is asked for what it has.
            let _ = self
                .to_worker
                .send(Order::Take(Arc::clone(&buffer), filled));
            sha256.update(&buffer[..filled]);
            octets += filled as u64;
            take(&buffer[..filled])?;
        }
        let _ = self.to_worker.send(Order::EndOfStream);
        self.begun
            .push((Sha256Digest(sha256.finalize().into()), octets));
        Ok(())
    }

    /// The digests of every stream, in their order.
    pub fn finish(self) -> Vec<Digests> {
        drop(self.to_worker);
        let second = match self.worker.join() {
            Ok(second) => second,
            Err(panic) => std::panic::resume_unwind(panic),
        };
        let pairs = self.begun.into_iter().zip(second);
        let both = pairs.map(|((sha256, octets), sha512)| Digests {
            sha256,
            sha512,
            octets,
        });
        both.collect()
    }
}

/// Reads to the end with a fixed buffer and gives both digests.
pub fn digest_reader(reader: &mut impl Read) -> io::Result<Digests> {
    let mut digester = Digester::default();
    let mut buffer = vec![0; CHUNK];
    loop {
        match reader.read(&mut buffer) {
            Ok(0) => return Ok(digester.finish()),
            Ok(got) => digester.update(&buffer[..got]),
            Err(e) if e.kind() == io::ErrorKind::Interrupted => {}
            Err(e) => return Err(e),
        }
    }
}

/// Both digests of a plain file.
pub fn digest_file(path: &Path) -> Result<Digests, DiskError> {
    let (mut file, _) = open_file(path)?;
    digest_reader(&mut file).map_err(|e| DiskError::from_io(path, "reading it", e))
}

#[cfg(test)]
mod tests {
    use super::*;

    // FIPS 180-4 worked examples, as published by NIST ("SHA256.pdf" and "SHA512.pdf" of its
    // Cryptographic Standards and Guidelines, examples with intermediate values): the message "abc".
    const ABC_256: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    const ABC_512: &str = "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a\
                           2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f";
    // The same source, the two-block message of SHA-256.
    const TWO_BLOCKS: &str = "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
    const TWO_BLOCKS_256: &str = "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1";

    #[test]
    fn the_published_examples_of_sha_2_come_out() {
        let digests = digest_reader(&mut &b"abc"[..]).unwrap();
        assert_eq!(digests.sha256.to_string(), ABC_256);
        assert_eq!(digests.sha512.to_string(), ABC_512);
        assert_eq!(digests.octets, 3);
        assert_eq!(
            Sha256Digest::of(TWO_BLOCKS.as_bytes()).to_string(),
            TWO_BLOCKS_256
        );
    }

    #[test]
    fn a_long_stream_read_in_small_pieces_gives_the_published_digest() {
        // Source, from memory: NIST, SHA test vectors, one million times the letter "a".
        let expected = "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0";
        let mut digester = Digester::default();
        for _ in 0..8_000 {
            digester.update(&[b'a'; 125]);
        }
        let digests = digester.finish();
        assert_eq!(digests.sha256.to_string(), expected);
        assert_eq!(digests.octets, 1_000_000);
    }

    #[test]
    fn a_digest_survives_being_written_down() {
        let digest: Sha256Digest = ABC_256.to_uppercase().parse().unwrap();
        assert_eq!(digest, Sha256Digest::of(b"abc"));
        assert!(ABC_256[1..].parse::<Sha256Digest>().is_err());
        assert!(ABC_512.parse::<Sha256Digest>().is_err());
        assert!("not hexadecimal".parse::<Sha512Digest>().is_err());
        let json = serde_json::to_string(&digest).unwrap();
        assert_eq!(serde_json::from_str::<Sha256Digest>(&json).unwrap(), digest);
    }
}
