//! The letters of a delimited file: UTF-8 with and without its mark, UTF-16 with its mark, else Windows-1252.

/// Octets 0x80 to 0x9F of Windows-1252; the rest are as in Latin 1. Nought where none is given: the octet then
/// stands for the control character of its number (WHATWG Encoding Standard, index windows-1252).
const UPPER: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}',
    '\u{90}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
];

/// The text, and what its letters were written in.
pub(super) fn decode(octets: &[u8]) -> Result<(String, &'static str), String> {
    match octets {
        [0xEF, 0xBB, 0xBF, rest @ ..] => match std::str::from_utf8(rest) {
            Ok(text) => Ok((text.to_string(), "UTF-8")),
            Err(e) => Err(format!(
                "its mark says UTF-8, but octet {} is not: save it anew as csv UTF-8",
                e.valid_up_to() + 4
            )),
        },
        [0xFF, 0xFE, rest @ ..] => wide(rest, u16::from_le_bytes),
        [0xFE, 0xFF, rest @ ..] => wide(rest, u16::from_be_bytes),
        _ => {
            if octets.contains(&0) {
                return Err(
                    "this is no text and no workbook that is read here (xlsx, ods)".to_string(),
                );
            }
            match std::str::from_utf8(octets) {
                Ok(text) if text.is_ascii() => Ok((text.to_string(), "plain letters")),
                Ok(text) => Ok((text.to_string(), "UTF-8")),
                Err(_) => Ok((octets.iter().map(|o| western(*o)).collect(), "Windows-1252")),
            }
        }
    }
}

fn western(octet: u8) -> char {
    match octet {
        0x80..=0x9F => UPPER[usize::from(octet - 0x80)],
        octet => char::from(octet),
    }
}

fn wide(octets: &[u8], join: fn([u8; 2]) -> u16) -> Result<(String, &'static str), String> {
    let (pairs, odd) = octets.as_chunks::<2>();
    let units: Vec<u16> = pairs.iter().map(|pair| join(*pair)).collect();
    match String::from_utf16(&units) {
        Ok(text) if odd.is_empty() => Ok((text, "UTF-16")),
        _ => Err("its mark says UTF-16, but it is not: save it anew as csv UTF-8".to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_told_by_what_the_file_holds() {
        // Source, published: WHATWG Encoding Standard, index windows-1252: 0x80 is U+20AC, 0x96 U+2013, 0xF6 U+00F6.
        for (octets, text, said) in [
            (&b"H\xf6he \x80 \x96"[..], "Höhe € –", "Windows-1252"),
            ("Höhe".as_bytes(), "Höhe", "UTF-8"),
            (b"\xef\xbb\xbfH\xc3\xb6he", "Höhe", "UTF-8"),
            (b"\xff\xfeH\0\xf6\0", "Hö", "UTF-16"),
            (b"\xfe\xff\0H\0\xf6", "Hö", "UTF-16"),
            (b"height", "height", "plain letters"),
        ] {
            assert_eq!(decode(octets).unwrap(), (text.to_string(), said));
        }
        assert!(decode(b"\xff\xfeH").is_err());
        assert!(decode(b"\xef\xbb\xbf\xff").unwrap_err().contains("octet 4"));
        assert!(decode(b"a\0b").is_err());
    }
}
