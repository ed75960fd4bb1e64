//! One original in, everything the papers need of it out.
//!
//! The order of work: kind by content, outer shape, size limit, side data, pixels, linear light (shrunk on the
//! way), sRGB primaries, upright, squared up where corners say how, plates, measures, ladder. Turning and colours
//! come after shrinking because they then cost least, and neither changes what shrinking does.

use super::colour::{self, Matrix, Plan, Shaped};
use super::crop::{Crop, Side};
use super::decode::{self, Opened};
use super::exif;
use super::facts::{Fault, Format, Note, PhotoFacts, Size, Treatment};
use super::find::{FIND_EDGE, FoundCorners, NotFound, find};
use super::ladder::{self, Ladder};
use super::likeness;
use super::linear::Light;
use super::measures::{self, Measures, Tone};
use super::plate::{
    PRINT_EDGE, PRINT_QUALITY, Plate, SCREEN_EDGE, SCREEN_QUALITY, THUMB_EDGE, THUMB_QUALITY, plate,
};
use super::sniff::sniff;
use super::square::Square;
use super::tints::Tints;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// The most pixels that are read: the largest single exposures of phones and studio cameras stay below it.
pub const MAX_PIXELS: u64 = 200_000_000;

/// The long edge at which a photo is glanced at.
const GLANCE_EDGE: u32 = 512;

/// What is wanted besides facts and plates.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Ask {
    /// The colour ladder, for the front photo.
    pub ladder: Option<LadderAsk>,
    /// Width over height of the piece as measured. With it and with corners in `ladder` the plates show the
    /// piece alone, squared up to a rectangle of this proportion.
    pub proportion: Option<f64>,
}

/// What the colour ladder needs to know.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LadderAsk {
    /// The corners of the piece, in any order: x and y in pixels of the upright photo.
    pub corners: Option<[[f64; 2]; 4]>,
    /// The side of the upright photo at which the weaving began.
    pub began: Side,
}

/// What one decode of one original yields.
#[derive(Debug, Clone, PartialEq)]
pub struct Developed {
    pub facts: PhotoFacts,
    /// Long edge at most [`PRINT_EDGE`]; nothing if there is a fault.
    pub print: Option<Plate>,
    /// Long edge at most [`SCREEN_EDGE`]; nothing if there is a fault.
    pub screen: Option<Plate>,
    /// Long edge at most [`THUMB_EDGE`]; nothing if there is a fault.
    pub thumb: Option<Plate>,
    /// Only if it was asked for.
    pub ladder: Option<Ladder>,
    /// What the pixels say of the photo; nothing if there is a fault.
    pub measures: Option<Measures>,
}

impl Developed {
    fn without_plates(facts: PhotoFacts) -> Self {
        Self {
            facts,
            print: None,
            screen: None,
            thumb: None,
            ladder: None,
            measures: None,
        }
    }
}

/// The facts of a photo, without decoding its pixels: damage within the compressed pixels stays unseen.
pub fn look(bytes: &[u8]) -> PhotoFacts {
    guarded(bytes, || match opened(bytes) {
        Ok((facts, ..)) => facts,
        Err(facts) => *facts,
    })
    .unwrap_or_else(|facts| *facts)
}

/// Decodes a photo once and makes of it what the papers need. Never panics; a photo that cannot be used
/// yields its facts with a fault.
pub fn develop(bytes: &[u8], ask: &Ask) -> Developed {
    guarded(bytes, || develop_unguarded(bytes, ask))
        .unwrap_or_else(|facts| Developed::without_plates(*facts))
}

/// Proposes the corners of the piece in a photo by its edges against an even wall. Never panics.
pub fn find_corners(bytes: &[u8]) -> Result<FoundCorners, NotFound> {
    let found = guarded(bytes, || {
        let (facts, opened, plan) = opened(bytes)?;
        let photo = facts.upright.unwrap_or(opened.size);
        let shaped = opened.decode(bytes.len()).and_then(|pixels| {
            colour::shape(pixels, plan).map_err(|reason| Fault::Damaged { reason })
        });
        match shaped {
            Ok(shaped) => {
                let light = light_of(shaped, FIND_EDGE).upright(facts.orientation);
                Ok(find(&light, photo))
            }
            Err(fault) => Err(Box::new(facts.with_fault(fault))),
        }
    });
    match found {
        Ok(Ok(found)) => found,
        Ok(Err(facts)) | Err(facts) => {
            Err(NotFound::Fault(facts.fault.unwrap_or(Fault::NotAPicture {
                looks_like: "nothing known",
            })))
        }
    }
}

