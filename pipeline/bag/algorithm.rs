//! The checksum algorithms of manifests, and several of them over one stream.
//!
//! RFC 8493 section 2.4 wants SHA-256 and SHA-512 from every tool, and MD5 and SHA-1 still read. The
//! algorithms come from the RustCrypto crates.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use data_encoding::HEXLOWER;
use rayon::prelude::*;
use sha2::digest::DynDigest;

/// A checksum algorithm this program can compute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Algorithm {
    /// MD5 (RFC 1321): read in old bags, never written.
    Md5,
    /// SHA-1 (RFC 3174): read in old bags, never written.
    Sha1,
    /// SHA-224 (FIPS 180-4).
    Sha224,
    /// SHA-256 (FIPS 180-4).
    Sha256,
    /// SHA-384 (FIPS 180-4).
    Sha384,
    /// SHA-512 (FIPS 180-4).
    Sha512,
}

impl Algorithm {
    /// All of them, weakest first.
    pub const ALL: [Self; 6] = [
        Self::Md5,
        Self::Sha1,
        Self::Sha224,
        Self::Sha256,
        Self::Sha384,
        Self::Sha512,
    ];

    /// The name in a manifest's file name: lower case, letters and digits only.
    pub fn name(self) -> &'static str {
        match self {
            Self::Md5 => "md5",
            Self::Sha1 => "sha1",
            Self::Sha224 => "sha224",
            Self::Sha256 => "sha256",
            Self::Sha384 => "sha384",
            Self::Sha512 => "sha512",
        }
    }

    /// The algorithm of that name, where this program knows it.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|algorithm| algorithm.name() == name)
    }

    /// Length of the checksum in hexadecimal digits.
    pub fn hex_digits(self) -> usize {
        match self {
            Self::Md5 => 32,
            Self::Sha1 => 40,
            Self::Sha224 => 56,
            Self::Sha256 => 64,
            Self::Sha384 => 96,
            Self::Sha512 => 128,
        }
    }

    /// Whether files that agree can still be made on purpose (MD5, SHA-1).
    pub fn is_broken(self) -> bool {
        matches!(self, Self::Md5 | Self::Sha1)
    }

    fn hasher(self) -> Box<dyn DynDigest + Send> {
        match self {
            Self::Md5 => Box::new(md5::Md5::default()),
            Self::Sha1 => Box::new(sha1::Sha1::default()),
            Self::Sha224 => Box::new(sha2::Sha224::default()),
            Self::Sha256 => Box::new(sha2::Sha256::default()),
            Self::Sha384 => Box::new(sha2::Sha384::default()),
            Self::Sha512 => Box::new(sha2::Sha512::default()),
        }
    }
}

impl fmt::Display for Algorithm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Md5 => "MD5",
            Self::Sha1 => "SHA-1",
            Self::Sha224 => "SHA-224",
            Self::Sha256 => "SHA-256",
            Self::Sha384 => "SHA-384",
            Self::Sha512 => "SHA-512",
        })
    }
}

/// Several checksums over one stream.
pub struct Hashes(Vec<(Algorithm, Box<dyn DynDigest + Send>)>);

impl Hashes {
    /// Begins the wanted checksums.
    pub fn new(wanted: &BTreeSet<Algorithm>) -> Self {
        Self(
            wanted
                .iter()
                .map(|algorithm| (*algorithm, algorithm.hasher()))
                .collect(),
        )
    }

    /// Takes the next octets.
    pub fn update(&mut self, octets: &[u8]) {
        for (_, hasher) in &mut self.0 {
            hasher.update(octets);
        }
    }

    /// As [`Self::update`], on several processors: for a file so large that the others are read before it is.
    pub fn update_abreast(&mut self, octets: &[u8]) {
        self.0
            .par_iter_mut()
            .for_each(|(_, hasher)| hasher.update(octets));
    }

    /// The checksums in lower-case hexadecimal.
    pub fn finish(self) -> BTreeMap<Algorithm, String> {
        self.0
            .into_iter()
            .map(|(algorithm, h)| (algorithm, HEXLOWER.encode(&h.finalize())))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_published_checksums_of_abc_come_out_of_one_stream() {
        // Source, published: MD5: RFC 1321 appendix A.5.
        // Source, published: SHA-1: RFC 3174 section 7.3, TEST1.
        // Source, published: SHA-2: the worked examples NIST publishes for FIPS 180-4.
        // Source, from memory: SHA-224 and SHA-384 of the same.
        let published = [
            (Algorithm::Md5, "900150983cd24fb0d6963f7d28e17f72"),
            (Algorithm::Sha1, "a9993e364706816aba3e25717850c26c9cd0d89d"),
            (
                Algorithm::Sha224,
                "23097d223405d8228642a477bda255b32aadbce4bda0b3f7e36c9da7",
            ),
            (
                Algorithm::Sha256,
                "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
            ),
            (
                Algorithm::Sha384,
                "cb00753f45a35e8bb5a03d699ac65007272c32ab0eded1631a8b605a43ff5bed\
                 8086072ba1e7cc2358baeca134c825a7",
            ),
            (
                Algorithm::Sha512,
                "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a\
                 2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f",
            ),
        ];
        let mut hashes = Hashes::new(&Algorithm::ALL.into_iter().collect());
        hashes.update(b"a");
        hashes.update(b"bc");
        let got = hashes.finish();
        for (algorithm, hex) in published {
            assert_eq!(got[&algorithm], hex, "{algorithm}");
            assert_eq!(algorithm.hex_digits(), hex.len(), "{algorithm}");
            assert_eq!(Algorithm::named(algorithm.name()), Some(algorithm));
        }
        assert_eq!(Algorithm::named("SHA256"), None);
    }
}
