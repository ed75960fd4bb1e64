//! Opening a picture (header and side data), and decoding its pixels with the `image` library.
//!
//! Size limits are checked before any pixel is decoded. JPEG pixels are left to `jpeg_pixels`, turning and
//! colours to `linear` and `colour`.

use super::facts::{Fault, Format, Size};
use super::jpeg::{self, JpegShape};
use super::jpeg_pixels;
use super::structure::{self, SideData};
use super::tiff::Directory;
use image::codecs::{png::PngDecoder, tiff::TiffDecoder, webp::WebPDecoder};
use image::{ColorType, ExtendedColorType, ImageDecoder, ImageError, Limits};
use std::io::Cursor;

/// What the samples of a pixel mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Channels {
    Grey,
    GreyAlpha,
    Rgb,
    Rgba,
    /// Cyan, magenta, yellow, black; 0 is no ink.
    Inks,
}

impl Channels {
    pub(super) fn count(self) -> usize {
        match self {
            Self::Grey => 1,
            Self::GreyAlpha => 2,
            Self::Rgb => 3,
            Self::Rgba | Self::Inks => 4,
        }
    }
}

/// Samples of 8 or 16 bits, row by row, channels together.
#[derive(Debug)]
pub(super) enum Samples {
    Eight(Vec<u8>),
    Sixteen(Vec<u16>),
}

/// Decoded pixels as stored: not turned, in the photo's own colours.
#[derive(Debug)]
pub(super) struct Pixels {
    pub size: Size,
    pub channels: Channels,
    pub samples: Samples,
}

/// A picture whose header was read and whose pixels were not.
pub(super) struct Opened<'a> {
    pub size: Size,
    pub side: SideData,
    pub channels: Channels,
    pub stray_bytes: bool,
    /// Inks that the decoder itself turns into an estimate of their colour (TIFF).
    pub inks_estimated: bool,
    source: Source<'a>,
}

enum Source<'a> {
    Jpeg(&'a [u8], JpegShape),
    Other(Format, Box<dyn ImageDecoder + 'a>),
}

/// Reads header and side data. The error comes with the size, once that is known.
pub(super) fn open(
    bytes: &[u8],
    format: Format,
    max_pixels: u64,
) -> Result<Opened<'_>, (Fault, Option<Size>)> {
    let too_large = |size: Size| {
        let fault = Fault::TooLarge {
            width: size.width,
            height: size.height,
            limit_pixels: max_pixels,
        };
        if size.pixels() > max_pixels {
            Err((fault, Some(size)))
        } else {
            Ok(())
        }
    };
    if format == Format::Jpeg {
        let mut shape = jpeg::walk(bytes)?;
        too_large(shape.size)?;
        let channels = match shape.components {
            1 => Channels::Grey,
            3 => Channels::Rgb,
            4 => Channels::Inks,
            n => {
                let because = format!("it has {n} channels");
                return Err((Fault::NotReadHere { format, because }, Some(shape.size)));
            }
        };
        let side = std::mem::take(&mut shape.side);
        let (size, stray_bytes) = (shape.size, shape.stray_bytes);
        return Ok(Opened {
            size,
            side,
            channels,
            stray_bytes,
            inks_estimated: false,
            source: Source::Jpeg(bytes, shape),
        });
    }
    let mut side = SideData::default();
    let failed = |e: ImageError| (fault_of(format, &e, bytes.len()), None);
    let limits = || {
        let mut limits = Limits::default();
        limits.max_alloc = Some(max_pixels * 8 + (256 << 20));
        limits
    };
    let mut decoder: Box<dyn ImageDecoder + '_> = match format {
        Format::Png => {
            let (size, found) = structure::walk_png(bytes)?;
            too_large(size)?;
            side = found;
            Box::new(PngDecoder::with_limits(Cursor::new(bytes), limits()).map_err(failed)?)
        }
        Format::Tiff => {
            // The decoder checks the size against the rest of the directory first, and would call a picture
            // that is too large damaged.
            if let Some(size) = Directory::first_of(bytes).and_then(|directory| directory.size()) {
                too_large(size)?;
            }
            Box::new(TiffDecoder::new(Cursor::new(bytes)).map_err(failed)?)
        }
        Format::WebP => {
            if !structure::webp_is_whole(bytes) {
                return Err((
                    Fault::Truncated {
                        length: bytes.len() as u64,
                    },
                    None,
                ));
            }
            side.moving = structure::webp_moves(bytes);
            Box::new(WebPDecoder::new(Cursor::new(bytes)).map_err(failed)?)
        }
        _ => {
            return Err((
                Fault::NotReadHere {
                    format,
                    because: "there is no decoder for it".to_owned(),
                },
                None,
            ));
        }
    };
    let (width, height) = decoder.dimensions();
    let size = Size { width, height };
    if size.pixels() == 0 {
        return Err((
            Fault::Damaged {
                reason: "it states a size of nothing".to_owned(),
            },
            None,
        ));
    }
    too_large(size)?;
    let failed = |e: ImageError| (fault_of(format, &e, bytes.len()), Some(size));
    decoder.set_limits(limits()).map_err(failed)?;
    let channels = match decoder.color_type() {
        ColorType::L8 | ColorType::L16 => Channels::Grey,
        ColorType::La8 | ColorType::La16 => Channels::GreyAlpha,
        ColorType::Rgb8 | ColorType::Rgb16 => Channels::Rgb,
        ColorType::Rgba8 | ColorType::Rgba16 => Channels::Rgba,
        other => {
            let because = format!("its pixels are of an unusual kind ({other:?})");
            return Err((Fault::NotReadHere { format, because }, Some(size)));
        }
    };
    let inks_estimated = matches!(
        decoder.original_color_type(),
        ExtendedColorType::Cmyk8 | ExtendedColorType::Cmyk16
    );
    // Side data that cannot be read are as good as none; the pixels may well be sound.
    side.icc = decoder.icc_profile().unwrap_or_default();
    // A TIFF is its own EXIF; the caller reads it from the file's bytes.
    if format != Format::Tiff && side.exif.is_none() {
        side.exif = decoder.exif_metadata().unwrap_or_default();
    }
    if side.xmp.is_empty() {
        side.xmp = decoder
            .xmp_metadata()
            .unwrap_or_default()
            .unwrap_or_default();
    }
    Ok(Opened {
        size,
        side,
        channels,
        stray_bytes: false,
        inks_estimated,
        source: Source::Other(format, decoder),
    })
}

