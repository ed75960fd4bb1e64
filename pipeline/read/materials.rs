//! Loom, yarns, parts and finishing.

use super::fields::Fields;
use super::kinds;
use super::values::{Desk, above_zero, parsed};
use crate::quantity::{ErrorKind, Length, Mass, Number, QuantityError, Reading};
use crate::record::{
    At, Finishing, Hems, Label, Loom, Part, Share, Skein, Used, Warp, WarpCounts, Weft, fibre_named,
};

pub(super) fn loom(mut f: Fields) -> Loom {
    let loom = Loom {
        kind: f.text("kind"),
        sett: f.reading("sett"),
        ends: f.whole("ends"),
        width: f.reading("width"),
        woven: f.reading("woven"),
        warp_length: f.reading("warp_length"),
        hems: f.group("hems").map(|mut h| {
            let hems = Hems {
                start: h.reading("start"),
                finish: h.reading("finish"),
            };
            h.done();
            hems
        }),
        tails: f.reading("tails"),
    };
    f.done();
    loom
}

pub(super) fn warp(mut f: Fields) -> Warp {
    let warp = Warp {
        place: f.place.clone(),
        yarn: f.text("yarn"),
        count: f.count("count"),
        fibre: fibre(&mut f),
        cost: f.cost("cost"),
    };
    f.done();
    warp
}

pub(super) fn weft(mut f: Fields) -> Weft {
    let name = f.text("name");
    let count = f.count("count");
    let shares = fibre(&mut f);
    let given = f.parsed("used", amount);
    let weighed = f.group("weighed").and_then(skein);
    let used = match (given, weighed) {
        (Some(given), Some(_)) => {
            f.desk().add(kinds::TWO_ANSWERS.at(
                &given.place,
                "both `used` and `weighed` say how much of this yarn is in the piece",
                "keep one of the two; `used` is taken until then",
            ));
            Some(AmountRead::at(given))
        }
        (Some(given), None) => Some(AmountRead::at(given)),
        (None, weighed) => weighed.map(Used::Weighed),
    };
    let weft = Weft {
        place: f.place.clone(),
        name,
        count,
        fibre: shares,
        used,
        // Nothing at all is a humidity too: a yarn weighed bone dry.
        humidity: f.parsed("humidity", Reading::parse),
        decorative: f.yes_no("decorative"),
        dye: f.text("dye"),
        light: f.parsed("light", |t| scale(t, 8)),
        wash: f.parsed("wash", |t| scale(t, 5)),
        cost: f.cost("cost"),
    };
    f.done();
    weft
}

/// What stands under `used`.
enum AmountRead {
    Mass(Reading<Mass>),
    Length(Reading<Length>),
}

impl AmountRead {
    fn at(found: At<AmountRead>) -> Used {
        let At { value, place } = found;
        match value {
            AmountRead::Mass(value) => Used::Given(At { value, place }),
            AmountRead::Length(value) => Used::Reeled(At { value, place }),
        }
    }
}

/// How much of a yarn is in the piece: its mass, or its length as reeled off.
fn amount(text: &str) -> Result<AmountRead, QuantityError> {
    above_zero::<Mass>(text)
        .map(AmountRead::Mass)
        .or_else(|error| {
            // A length as reeled off, or what is wrong with it.
            if error.kind == ErrorKind::WrongUnit {
                above_zero::<Length>(text).map(AmountRead::Length)
            } else {
                Err(error)
            }
        })
}

fn skein(mut f: Fields) -> Option<Skein> {
    let before = f.reading("before");
    let before = f.needed("before", before, "520 g");
    let after = f.parsed("after", crate::quantity::Reading::parse);
    let after = f.needed("after", after, "198 g");
    f.done();
    Some(Skein {
        before: before?,
        after: after?,
    })
}

/// Fastness figures: `5` or `4-5`, up to `most`.
fn scale(text: &str, most: u8) -> Result<(u8, u8), QuantityError> {
    let one = |t: &str| {
        t.trim()
            .parse::<u8>()
            .ok()
            .filter(|n| (1..=most).contains(n))
    };
    let (low, high) = text.split_once(['-', '–']).unwrap_or((text, text));
    one(low)
        .zip(one(high))
        .filter(|(low, high)| low <= high)
        .ok_or_else(|| QuantityError {
            kind: ErrorKind::Unreadable,
            message: format!("`{text}` is not a fastness figure"),
            remedy: format!("write 1 to {most}, or two neighbours such as `4-5`"),
        })
}

/// `{wool: 80, silk: 20}`.
fn fibre(f: &mut Fields) -> Vec<Share> {
    if let Some(text) = f.plain_text("fibre") {
        let one = fibre_named(&text.value).map_or_else(
            || "with each fibre's share in percent: `fibre: {wool: 80, silk: 20}`".to_string(),
            |fibre| {
                format!(
                    "with its share in percent: `fibre: {{{}: 100}}`",
                    fibre.name
                )
            },
        );
        f.desk().add(kinds::WRONG_SHAPE.at(
            &text.place,
            format!(
                "`fibre` is `{}`, but fibres with their shares are due",
                text.value
            ),
            format!("write it {one}"),
        ));
        return Vec::new();
    }
    let Some(mut group) = f.group("fibre") else {
        return Vec::new();
    };
    let desk: &Desk = group.desk();
    group
        .open_entries()
        .into_iter()
        .filter_map(|(fibre, node)| {
            let percent = parsed(desk, &fibre.value, node, share)?;
            Some(Share { fibre, percent })
        })
        .collect()
}

/// A share of 0 to 100, with or without the sign.
fn share(text: &str) -> Result<f64, QuantityError> {
    let number = Number::parse(text.trim().trim_end_matches('%'))?;
    if !(0.0..=100.0).contains(&number.value) {
        return Err(QuantityError {
            kind: ErrorKind::Impossible,
            message: format!("`{text}` is not a share in percent"),
            remedy: "write 0 to 100".to_string(),
        });
    }
    Ok(number.value)
}

pub(super) fn parts(mut f: Fields) -> Vec<Part> {
    let desk = f.desk();
    f.open_entries()
        .into_iter()
        .filter_map(|(name, node): (At<String>, _)| {
            let mut p = Fields::open(desk, &name.value, &name.place, node)?;
            let part = Part {
                fibre: fibre(&mut p),
                used: p.reading("used"),
                method: p.text("method"),
                depth: p.reading("depth"),
                animal_origin: p.yes_no("animal_origin"),
                cost: p.cost("cost"),
                name,
            };
            p.done();
            Some(part)
        })
        .collect()
}

pub(super) fn label(mut f: Fields) -> Label {
    let label = Label {
        warp: f.word("warp", WarpCounts::ALL),
    };
    f.done();
    label
}

pub(super) fn finishing(mut f: Fields) -> Finishing {
    let finishing = Finishing {
        warp_ends: f.text("warp_ends"),
        hems: f.text("hems"),
        slits: f.text("slits"),
        blocking: f.text("blocking"),
        mothproofing: f.text("mothproofing"),
    };
    f.done();
    finishing
}
