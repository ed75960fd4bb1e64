//! The record number: what the studio declares for good about a piece, as canonical JSON
//! (RFC 8785), hashed with SHA-256 and named after the hash (RFC 6920).
//!
//! Only what was declared goes in, never what was computed, and nothing private; so a newer program
//! gives the same number for the same record, and anyone can recompute it.

use super::piece::Piece;
use super::studio::Studio;
use crate::quantity::{Dimension, Reading};
use crate::record::{At, Share};
use data_encoding::{BASE64URL_NOPAD, HEXLOWER};
use serde_json::{Map, Value, json};
use sha2::{Digest, Sha256};
use unicode_normalization::UnicodeNormalization;

/// The name of one record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecordNumber {
    digest: [u8; 32],
}

impl RecordNumber {
    /// The number of a record given as its canonical bytes.
    pub fn of(canonical: &[u8]) -> RecordNumber {
        RecordNumber {
            digest: Sha256::digest(canonical).into(),
        }
    }

    /// The full digest in hexadecimal, as `sha256sum record.json` prints it.
    pub fn hex(&self) -> String {
        HEXLOWER.encode(&self.digest)
    }

    /// The full name, `ni:///sha-256;…` (RFC 6920, section 3).
    pub fn ni(&self) -> String {
        format!("ni:///sha-256;{}", BASE64URL_NOPAD.encode(&self.digest))
    }

    /// The first 64 bits in groups of four, and the check digit (RFC 6920, section 7). It is a
    /// handle to read aloud, not a proof: the full digest decides.
    pub fn spoken(&self) -> (String, char) {
        let hex = HEXLOWER.encode(&self.digest[..8]);
        let groups: Vec<&str> = (0..4).map(|i| &hex[4 * i..4 * i + 4]).collect();
        (groups.join("-"), luhn16(&hex))
    }

    /// The spoken form as a URI, `nih:sha-256-64;7f83-b165-7ff1-fc53;5`.
    pub fn nih(&self) -> String {
        let (groups, check) = self.spoken();
        format!("nih:sha-256-64;{groups};{check}")
    }
}

/// The check digit of RFC 6920, section 7: Luhn's sum in base 16 over the hexadecimal digits,
/// hyphens not counted.
pub fn luhn16(hex: &str) -> char {
    let mut sum = 0;
    for (i, c) in hex
        .chars()
        .rev()
        .filter(char::is_ascii_hexdigit)
        .enumerate()
    {
        let digit = c.to_digit(16).unwrap_or(0);
        let product = if i % 2 == 0 { digit * 2 } else { digit };
        sum += product / 16 + product % 16;
    }
    char::from_digit((16 - sum % 16) % 16, 16).unwrap_or('0')
}

/// The record as canonical JSON: the bytes of `record.json`. `front` is the SHA-256 of the front
/// photograph in hexadecimal, if there is one.
pub fn declared(studio: &Studio, piece: &Piece, front: Option<&str>) -> Vec<u8> {
    let record = json_of(studio, piece, front);
    // The tree holds only strings, small integers, arrays and objects, which always serialise.
    serde_json_canonicalizer::to_vec(&record).unwrap_or_default()
}

/// Text as it enters the record: composed form (NFC), blanks at the ends dropped, so that two
/// computers which save the same words give the same number.
fn text(value: &str) -> Value {
    Value::String(value.trim().nfc().collect())
}

