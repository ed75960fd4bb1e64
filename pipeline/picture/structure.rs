//! Side data, and the outer shape of PNG and WebP: is the file whole, how large is the picture.
//!
//! Layouts: PNG (W3C, third edition) section 5, WebP RFC 9649. JPEG and TIFF have files of their own; pixels
//! are left to `decode`.

use super::facts::{Fault, Size};

/// Side data found on the way, as they lie in the file.
#[derive(Debug, Default)]
pub(super) struct SideData {
    pub exif: Option<Vec<u8>>,
    pub xmp: Vec<u8>,
    pub icc: Option<Vec<u8>>,
    /// It holds several pictures that are shown one after the other.
    pub moving: bool,
}

/// Damage, in words.
pub(super) fn damaged(reason: &str) -> Fault {
    Fault::Damaged {
        reason: reason.to_owned(),
    }
}

fn be32(bytes: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(
        bytes.get(at..at.checked_add(4)?)?.try_into().ok()?,
    ))
}

/// Walks the chunks of a PNG to its last one and gathers EXIF and XMP wherever they stand. The profile is
/// compressed and left to the decoder.
pub(super) fn walk_png(bytes: &[u8]) -> Result<(Size, SideData), (Fault, Option<Size>)> {
    let cut = Fault::Truncated {
        length: bytes.len() as u64,
    };
    let mut side = SideData::default();
    let mut size = None;
    let mut at = 8;
    loop {
        let (Some(length), Some(kind)) = (be32(bytes, at), bytes.get(at + 4..at + 8)) else {
            return Err((cut, size));
        };
        let length = length as usize;
        let Some(body) = bytes.get(at + 8..at + 8 + length) else {
            return Err((cut, size));
        };
        if bytes.len() < at + 12 + length {
            return Err((cut, size));
        }
        match kind {
            b"IHDR" => {
                let (Some(width), Some(height)) = (be32(body, 0), be32(body, 4)) else {
                    return Err((damaged("its size cannot be read"), None));
                };
                size = Some(Size { width, height });
            }
            b"eXIf" => side.exif = Some(body.to_vec()),
            b"iTXt" if body.starts_with(b"XML:com.adobe.xmp\0") => side.xmp.extend_from_slice(body),
            b"acTL" => side.moving = true,
            b"IEND" => break,
            _ => {}
        }
        at += 12 + length;
    }
    match size {
        Some(found) if found.width > 0 && found.height > 0 => Ok((found, side)),
        _ => Err((damaged("it states no size"), None)),
    }
}

/// Whether a WebP moves: the flag in its extended header (RFC 9649, 2.7.1).
pub(super) fn webp_moves(bytes: &[u8]) -> bool {
    bytes.get(12..16) == Some(b"VP8X".as_slice())
        && bytes.get(20).is_some_and(|flags| flags & 2 != 0)
}

/// Whether a WebP holds as many bytes as its header says.
pub(super) fn webp_is_whole(bytes: &[u8]) -> bool {
    let Some(stated) = bytes.get(4..8) else {
        return false;
    };
    let stated = u64::from(u32::from_le_bytes([
        stated[0], stated[1], stated[2], stated[3],
    ]));
    bytes.len() as u64 >= stated + 8
}
