//! The pixels of a JPEG, by the `zune-jpeg` library.
//!
//! It is the decoder the `image` library uses, called directly for two things that `image` does not pass on:
//! strictness about damage, and ink values as stored.

use super::facts::Fault;
use super::jpeg::JpegShape;
use zune_core::{bytestream::ZCursor, colorspace::ColorSpace, options::DecoderOptions};

/// Decodes a JPEG that was walked: grey, RGB, or inks (0 for none), 8 bits.
pub(super) fn decode(bytes: &[u8], shape: &JpegShape) -> Result<Vec<u8>, Fault> {
    let damaged = |reason: String| Fault::Damaged { reason };
    let side = |edge: u32| edge as usize + 1;
    let options = DecoderOptions::default()
        .set_max_width(side(shape.size.width))
        .set_max_height(side(shape.size.height))
        // A decoder that forgives turns damage into grey areas. Stray bytes between the parts are no damage
        // to the picture, but a strict decoder would refuse them.
        .set_strict_mode(!shape.stray_bytes);
    let checked = without_end_marker(bytes, shape);
    let source = checked.as_deref().unwrap_or(bytes);
    let mut decoder = zune_jpeg::JpegDecoder::new_with_options(ZCursor::new(source), options);
    decoder
        .decode_headers()
        .map_err(|e| damaged(e.to_string()))?;
    let stored = decoder.input_colorspace().unwrap_or(ColorSpace::Unknown);
    let wanted = match (shape.components, stored) {
        (1, _) => ColorSpace::Luma,
        (4, ColorSpace::YCCK) => ColorSpace::YCCK,
        (4, _) => ColorSpace::CMYK,
        _ => ColorSpace::RGB,
    };
    decoder.set_options(decoder.options().jpeg_set_out_colorspace(wanted));
    let mut samples = decoder.decode().map_err(|e| damaged(e.to_string()))?;
    let expected = shape.size.pixels() as usize * wanted.num_components();
    if samples.len() != expected {
        return Err(damaged(
            "it decodes to another size than it states".to_owned(),
        ));
    }
    if shape.components == 4 {
        to_inks(&mut samples, wanted == ColorSpace::YCCK, shape.adobe);
    }
    Ok(samples)
}

/// A copy in which some padding stands in place of the end marker. At an end marker the decoder makes up what
/// is missing and tells nobody; at the end of the bytes it complains. A whole picture never reads as far as
/// that. Not for progressive pictures and those with restart markers, which need the end marker; the latter
/// were counted on the walk.
fn without_end_marker(bytes: &[u8], shape: &JpegShape) -> Option<Vec<u8>> {
    const PADDING: [u8; 16] = [0; 16];
    let fit = !shape.progressive && !shape.restarts && !shape.stray_bytes;
    fit.then(|| [&bytes[..shape.end], PADDING.as_slice()].concat())
}

/// Stored four-channel values as ink, 0 for none. With an Adobe segment inks are stored upside down, and the
/// first three may be written as luma and chroma (ITU-T T.871 equations) of what the inks leave.
fn to_inks(samples: &mut [u8], luma_chroma: bool, upside_down: bool) {
    for pixel in samples.as_chunks_mut::<4>().0 {
        if luma_chroma {
            let [y, cb, cr] = [pixel[0], pixel[1], pixel[2]].map(f64::from);
            let (cb, cr) = (cb - 128.0, cr - 128.0);
            let rgb = [
                y + 1.402 * cr,
                y - 0.344_136 * cb - 0.714_136 * cr,
                y + 1.772 * cb,
            ];
            for (sample, value) in pixel.iter_mut().zip(rgb) {
                *sample = 255 - libm::round(value.clamp(0.0, 255.0)) as u8;
            }
        }
        if upside_down {
            pixel.iter_mut().for_each(|sample| *sample = 255 - *sample);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inks_come_out_right_way_up_from_all_three_ways_of_storing_them() {
        // No ink at all, and full cyan with half black.
        let inks = [0, 0, 0, 0, 255, 0, 0, 128];
        let mut plain = inks;
        to_inks(&mut plain, false, false);
        assert_eq!(plain, inks);
        let mut upside_down = inks.map(|v| 255 - v);
        to_inks(&mut upside_down, false, true);
        assert_eq!(upside_down, inks);
        // As luma and chroma of the values 0 0 0 and 255 0 0 (ITU-T T.871: Y 76, Cb 85, Cr 255), black upside down.
        let mut luma_chroma = [0, 128, 128, 255, 76, 85, 255, 127];
        to_inks(&mut luma_chroma, true, true);
        assert!(
            luma_chroma
                .iter()
                .zip(inks)
                .all(|(a, b)| a.abs_diff(b) <= 2),
            "{luma_chroma:?}"
        );
    }
}
