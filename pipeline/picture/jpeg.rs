//! The outer shape of a JPEG: is it whole, how large is the picture, where are its side data.
//!
//! Decoders forgive a great deal; a JPEG that was cut short decodes to a picture with a grey foot. Here its
//! segments are walked one by one (ITU-T T.81, annex B), so that a cut is noticed before a decoder smooths it
//! over. Pixels are left to `decode`.

use super::facts::{Fault, Format, Size};
use super::structure::{SideData, damaged};
use std::collections::BTreeMap;

/// What the walk finds.
#[derive(Debug)]
pub(super) struct JpegShape {
    pub size: Size,
    pub components: u8,
    pub progressive: bool,
    /// An Adobe segment is there: four-component values are stored upside down.
    pub adobe: bool,
    /// Bytes that belong to no segment lie between the segments.
    pub stray_bytes: bool,
    /// Restart markers divide the compressed data.
    pub restarts: bool,
    /// Where the end marker stands.
    pub end: usize,
    pub side: SideData,
}

/// A fault, and the size where it is known all the same.
type Failed = (Fault, Option<Size>);

#[derive(Debug, Clone, Copy)]
struct Frame {
    size: Size,
    components: u8,
    progressive: bool,
    /// Width and height in pixels of the unit an interleaved scan is made of.
    unit: (u32, u32),
}

const EXIF: &[u8] = b"Exif\0\0";
const XMP: &[u8] = b"http://ns.adobe.com/xap/1.0/\0";
const XMP_MORE: &[u8] = b"http://ns.adobe.com/xmp/extension/\0";
const ICC: &[u8] = b"ICC_PROFILE\0";

#[derive(Debug, Default)]
struct Walk<'a> {
    frame: Option<Frame>,
    side: SideData,
    icc_parts: BTreeMap<u8, &'a [u8]>,
    icc_count: u8,
    adobe: bool,
    stray_bytes: bool,
    scans: u32,
    /// Units between restart markers; 0 for none.
    interval: u32,
}

/// Walks a JPEG from its first marker to its end marker. What follows the end marker (a second picture, a
/// few seconds of film, padding) does not matter.
pub(super) fn walk(bytes: &[u8]) -> Result<JpegShape, Failed> {
    let mut walk = Walk::default();
    let end = walk.segments(bytes)?;
    let Some(frame) = walk.frame else {
        return Err((damaged("it states no size"), None));
    };
    if walk.scans == 0 {
        return Err((damaged("it holds no pixels"), Some(frame.size)));
    }
    if walk.icc_count > 0 {
        // An incomplete profile is handed on as nothing: it will be found broken, and said so.
        let complete = (1..=walk.icc_count).all(|n| walk.icc_parts.contains_key(&n));
        let parts = walk.icc_parts.into_values().flatten().copied();
        walk.side.icc = Some(if complete {
            parts.collect()
        } else {
            Vec::new()
        });
    }
    Ok(JpegShape {
        size: frame.size,
        components: frame.components,
        progressive: frame.progressive,
        adobe: walk.adobe,
        stray_bytes: walk.stray_bytes,
        restarts: walk.interval > 0,
        end,
        side: walk.side,
    })
}

impl<'a> Walk<'a> {
    fn size(&self) -> Option<Size> {
        self.frame.map(|frame| frame.size)
    }

    /// Walks all segments; returns the place of the end marker.
    fn segments(&mut self, bytes: &'a [u8]) -> Result<usize, Failed> {
        let cut = Fault::Truncated {
            length: bytes.len() as u64,
        };
        let mut at = 2;
        loop {
            if bytes.get(at).is_some_and(|&b| b != 0xFF) {
                self.stray_bytes = true;
                while bytes.get(at).is_some_and(|&b| b != 0xFF) {
                    at += 1;
                }
            }
            while bytes.get(at) == Some(&0xFF) {
                at += 1;
            }
            let Some(&marker) = bytes.get(at) else {
                return Err((cut, self.size()));
            };
            at += 1;
            match marker {
                0xD9 => return Ok(at - 2),
                0x00 | 0x01 | 0xD0..=0xD8 => {
                    self.stray_bytes = true;
                    continue;
                }
                _ => {}
            }
            let Some(length) = be16(bytes, at) else {
                return Err((cut, self.size()));
            };
            if length < 2 {
                return Err((
                    damaged("a part of it states an impossible length"),
                    self.size(),
                ));
            }
            let Some(body) = bytes.get(at + 2..at + length) else {
                return Err((cut, self.size()));
            };
            at += length;
            if marker == 0xDA {
                at = self.scan(bytes, body, at, &cut)?;
            } else {
                self.segment(marker, body)?;
            }
        }
    }