fn json_of(studio: &Studio, piece: &Piece, front: Option<&str>) -> Value {
    let mut out = Map::new();
    let mut put = |key: &str, value: Option<Value>| {
        if let Some(value) = value {
            out.insert(key.to_string(), value);
        }
    };
    put("record", Some(json!(1)));
    put("studio", Some(text(&studio.studio)));
    put("weaver", Some(text(&studio.weaver)));
    put("place", opt(&studio.place));
    put("title", Some(text(&piece.title)));
    put("made", Some(text(&piece.made_text)));
    put("kind", piece.kind.as_ref().map(|k| json!(k.word())));
    put("series", piece.series.as_ref().map(series));
    put("top", piece.top.as_ref().map(|t| json!(t.word())));
    put("technique", opt(&piece.technique));
    put("inscription", opt(&piece.inscription));
    put("statement", opt(&piece.statement));
    put(
        "issued",
        piece.issued.as_ref().map(|d| json!(d.value.to_string())),
    );
    put(
        "credits",
        list(
            piece
                .credits
                .iter()
                .map(|c| object([("what", Some(text(&c.what))), ("who", opt(&c.who))])),
        ),
    );
    put(
        "warp",
        Some(object([
            ("yarn", opt(&piece.warp.yarn)),
            ("count", piece.warp.count.as_ref().map(|c| text(&c.text))),
            ("fibre", shares(&piece.warp.fibre)),
            ("ends", piece.loom.ends.as_ref().map(|e| json!(e.value))),
            ("sett", piece.loom.sett.as_ref().map(|s| text(&s.text))),
        ])),
    );
    put(
        "weft",
        list(piece.weft.iter().map(|w| {
            object([
                ("name", opt(&w.name)),
                ("count", w.count.as_ref().map(|c| text(&c.text))),
                ("fibre", shares(&w.fibre)),
                ("dye", opt(&w.dye)),
            ])
        })),
    );
    put(
        "parts",
        list(piece.parts.iter().map(|p| {
            object([
                ("part", Some(text(&p.name))),
                ("fibre", shares(&p.fibre)),
                ("method", opt(&p.method)),
            ])
        })),
    );
    let m = &piece.measured;
    put(
        "measured",
        Some(object([
            ("on", m.on.as_ref().map(|d| json!(d.value.to_string()))),
            ("height", readings(&m.height)),
            ("width", readings(&m.width)),
            (
                "diagonals",
                m.diagonals.as_ref().and_then(|d| readings(d.as_slice())),
            ),
            ("thickness", m.thickness.as_ref().map(|t| text(&t.text))),
            ("mass", m.mass.as_ref().map(|t| text(&t.text))),
        ])),
    );
    put("front_photo_sha256", front.map(|d| json!(d)));
    Value::Object(out)
}

fn series(series: &super::piece::Series) -> Value {
    object([
        ("name", Some(text(&series.name))),
        ("number", series.number.as_ref().map(|n| json!(n.value))),
        ("of", series.of.as_ref().map(|n| json!(n.value))),
    ])
}

fn opt(value: &Option<At<String>>) -> Option<Value> {
    value.as_ref().map(|v| text(v))
}

fn object<const N: usize>(entries: [(&str, Option<Value>); N]) -> Value {
    Value::Object(
        entries
            .into_iter()
            .filter_map(|(k, v)| v.map(|v| (k.to_string(), v)))
            .collect(),
    )
}

fn list(items: impl Iterator<Item = Value>) -> Option<Value> {
    let items: Vec<Value> = items.collect();
    (!items.is_empty()).then_some(Value::Array(items))
}

fn readings<D: Dimension>(all: &[At<Reading<D>>]) -> Option<Value> {
    list(all.iter().map(|r| text(&r.text)))
}

/// Shares as text, since a canonical number has no fixed decimals.
fn shares(shares: &[Share]) -> Option<Value> {
    let map: Map<String, Value> = shares
        .iter()
        .map(|s| {
            (
                s.fibre.value.trim().nfc().collect(),
                json!(s.percent.value.to_string()),
            )
        })
        .collect();
    (!map.is_empty()).then_some(Value::Object(map))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_agree_with_rfc_6920() {
        // Source, published: RFC 6920, section 8.1: the text "Hello World!" and its ni name.
        let n = RecordNumber::of(b"Hello World!");
        assert_eq!(
            n.ni(),
            "ni:///sha-256;f4OxZX_x_FO5LcGBSKHWXfwtSx-j1ncoSt3SABJtkGk"
        );
        assert_eq!(n.nih(), "nih:sha-256-64;7f83-b165-7ff1-fc53;5");
    }

    #[test]
    fn check_digits_agree_with_rfc_6920() {
        // Source, published: RFC 6920, section 8.2.
        assert_eq!(luhn16("5326-9057-e12f-e2b7-4ba0-7c89-2560-a2"), 'f');
        assert_eq!(luhn16("53269057"), 'b');
    }

    #[test]
    fn a_misread_digit_changes_the_check_digit() {
        let hex = "7f83b1657ff1fc53";
        for i in 0..16 {
            for d in "0123456789abcdef".chars() {
                let mut wrong: Vec<char> = hex.chars().collect();
                if wrong[i] != d {
                    wrong[i] = d;
                    assert_ne!(luhn16(&wrong.iter().collect::<String>()), luhn16(hex));
                }
            }
        }
    }
}