/// What a photo shows from afar, to tell which photos belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct Glance {
    pub facts: PhotoFacts,
    /// 64 bits that are nearly the same for the same picture; nothing for a picture of one tone.
    pub likeness: Option<u64>,
    /// The colours of its middle; nothing if there is a fault.
    pub tints: Option<Tints>,
}

/// Decodes a photo only to see what it looks like from afar: no plates are made. Never panics.
pub fn glance(bytes: &[u8]) -> Glance {
    let found = guarded(bytes, || {
        let (facts, opened, plan) = opened(bytes)?;
        let shaped = opened.decode(bytes.len()).and_then(|pixels| {
            colour::shape(pixels, plan).map_err(|reason| Fault::Damaged { reason })
        });
        match shaped {
            Ok(shaped) => {
                let light = light_of(shaped, GLANCE_EDGE).upright(facts.orientation);
                Ok(Glance {
                    likeness: likeness::of(&Tone::of(&light)),
                    tints: Some(Tints::of(&light)),
                    facts,
                })
            }
            Err(fault) => Err(Box::new(facts.with_fault(fault))),
        }
    });
    match found {
        Ok(Ok(glance)) => glance,
        Ok(Err(facts)) | Err(facts) => Glance {
            facts: *facts,
            likeness: None,
            tints: None,
        },
    }
}

/// A plate made smaller, for a paper with so many pictures that the largest plates would not fit into memory; nothing
/// where it can not be read or is no larger than that already.
pub fn smaller(large: &[u8], long_edge: u32) -> Option<Plate> {
    let made = guarded(large, || {
        let (facts, opened, plan) = opened(large).ok()?;
        if opened.size.long_edge() <= long_edge {
            return None;
        }
        let pixels = opened.decode(large.len()).ok()?;
        let light = light_of(colour::shape(pixels, plan).ok()?, long_edge);
        Some(plate(&light.upright(facts.orientation), PRINT_QUALITY))
    });
    made.ok().flatten()
}

/// Third-party decoders meet hostile bytes here. Their authors test them against such, but a panic in one
/// must cost one photo and not a night's work, so it is caught and told as damage.
fn guarded<T>(bytes: &[u8], work: impl FnOnce() -> T) -> Result<T, Box<PhotoFacts>> {
    catch_unwind(AssertUnwindSafe(work)).map_err(|_| {
        let reason = "the decoder gave up on it".to_owned();
        Box::new(PhotoFacts::of(sniff(bytes)).with_fault(Fault::Damaged { reason }))
    })
}

type LookedAt<'a> = (PhotoFacts, Opened<'a>, Plan);

/// Kind, shape, limits and side data; the pixels wait.
fn opened(bytes: &[u8]) -> Result<LookedAt<'_>, Box<PhotoFacts>> {
    let format = sniff(bytes);
    let mut facts = PhotoFacts::of(format);
    let because = |why: &str| Fault::NotReadHere {
        format,
        because: why.to_owned(),
    };
    let fault = match format {
        _ if bytes.is_empty() => Some(Fault::Empty),
        Format::Jpeg | Format::Png | Format::Tiff | Format::WebP => None,
        Format::Heic | Format::Avif => Some(because(
            "its compression is not free to be built in everywhere",
        )),
        Format::CameraRaw => Some(because("sensor data have no finished colours")),
        Format::OtherPicture(_) => Some(because("it is not a kind photos are kept in")),
        Format::NotAPicture(looks_like) => Some(Fault::NotAPicture { looks_like }),
        Format::Unknown => Some(Fault::NotAPicture {
            looks_like: "nothing known",
        }),
    };
    if let Some(fault) = fault {
        return Err(Box::new(facts.with_fault(fault)));
    }
    let opened = match decode::open(bytes, format, MAX_PIXELS) {
        Ok(opened) => opened,
        Err((fault, size)) => {
            facts.stored = size;
            return Err(Box::new(facts.with_fault(fault)));
        }
    };
    let exif_block = match format {
        Format::Tiff => Some(bytes),
        _ => opened.side.exif.as_deref(),
    };
    let side = exif::read_side_data(exif_block, &opened.side.xmp);
    let (colour, plan) = colour::plan(opened.side.icc.as_deref(), side.colour, opened.channels);
    let stored = opened.size;
    facts.stored = Some(stored);
    facts.orientation = side.orientation;
    facts.upright = Some(match side.orientation {
        5..=8 => Size {
            width: stored.height,
            height: stored.width,
        },
        _ => stored,
    });
    facts.colour = colour;
    if opened.inks_estimated {
        facts.colour.treatment = Treatment::InksEstimated;
    }
    facts.private = side.private;
    facts.taken = side.taken;
    facts.focal_35mm = side.focal_35mm;
    if opened.side.moving {
        facts.notes.push(Note::Moving);
    }
    if opened.stray_bytes {
        facts.notes.push(Note::StrayBytes);
    }
    if stored.long_edge() < SCREEN_EDGE {
        facts.notes.push(Note::Small {
            long_edge: stored.long_edge(),
            wanted: PRINT_EDGE,
        });
    }
    Ok((facts, opened, plan))
}

