//! From whatever colours a photo is stored in to linear light in sRGB primaries.
//!
//! The rule. An embedded ICC profile that fits the pixels is honoured: one with curves and a matrix (or a
//! grey curve) is computed here, relative colorimetric, out-of-gamut parts clipped; one with tables goes
//! through the `moxcms` library by its perceptual table. Without a profile, EXIF's word for Adobe RGB is taken;
//! anything else counts as sRGB. White becomes white; black is not compensated for: it stays as dark as the
//! profile says, so that a dark yarn is not made darker than it was seen. An outside check holds all of it to
//! littlecms. Curves are evaluated with `libm`, so every machine gets the same values.
//! ICC.1:2022: matrix model annex F.3, curve types 10.6 and 10.18.

use super::curve::Curve;
use super::decode::{Channels, Pixels, Samples};
use super::facts::{ColourFacts, ProfileFound, Treatment};
use super::srgb;
use moxcms::{
    ColorProfile, DataColorSpace, Layout, ProfileText, RenderingIntent, ToneReprCurve,
    TransformOptions,
};

/// Three rows of three.
pub(super) type Matrix = [[f64; 3]; 3];

/// What is to be done with the pixels of one photo.
pub(super) enum Plan {
    /// Each channel by its curve, then a matrix from the photo's primaries to sRGB's.
    Curves {
        curves: Box<[Curve; 3]>,
        matrix: Option<Matrix>,
    },
    /// By the profile's tables to sRGB values first.
    Tables(Box<ColorProfile>),
    /// Inks without a profile.
    Inks,
}

impl Plan {
    fn all(curve: Curve, matrix: Option<Matrix>) -> Self {
        Self::Curves {
            curves: Box::new([curve.clone(), curve.clone(), curve]),
            matrix,
        }
    }

    fn srgb() -> Self {
        Self::all(Curve::Srgb, None)
    }
}

/// Decides from the profile, what EXIF says and what the pixels are.
pub(super) fn plan(
    icc: Option<&[u8]>,
    exif: ProfileFound,
    channels: Channels,
) -> (ColourFacts, Plan) {
    let facts = |found, treatment| ColourFacts { found, treatment };
    let Some(icc) = icc else {
        return match (channels, exif) {
            (Channels::Inks, found) => (facts(found, Treatment::InksEstimated), Plan::Inks),
            (Channels::Rgb | Channels::Rgba, found @ ProfileFound::ExifAdobeRgb) => {
                (facts(found, Treatment::TakenAsAdobeRgb), adobe_rgb())
            }
            (_, found) => (facts(found, Treatment::TakenAsSrgb), Plan::srgb()),
        };
    };
    let set_aside = |found| match channels {
        Channels::Inks => (facts(found, Treatment::InksEstimated), Plan::Inks),
        _ => (facts(found, Treatment::ProfileSetAside), Plan::srgb()),
    };
    let Ok(profile) = ColorProfile::new_from_slice(icc) else {
        return set_aside(ProfileFound::BrokenProfile);
    };
    let found = ProfileFound::Profile {
        name: name_of(&profile),
    };
    match (channels, profile.color_space) {
        (Channels::Grey | Channels::GreyAlpha, DataColorSpace::Gray) => {
            match profile.gray_trc.as_ref().and_then(Curve::of) {
                Some(curve) => (facts(found, Treatment::ByCurves), Plan::all(curve, None)),
                None => set_aside(found),
            }
        }
        (Channels::Rgb | Channels::Rgba, DataColorSpace::Rgb) => match by_matrix(&profile) {
            Some(plan) => (facts(found, Treatment::ByCurves), plan),
            None if has_tables(&profile) => (
                facts(found, Treatment::ByTables),
                Plan::Tables(Box::new(profile)),
            ),
            None => set_aside(found),
        },
        (Channels::Inks, DataColorSpace::Cmyk) if has_tables(&profile) => (
            facts(found, Treatment::ByTables),
            Plan::Tables(Box::new(profile)),
        ),
        _ => set_aside(found),
    }
}

fn has_tables(profile: &ColorProfile) -> bool {
    profile.lut_a_to_b_perceptual.is_some() || profile.lut_a_to_b_colorimetric.is_some()
}

/// The profile's own name, at most 80 characters and without control characters.
fn name_of(profile: &ColorProfile) -> String {
    let name = match &profile.description {
        Some(ProfileText::PlainString(text)) => text.as_str(),
        Some(ProfileText::Localizable(texts)) => texts.first().map_or("", |t| t.value.as_str()),
        Some(ProfileText::Description(text)) => text.ascii_string.as_str(),
        None => "",
    };
    let name: String = name.chars().filter(|c| !c.is_control()).take(80).collect();
    if name.trim().is_empty() {
        "without a name".to_owned()
    } else {
        name.trim().to_owned()
    }
}

fn by_matrix(profile: &ColorProfile) -> Option<Plan> {
    if !profile.is_matrix_shaper() {
        return None;
    }
    let curve = |tone: &Option<ToneReprCurve>| tone.as_ref().and_then(Curve::of);
    let curves = [
        curve(&profile.red_trc)?,
        curve(&profile.green_trc)?,
        curve(&profile.blue_trc)?,
    ];
    let (r, g, b) = (
        profile.red_colorant,
        profile.green_colorant,
        profile.blue_colorant,
    );
    let matrix = to_srgb(&[[r.x, g.x, b.x], [r.y, g.y, b.y], [r.z, g.z, b.z]])?;
    Some(Plan::Curves {
        curves: Box::new(curves),
        matrix: Some(matrix),
    })
}

