//! The first directory of a TIFF, as far as its size and kind need it (TIFF 6.0, section 2).
//!
//! Read before a decoder is, so that a picture far too large is told from a damaged one, and a camera raw
//! from a finished picture. The pixels are left to `decode`.

use super::facts::Size;

/// The entries of a first directory: tag and first value. Values that lie elsewhere are given as 0.
#[derive(Debug)]
pub(super) struct Directory(Vec<(u16, u32)>);

impl Directory {
    /// Reads what there is; nothing for BigTIFF or when the header leads nowhere.
    pub(super) fn first_of(bytes: &[u8]) -> Option<Self> {
        let little = match bytes.get(..4)? {
            b"II*\0" => true,
            b"MM\0*" => false,
            _ => return None,
        };
        let u16_at = |at: usize| {
            let b: [u8; 2] = bytes.get(at..at.checked_add(2)?)?.try_into().ok()?;
            Some(if little {
                u16::from_le_bytes(b)
            } else {
                u16::from_be_bytes(b)
            })
        };
        let u32_at = |at: usize| {
            let b: [u8; 4] = bytes.get(at..at.checked_add(4)?)?.try_into().ok()?;
            Some(if little {
                u32::from_le_bytes(b)
            } else {
                u32::from_be_bytes(b)
            })
        };
        let start = u32_at(4)? as usize;
        let count = u16_at(start)?;
        let entries = (0..usize::from(count)).map_while(|n| {
            let at = start + 2 + 12 * n;
            let (tag, kind, values) = (u16_at(at)?, u16_at(at + 2)?, u32_at(at + 4)?);
            let value = match (kind, values) {
                (3, 1 | 2) => u32::from(u16_at(at + 8)?),
                (4, 1) => u32_at(at + 8)?,
                _ => 0,
            };
            Some((tag, value))
        });
        Some(Self(entries.collect()))
    }

    pub(super) fn value(&self, tag: u16) -> Option<u32> {
        self.0
            .iter()
            .find(|(t, _)| *t == tag)
            .map(|(_, value)| *value)
    }

    /// The size of the picture the directory describes.
    pub(super) fn size(&self) -> Option<Size> {
        let size = Size {
            width: self.value(0x0100)?,
            height: self.value(0x0101)?,
        };
        (size.pixels() > 0).then_some(size)
    }

    /// Whether this is sensor data in the clothes of a TIFF: marked as DNG, of a colour filter array or linear
    /// raw, or a reduced picture with the real one in a directory below.
    pub(super) fn is_camera_raw(&self) -> bool {
        let reduced = self.value(0x00FE).is_some_and(|v| v & 1 == 1);
        self.value(0xC612).is_some()
            || matches!(self.value(0x0106), Some(32803 | 34892))
            || (reduced && self.value(0x014A).is_some())
    }
}
