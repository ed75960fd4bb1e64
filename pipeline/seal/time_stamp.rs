//! A time-stamp by an authority (RFC 3161): that certain octets were there at a certain moment.
//!
//! The studio gets it itself, from an authority of its choice, and lays it into the piece's folder. Here it is only
//! read: for which octets it was given, and when. Whether the authority is to be believed, and whether its
//! signature fits, is proved by `openssl ts -verify` with the authority's certificate.

use cms::signed_data::SignedData;
use der::asn1::ObjectIdentifier;
use der::{Decode, Encode};
use sha2::{Digest, Sha256, Sha384, Sha512};
use x509_tsp::{TimeStampResp, TstInfo};

/// The time-stamp over `record.json`, in a piece's folder and beside the record in its bundles.
pub const TIME_STAMP_FILE: &str = "record.tsr";
/// The certificates of the authority, in the same places, where the studio has laid them there.
pub const AUTHORITY_FILE: &str = "record-authority.pem";

/// Octets a time-stamp may have; one with its certificates has a few thousand.
pub const LARGEST_TIME_STAMP: u64 = 256 * 1024;

/// What a time-stamp says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TimeStamp {
    /// Seconds since the beginning of 1970 in UTC.
    pub seconds: u64,
    algorithm: ObjectIdentifier,
    digest: Vec<u8>,
}

/// Why a time-stamp can't be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TimeStampError {
    /// The octets are no response of RFC 3161.
    #[error("is no time-stamp response (RFC 3161, DER)")]
    NotAResponse,
    /// The authority refused.
    #[error("is the authority's refusal, and holds no time-stamp")]
    Refused,
}

impl TimeStamp {
    /// Reads a response, as an authority sends it and `openssl ts -reply` writes it.
    pub fn read(octets: &[u8]) -> Result<Self, TimeStampError> {
        let wrong = |_| TimeStampError::NotAResponse;
        let response = TimeStampResp::from_der(octets).map_err(wrong)?;
        let token = response.time_stamp_token.ok_or(TimeStampError::Refused)?;
        let signed =
            SignedData::from_der(&token.content.to_der().map_err(wrong)?).map_err(wrong)?;
        let content = signed
            .encap_content_info
            .econtent
            .ok_or(TimeStampError::NotAResponse)?;
        let said = TstInfo::from_der(content.value()).map_err(wrong)?;
        Ok(Self {
            seconds: said.gen_time.to_unix_duration().as_secs(),
            algorithm: said.message_imprint.hash_algorithm.oid,
            digest: said.message_imprint.hashed_message.as_bytes().to_vec(),
        })
    }

    /// Whether it was given for these octets; nothing where its digest is of a kind not known here (SHA-256,
    /// SHA-384 and SHA-512 are).
    pub fn is_for(&self, octets: &[u8]) -> Option<bool> {
        use der::oid::db::rfc5912::{ID_SHA_256, ID_SHA_384, ID_SHA_512};
        let digest = match self.algorithm {
            ID_SHA_256 => Sha256::digest(octets).to_vec(),
            ID_SHA_384 => Sha384::digest(octets).to_vec(),
            ID_SHA_512 => Sha512::digest(octets).to_vec(),
            _ => return None,
        };
        Some(digest == self.digest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_time_stamp_is_told() {
        assert_eq!(TimeStamp::read(b""), Err(TimeStampError::NotAResponse));
        assert_eq!(
            TimeStamp::read(b"2026-07-02"),
            Err(TimeStampError::NotAResponse)
        );
        // Source, published: RFC 3161 section 2.4.2: a response with the status 2 (rejection) and no token.
        let refusal = [0x30, 0x05, 0x30, 0x03, 0x02, 0x01, 0x02];
        assert_eq!(TimeStamp::read(&refusal), Err(TimeStampError::Refused));
    }
}