fn develop_unguarded(bytes: &[u8], ask: &Ask) -> Developed {
    let (mut facts, opened, plan) = match opened(bytes) {
        Ok(looked_at) => looked_at,
        Err(facts) => return Developed::without_plates(*facts),
    };
    let photo = facts.upright.unwrap_or(opened.size);
    let given = ask
        .ladder
        .and_then(|ask| given(&ask, photo, &mut facts.notes));
    let square = given.zip(ask.proportion).and_then(|(crop, proportion)| {
        let square = Square::of(&crop, proportion);
        if square.is_none() {
            facts.notes.push(Note::NotSquared);
        }
        square
    });
    let shaped = opened
        .decode(bytes.len())
        .and_then(|pixels| colour::shape(pixels, plan).map_err(|reason| Fault::Damaged { reason }));
    let (light, squared) = match shaped {
        Ok(shaped) => print_light(shaped, facts.orientation, square.as_ref()),
        Err(fault) => return Developed::without_plates(facts.with_fault(fault)),
    };
    let light = light.upright(facts.orientation);
    let ladder = ask.ladder.map(|ask| match (&squared, given) {
        (Some(piece), _) => ladder::read(
            piece,
            piece.size,
            &Crop::whole(piece.size, ask.began),
            false,
        ),
        (None, Some(crop)) => ladder::read(&light, photo, &crop, false),
        (None, None) => ladder::read(&light, photo, &Crop::assumed(photo, ask.began), true),
    });
    let shown = squared.as_ref().unwrap_or(&light);
    let small = || {
        let for_screen = shown.shrunk(SCREEN_EDGE);
        let screen = plate(&for_screen, SCREEN_QUALITY);
        let thumb = plate(&for_screen.shrunk(THUMB_EDGE), THUMB_QUALITY);
        (screen, thumb, measures::of(&light, photo, given.as_ref()))
    };
    let (print, (screen, thumb, measures)) = rayon::join(|| plate(shown, PRINT_QUALITY), small);
    Developed {
        facts,
        print: Some(print),
        screen: Some(screen),
        thumb: Some(thumb),
        ladder,
        measures: Some(measures),
    }
}

/// The piece by its corners, where they can be used; where not, a note says so.
fn given(ask: &LadderAsk, photo: Size, notes: &mut Vec<Note>) -> Option<Crop> {
    let Some(corners) = ask.corners else {
        notes.push(Note::CornersAssumed);
        return None;
    };
    match Crop::from_corners(&corners, photo, ask.began) {
        Ok(crop) => Some(crop),
        Err(trouble) => {
            notes.push(Note::Corners(trouble));
            None
        }
    }
}

/// Light of print size in sRGB primaries, not yet upright, and the piece squared up, upright. Takes the
/// pixels, so that they are gone before plates are made.
fn print_light(shaped: Shaped, orientation: u8, square: Option<&Square>) -> (Light, Option<Light>) {
    let edge = square.map_or(PRINT_EDGE, |square| {
        square.fine_edge(shaped.pixels.size, PRINT_EDGE)
    });
    let fine = Light::of(&shaped.pixels, &shaped.curves, edge);
    drop(shaped.pixels);
    let (light, squared) = match square {
        None => (fine, None),
        Some(square) => {
            let light = fine.shrunk(PRINT_EDGE);
            let squared = square.draw(&fine.upright(orientation), PRINT_EDGE);
            (light, Some(squared))
        }
    };
    let matrix = shaped.matrix.as_ref();
    (
        true_colours(light, matrix),
        squared.map(|light| true_colours(light, matrix)),
    )
}

/// Light in sRGB primaries, its long edge at most `long_edge`, not yet upright.
fn light_of(shaped: Shaped, long_edge: u32) -> Light {
    let light = Light::of(&shaped.pixels, &shaped.curves, long_edge);
    true_colours(light, shaped.matrix.as_ref())
}

fn true_colours(light: Light, matrix: Option<&Matrix>) -> Light {
    match matrix {
        Some(matrix) => light.through(matrix),
        None => light,
    }
}
