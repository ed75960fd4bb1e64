//! What a file is, from its first bytes.
//!
//! Signatures are those of the formats' own specifications (from memory, checked against files made by
//! general-purpose image libraries). What lies behind the signature is left to `structure` and `decode`.

use super::facts::Format;
use super::tiff::Directory;

/// Names the kind of `bytes` by content.
pub(super) fn sniff(bytes: &[u8]) -> Format {
    if bytes.starts_with(&[0xFF, 0xD8, 0xFF]) {
        return Format::Jpeg;
    }
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        return Format::Png;
    }
    if bytes.get(4..8) == Some(b"ftyp") {
        return iso_media(bytes);
    }
    if bytes.starts_with(b"RIFF") {
        return match bytes.get(8..12) {
            Some(b"WEBP") => Format::WebP,
            Some(b"AVI ") => Format::NotAPicture("a film (AVI)"),
            Some(b"WAVE") => Format::NotAPicture("a sound recording (WAV)"),
            _ => Format::Unknown,
        };
    }
    if let Some(raw_or_tiff) = tiff_family(bytes) {
        return raw_or_tiff;
    }
    // Two letters could begin any text; four reserved zero bytes do not.
    if bytes.starts_with(b"BM") && bytes.get(6..10) == Some(&[0; 4]) {
        return Format::OtherPicture("BMP");
    }
    for (signature, format) in SIGNATURES {
        if bytes.starts_with(signature) {
            return *format;
        }
    }
    text_or_unknown(bytes)
}

const SIGNATURES: &[(&[u8], Format)] = &[
    (b"FUJIFILMCCD-RAW", Format::CameraRaw),
    (b"FOVb", Format::CameraRaw),
    (b"\0MRM", Format::CameraRaw),
    (b"GIF87a", Format::OtherPicture("GIF")),
    (b"GIF89a", Format::OtherPicture("GIF")),
    (
        b"8BPS",
        Format::OtherPicture("a layered working file (PSD)"),
    ),
    (b"\xFF\x0A", Format::OtherPicture("JPEG XL")),
    (b"\0\0\0\x0CJXL \r\n\x87\n", Format::OtherPicture("JPEG XL")),
    (
        b"\0\0\0\x0CjP  \r\n\x87\n",
        Format::OtherPicture("JPEG 2000"),
    ),
    (
        b"gimp xcf",
        Format::OtherPicture("a layered working file (XCF)"),
    ),
    (b"%PDF-", Format::NotAPicture("a PDF")),
    (
        b"PK\x03\x04",
        Format::NotAPicture("a zip, or an office document"),
    ),
    (b"\x1f\x8b", Format::NotAPicture("a gzip archive")),
    (b"ID3", Format::NotAPicture("a sound recording (MP3)")),
    (b"\x1aE\xdf\xa3", Format::NotAPicture("a film (Matroska)")),
];

/// Files in the ISO base media layout are told apart by their brands (ISO/IEC 14496-12, 4.3).
fn iso_media(bytes: &[u8]) -> Format {
    let length = bytes
        .get(..4)
        .map_or(0, |b| u32::from_be_bytes([b[0], b[1], b[2], b[3]]) as usize);
    let brands = bytes
        .get(8..length.clamp(8, 256).min(bytes.len()))
        .unwrap_or_default();
    let mut heic = false;
    for (at, brand) in brands.chunks_exact(4).enumerate() {
        // The second word is the minor version, not a brand.
        match brand {
            _ if at == 1 => {}
            b"avif" | b"avis" => return Format::Avif,
            b"crx " => return Format::CameraRaw,
            b"heic" | b"heix" | b"hevc" | b"hevx" | b"heim" | b"heis" | b"mif1" | b"msf1" => {
                heic = true
            }
            _ => {}
        }
    }
    if heic {
        Format::Heic
    } else {
        Format::NotAPicture("a film (MP4 or QuickTime)")
    }
}

/// TIFF proper, and the camera raws that are built as TIFF.
fn tiff_family(bytes: &[u8]) -> Option<Format> {
    match bytes.get(..4)? {
        b"IIRO" | b"IIRS" | b"MMOR" | b"IIU\0" => return Some(Format::CameraRaw),
        b"II+\0" | b"MM\0+" => return Some(Format::Tiff),
        b"II*\0" | b"MM\0*" => {}
        _ => return None,
    }
    // Canon's second raw kind marks itself right behind the header.
    if bytes.get(8..10) == Some(b"CR") {
        return Some(Format::CameraRaw);
    }
    let raw = Directory::first_of(bytes).is_some_and(|directory| directory.is_camera_raw());
    Some(if raw { Format::CameraRaw } else { Format::Tiff })
}

fn text_or_unknown(bytes: &[u8]) -> Format {
    let head = &bytes[..bytes.len().min(1024)];
    if !head.is_empty() && head.iter().all(|&b| b == 0) {
        return Format::NotAPicture("nothing but zero bytes, as a failed copy leaves behind");
    }
    let printable = |b: u8| b >= 0x20 || matches!(b, b'\t' | b'\n' | b'\r');
    let text = match std::str::from_utf8(head) {
        Ok(text) => text,
        // A character cut in two at the end of the head is no reason to doubt the rest.
        Err(e) if e.error_len().is_none() => {
            std::str::from_utf8(&head[..e.valid_up_to()]).unwrap_or_default()
        }
        Err(_) => return Format::Unknown,
    };
    if text.is_empty() || !text.bytes().all(printable) {
        return Format::Unknown;
    }
    let start = text
        .trim_start_matches('\u{feff}')
        .trim_start()
        .to_ascii_lowercase();
    if start.starts_with("<!doctype html") || start.starts_with("<html") {
        Format::NotAPicture("a web page")
    } else if start.starts_with("<svg") || (start.starts_with("<?xml") && start.contains("<svg")) {
        Format::OtherPicture("SVG")
    } else {
        Format::NotAPicture("plain text")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_phone_picture_is_told_from_a_film() {
        let heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic....";
        let avif = b"\0\0\0\x1cftypavif\0\0\0\0avifmif1miaf....";
        let film = b"\0\0\0\x18ftypisom\0\0\x02\0isommp42....";
        assert_eq!(sniff(heic), Format::Heic);
        assert_eq!(sniff(avif), Format::Avif);
        assert_eq!(
            sniff(film),
            Format::NotAPicture("a film (MP4 or QuickTime)")
        );
    }

    #[test]
    fn a_raw_built_as_tiff_is_not_taken_for_a_tiff() {
        // One directory entry: DNGVersion, four bytes.
        let dng = b"II*\0\x08\0\0\0\x01\0\x12\xC6\x01\0\x04\0\0\0\x01\x04\0\0\0\0\0\0";
        let plain = b"II*\0\x08\0\0\0\x01\0\x00\x01\x03\0\x01\0\0\0\x01\x00\0\0\0\0\0\0";
        assert_eq!(sniff(dng), Format::CameraRaw);
        assert_eq!(sniff(plain), Format::Tiff);
    }

    #[test]
    fn text_and_web_pages_are_named() {
        assert_eq!(
            sniff(b"title: Tide Tables\n"),
            Format::NotAPicture("plain text")
        );
        assert_eq!(
            sniff(b"<!DOCTYPE html><html>"),
            Format::NotAPicture("a web page")
        );
        assert_eq!(
            sniff(&[0; 64]),
            Format::NotAPicture("nothing but zero bytes, as a failed copy leaves behind")
        );
        assert_eq!(sniff(&[7, 1, 200, 3]), Format::Unknown);
    }
}