    fn segment(&mut self, marker: u8, body: &'a [u8]) -> Result<(), Failed> {
        let xmp = &mut self.side.xmp;
        match marker {
            0xC4 | 0xC8 | 0xCC => {}
            0xC0..=0xCF if self.frame.is_none() => self.frame = Some(read_frame(marker, body)?),
            0xDD => self.interval = be16(body, 0).unwrap_or(0) as u32,
            0xE1 if body.starts_with(EXIF) && self.side.exif.is_none() => {
                self.side.exif = Some(body[EXIF.len()..].to_vec());
            }
            0xE1 if body.starts_with(XMP) => xmp.extend_from_slice(&body[XMP.len()..]),
            0xE1 if body.starts_with(XMP_MORE) => xmp.extend_from_slice(&body[XMP_MORE.len()..]),
            0xE2 if body.starts_with(ICC) && body.len() > ICC.len() + 2 => {
                self.icc_parts
                    .insert(body[ICC.len()], &body[ICC.len() + 2..]);
                self.icc_count = body[ICC.len() + 1];
            }
            0xEE if body.starts_with(b"Adobe") => self.adobe = true,
            _ => {}
        }
        Ok(())
    }

    /// Passes over a scan's compressed data to the next marker. Restart markers must follow one another in
    /// their order, and in a scan of all components there must be as many as the picture's size asks for.
    fn scan(
        &mut self,
        bytes: &[u8],
        header: &[u8],
        mut at: usize,
        cut: &Fault,
    ) -> Result<usize, Failed> {
        self.scans += 1;
        let size = self.size();
        let missing = || (damaged("a part of its pixels is missing"), size);
        let mut restarts = 0_u32;
        loop {
            let Some(next) = bytes
                .get(at..)
                .and_then(|rest| rest.iter().position(|&b| b == 0xFF))
            else {
                return Err((cut.clone(), size));
            };
            at += next;
            match bytes.get(at + 1) {
                None => return Err((cut.clone(), size)),
                Some(0x00) => at += 2,
                Some(0xFF) => at += 1,
                Some(&marker @ 0xD0..=0xD7) => {
                    if u32::from(marker & 7) != restarts % 8 {
                        return Err(missing());
                    }
                    restarts += 1;
                    at += 2;
                }
                Some(_) => break,
            }
        }
        if let Some(frame) = self.frame
            && self.interval > 0
            && header.first() == Some(&frame.components)
        {
            let units =
                frame.size.width.div_ceil(frame.unit.0) * frame.size.height.div_ceil(frame.unit.1);
            let expected = units.div_ceil(self.interval) - 1;
            // Some writers end with one marker more than needed.
            if restarts < expected || restarts > expected + 1 {
                return Err(missing());
            }
        }
        Ok(at)
    }
}

/// Reads a frame header; baseline, extended sequential and progressive Huffman frames of 8 bits are read.
fn read_frame(marker: u8, body: &[u8]) -> Result<Frame, Failed> {
    let (Some(&bits), Some(height), Some(width), Some(&components)) =
        (body.first(), be16(body, 1), be16(body, 3), body.get(5))
    else {
        return Err((damaged("its size cannot be read"), None));
    };
    let size = Size {
        width: width as u32,
        height: height as u32,
    };
    if width == 0 || height == 0 {
        return Err((damaged("it states a size of nothing"), None));
    }
    let unusual = |because: &str| {
        let because = because.to_owned();
        Err((
            Fault::NotReadHere {
                format: Format::Jpeg,
                because,
            },
            Some(size),
        ))
    };
    match (marker, bits) {
        (0xC0..=0xC2, 8) => {}
        (0xC0..=0xC2, _) => return unusual("it has more than 8 bits a colour"),
        (0xC3, _) => return unusual("it is of the rare lossless kind"),
        _ => return unusual("it is of a rare kind: arithmetic coded or hierarchical"),
    }
    let factors = body[6..]
        .as_chunks::<3>()
        .0
        .iter()
        .map(|c| (u32::from(c[1] >> 4), u32::from(c[1] & 15)));
    // A single component is never interleaved: its unit is one block whatever its factors say (A.2.2).
    let (h, v) = match components {
        1 => (1, 1),
        _ => factors.fold((1, 1), |most, (h, v)| (most.0.max(h), most.1.max(v))),
    };
    Ok(Frame {
        size,
        components,
        progressive: marker == 0xC2,
        unit: (8 * h, 8 * v),
    })
}

fn be16(bytes: &[u8], at: usize) -> Option<usize> {
    Some(usize::from(u16::from_be_bytes(
        bytes.get(at..at.checked_add(2)?)?.try_into().ok()?,
    )))
}