impl Opened<'_> {
    /// Decodes the pixels. `length` is the file's, for the words of a fault.
    pub(super) fn decode(self, length: usize) -> Result<Pixels, Fault> {
        let (size, channels) = (self.size, self.channels);
        let samples = match self.source {
            Source::Jpeg(bytes, shape) => Samples::Eight(jpeg_pixels::decode(bytes, &shape)?),
            Source::Other(format, decoder) => {
                let sixteen = decoder.color_type().bytes_per_pixel() as usize > channels.count();
                let total = size.pixels() as usize * channels.count();
                let failed = |e: ImageError| fault_of(format, &e, length);
                if sixteen {
                    let mut samples = vec![0_u16; total];
                    decoder.read_image(as_bytes(&mut samples)).map_err(failed)?;
                    Samples::Sixteen(samples)
                } else {
                    let mut samples = vec![0_u8; total];
                    decoder.read_image(&mut samples).map_err(failed)?;
                    Samples::Eight(samples)
                }
            }
        };
        Ok(Pixels {
            size,
            channels,
            samples,
        })
    }
}

/// The bytes of 16-bit samples, in the machine's own order as the decoders write them.
fn as_bytes(samples: &mut [u16]) -> &mut [u8] {
    bytemuck::cast_slice_mut(samples)
}

fn fault_of(format: Format, error: &ImageError, length: usize) -> Fault {
    match error {
        ImageError::IoError(e) if e.kind() == std::io::ErrorKind::UnexpectedEof => {
            Fault::Truncated {
                length: length as u64,
            }
        }
        ImageError::Unsupported(e) => Fault::NotReadHere {
            format,
            because: one_line(&e.to_string()),
        },
        other => Fault::Damaged {
            reason: one_line(&other.to_string()),
        },
    }
}

/// A library's words on one line, at most 160 characters.
fn one_line(text: &str) -> String {
    text.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .chars()
        .take(160)
        .collect()
}
