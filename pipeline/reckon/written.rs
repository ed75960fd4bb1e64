//! What the weaver wrote in the fields about light, care, climate and packing, for the derivation sheets.

use crate::quantity::{Dimension, Reading};
use crate::record::{At, Piece, Share};

fn text<D: Dimension>(reading: &Option<At<Reading<D>>>) -> Option<String> {
    reading.as_ref().map(|r| r.value.text.clone())
}

fn said<T: ToString>(value: &Option<At<T>>) -> Option<String> {
    value.as_ref().map(|v| v.value.to_string())
}

fn shares(all: &[Share]) -> Option<String> {
    let each = all
        .iter()
        .map(|s| format!("{} {}", s.fibre.value, s.percent.value));
    let all: Vec<String> = each.collect();
    (!all.is_empty()).then(|| all.join(", "))
}

fn grade(fastness: &Option<At<(u8, u8)>>) -> Option<String> {
    let (low, high) = fastness.as_ref()?.value;
    Some(if low == high {
        low.to_string()
    } else {
        format!("{low}-{high}")
    })
}

/// The text of a field, `None` where nothing is written there or the field is not one of these.
pub(super) fn written(piece: &Piece, field: &str) -> Option<String> {
    let (group, rest) = field.split_once('.').unwrap_or((field, ""));
    match group {
        "display" => display(piece, rest),
        "packing" => packing(piece, rest),
        "care" => {
            let care = piece.care.as_ref()?;
            match rest {
                "because" => said(&care.because),
                "cleaning" => said(&care.cleaning),
                _ => None,
            }
        }
        "finishing" => match rest {
            "slits" => said(&piece.finishing.slits),
            "hems" => said(&piece.finishing.hems),
            "mothproofing" => said(&piece.finishing.mothproofing),
            _ => None,
        },
        "measured" => {
            let air = piece.measured.at.as_ref()?;
            match rest {
                "at.temperature" => text(&air.temperature),
                "at.humidity" => text(&air.humidity),
                _ => None,
            }
        }
        "technique" => said(&piece.technique),
        "warp" if rest == "fibre" => shares(&piece.warp.fibre),
        "parts" => {
            let (name, of) = rest.rsplit_once('.').unwrap_or((rest, ""));
            let part = piece.parts.iter().find(|p| p.name.value == name)?;
            match of {
                "method" => said(&part.method),
                "fibre" => shares(&part.fibre),
                _ => None,
            }
        }
        _ => {
            let i = group.strip_prefix("weft[")?.strip_suffix(']')?;
            let yarn = piece.weft.get(i.parse::<usize>().ok()?)?;
            match rest {
                "light" => grade(&yarn.light),
                "wash" => grade(&yarn.wash),
                "dye" => said(&yarn.dye),
                "fibre" => shares(&yarn.fibre),
                _ => None,
            }
        }
    }
}

fn display(piece: &Piece, field: &str) -> Option<String> {
    let d = piece.display.as_ref()?;
    let show = d.show.as_ref();
    match field {
        "light" => text(&d.light),
        "hours_a_day" => said(&d.hours_a_day),
        "days" => said(&d.days),
        "show.light" => show.map(|s| s.open.light.value.text.clone()),
        "show.hours_a_day" => show.map(|s| s.open.hours_a_day.value.to_string()),
        "show.days" => show.map(|s| s.days.value.to_string()),
        "show.extra" => {
            let extra = show?.extra.as_ref()?;
            let (light, hours) = (&extra.light.value.text, extra.hours_a_day.value);
            Some(format!("{light} for {hours} hours a day"))
        }
        _ => None,
    }
}