/// From primaries given in XYZ (D50) to sRGB's. White stays exactly white: rounding in a profile's numbers
/// must not tint it. A profile whose white is far off is none.
fn to_srgb(primaries: &Matrix) -> Option<Matrix> {
    let mut matrix = multiply(&inverse(&srgb::PRIMARIES)?, primaries);
    for row in &mut matrix {
        let white: f64 = row.iter().sum();
        if !(0.8..=1.25).contains(&white) {
            return None;
        }
        row.iter_mut().for_each(|v| *v /= white);
    }
    Some(matrix)
}

/// Adobe RGB (1998): gamma 563/256; primaries in XYZ adapted to D50 (from memory, as its profile holds them).
fn adobe_rgb() -> Plan {
    let primaries = [
        [0.609_741_21, 0.205_276_49, 0.149_185_18],
        [0.311_111_45, 0.625_671_39, 0.063_217_16],
        [0.019_470_21, 0.060_867_31, 0.744_567_87],
    ];
    Plan::all(Curve::Gamma(563.0 / 256.0), to_srgb(&primaries))
}

/// Pixels of which each channel turns into light by a curve, and the primaries into sRGB's by a matrix.
pub(super) struct Shaped {
    pub pixels: Pixels,
    pub curves: [Curve; 3],
    pub matrix: Option<Matrix>,
}

/// Brings pixels that need tables or are inks to sRGB values; others pass as they are.
pub(super) fn shape(pixels: Pixels, plan: Plan) -> Result<Shaped, String> {
    let as_srgb = |pixels| Shaped {
        pixels,
        curves: [const { Curve::Srgb }; 3],
        matrix: None,
    };
    match plan {
        Plan::Curves { curves, matrix } => Ok(Shaped {
            pixels,
            curves: *curves,
            matrix,
        }),
        Plan::Inks => Ok(as_srgb(inks_estimated(pixels))),
        Plan::Tables(profile) => {
            let gone_wrong = |e| format!("its colour profile cannot be applied: {e:?}");
            let options = TransformOptions {
                rendering_intent: RenderingIntent::Perceptual,
                ..Default::default()
            };
            let to = ColorProfile::new_srgb();
            let (from, into, channels) = match pixels.channels {
                Channels::Rgba => (Layout::Rgba, Layout::Rgba, Channels::Rgba),
                Channels::Inks => (Layout::Rgba, Layout::Rgb, Channels::Rgb),
                _ => (Layout::Rgb, Layout::Rgb, Channels::Rgb),
            };
            let length = pixels.size.pixels() as usize * channels.count();
            let samples = match &pixels.samples {
                Samples::Eight(source) => {
                    let mut out = vec![0_u8; length];
                    let transform = profile
                        .create_transform_8bit(from, &to, into, options)
                        .map_err(gone_wrong)?;
                    transform.transform(source, &mut out).map_err(gone_wrong)?;
                    Samples::Eight(out)
                }
                Samples::Sixteen(source) => {
                    let mut out = vec![0_u16; length];
                    let transform = profile
                        .create_transform_16bit(from, &to, into, options)
                        .map_err(gone_wrong)?;
                    transform.transform(source, &mut out).map_err(gone_wrong)?;
                    Samples::Sixteen(out)
                }
            };
            Ok(as_srgb(Pixels {
                size: pixels.size,
                channels,
                samples,
            }))
        }
    }
}

/// Inks without a profile: each colour is what its ink and the black leave of the white.
fn inks_estimated(pixels: Pixels) -> Pixels {
    let samples = match pixels.samples {
        Samples::Eight(inks) => {
            let left = |ink: u8, black: u8| {
                let product = u32::from(255 - ink) * u32::from(255 - black);
                ((product + 127) / 255) as u8
            };
            Samples::Eight(
                inks.as_chunks::<4>()
                    .0
                    .iter()
                    .flat_map(|&[c, m, y, k]| [left(c, k), left(m, k), left(y, k)])
                    .collect(),
            )
        }
        sixteen @ Samples::Sixteen(_) => sixteen,
    };
    Pixels {
        size: pixels.size,
        channels: Channels::Rgb,
        samples,
    }
}

fn multiply(a: &Matrix, b: &Matrix) -> Matrix {
    std::array::from_fn(|r| std::array::from_fn(|c| (0..3).map(|k| a[r][k] * b[k][c]).sum()))
}

/// The inverse, or nothing where there is none.
pub(super) fn inverse(m: &Matrix) -> Option<Matrix> {
    let minor = |r: usize, c: usize| {
        let (r1, r2, c1, c2) = ((r + 1) % 3, (r + 2) % 3, (c + 1) % 3, (c + 2) % 3);
        m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1]
    };
    let determinant: f64 = (0..3).map(|c| m[0][c] * minor(0, c)).sum();
    (determinant.is_finite() && determinant.abs() > 1e-9)
        .then(|| std::array::from_fn(|r| std::array::from_fn(|c| minor(c, r) / determinant)))
}