fn packing(piece: &Piece, field: &str) -> Option<String> {
    let p = piece.packing.as_ref()?;
    let word = |all: &[(&'static str, bool)]| {
        let found = all.iter().find(|(_, is)| *is);
        found.map(|(word, _)| word.to_string())
    };
    match field {
        "tube" => text(&p.tube),
        "interleaf" => text(&p.interleaf),
        "loft" => said(&p.loft),
        "ends" => text(&p.ends),
        "clearance" => text(&p.clearance),
        "wall" => text(&p.wall),
        "weighs" => text(&p.weighs),
        "divisor" => said(&p.divisor),
        "face" => {
            use crate::record::Face;
            let face = p.face.as_ref()?.value;
            word(
                &Face::ALL
                    .iter()
                    .map(|(w, f)| (*w, *f == face))
                    .collect::<Vec<_>>(),
            )
        }
        "round" => {
            use crate::record::Round;
            let round = p.round.as_ref()?.value;
            word(
                &Round::ALL
                    .iter()
                    .map(|(w, r)| (*w, *r == round))
                    .collect::<Vec<_>>(),
            )
        }
        _ => {
            let i = field.strip_prefix("openings[")?.strip_suffix(']')?;
            let o = p.openings.get(i.parse::<usize>().ok()?)?;
            let depth = o
                .depth
                .as_ref()
                .map(|d| format!(" × {} deep", d.value.text));
            Some(format!(
                "{}: {} wide × {} high{}",
                o.what.value,
                o.width.value.text,
                o.height.value.text,
                depth.unwrap_or_default()
            ))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::piece_from;
    use crate::reckon::Reckoning;

    const PIECE: &str = "title: Low Water\nmade: 2026\nwarp: {fibre: {cotton: 100}}\n\
        weft: [{name: red, fibre: {wool: 80, silk: 20}, light: 4-5, wash: 3, dye: madder}]\n\
        measured: {height: 121 cm, width: 166 cm, thickness: 4 mm, at: {temperature: 19 C, humidity: 58 %}}\n\
        display: {light: 50 lx, hours_a_day: 8, days: 300, show: {light: 40 lx, hours_a_day: 7, days: 60, extra: {light: 10 lx, hours_a_day: 3}}}\n\
        parts: {heading: {method: hook-and-loop, fibre: {polyamide: 100}}}\n\
        finishing: {slits: sewn, mothproofing: none}\n\
        care: {cleaning: surface vacuum only, because: the red bleeds}\n\
        packing: {tube: 15 cm, interleaf: 0.2 mm, loft: 1.2, round: weft, ends: 6 cm, clearance: 5 cm, wall: 4 mm, weighs: 3 kg, divisor: 6000, openings: [{what: van, width: 1 m, height: 1 m, depth: 2 m}]}\n";

    #[test]
    fn every_field_a_sheet_leads_to_shows_what_was_written() {
        let (piece, slips) = piece_from("p", &"piece.yaml".into(), PIECE);
        assert!(slips.is_empty(), "{slips:?}");
        let piece = piece.expect("the piece is readable");
        let studio = "studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n";
        let (studio, _) = crate::read::studio_from(&"studio.yaml".into(), studio);
        let entries = Reckoning::of(&studio.expect("the studio is readable"), &piece).entries();
        let named = |name: &str| entries.iter().any(|e| e.name == name);
        let own = [
            "light.", "care.", "pests.", "climate.", "roll.", "parcel.", "passage.",
        ];
        let mut seen = 0;
        for entry in entries
            .iter()
            .filter(|e| own.iter().any(|o| e.name.starts_with(o)))
        {
            for from in entry.from.iter().filter(|f| !named(f)) {
                let elsewhere = [
                    "measured.height",
                    "measured.width",
                    "measured.thickness",
                    "measured.mass",
                    "top",
                    "weft",
                    "parts",
                    "care",
                ];
                if elsewhere.contains(&from.as_str()) {
                    continue;
                }
                assert!(written(&piece, from).is_some(), "{}: {from}", entry.name);
                seen += 1;
            }
        }
        assert!(seen > 25, "{seen}");
        assert_eq!(written(&piece, "weft[0].light").as_deref(), Some("4-5"));
        assert_eq!(written(&piece, "weft[9].light"), None);
        assert_eq!(
            written(&piece, "packing.openings[0]").as_deref(),
            Some("van: 1 m wide × 1 m high × 2 m deep")
        );
    }
}
