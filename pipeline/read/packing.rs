//! Rolling, packing and the ways a roll must pass.

use super::fields::Fields;
use crate::quantity::{ErrorKind, Number, QuantityError};
use crate::record::{Face, Opening, Packing, Round};

pub(super) fn packing(mut f: Fields) -> Packing {
    let packing = Packing {
        tube: f.reading("tube"),
        interleaf: f.reading("interleaf"),
        loft: f.parsed("loft", loft),
        face: f.word("face", Face::ALL),
        round: f.word("round", Round::ALL),
        ends: f.reading("ends"),
        clearance: f.reading("clearance"),
        wall: f.reading("wall"),
        weighs: f.reading("weighs"),
        divisor: f.parsed("divisor", divisor),
        openings: f
            .groups("openings")
            .into_iter()
            .filter_map(opening)
            .collect(),
    };
    f.done();
    packing
}

pub(super) fn opening(mut f: Fields) -> Option<Opening> {
    let what = f.text("what");
    let what = f.needed("what", what, "lift");
    let width = f.reading("width");
    let width = f.needed("width", width, "90 cm");
    let height = f.reading("height");
    let height = f.needed("height", height, "200 cm");
    let depth = f.reading("depth");
    f.done();
    Some(Opening {
        what: what?,
        width: width?,
        height: height?,
        depth,
    })
}

/// A factor of 1 to 3: layers never lie closer than they measure.
fn loft(text: &str) -> Result<f64, QuantityError> {
    within(text, 1.0, 3.0, "1 for a tight roll, 1.1 for a usual one")
}

/// Cubic centimetres a kilogram.
fn divisor(text: &str) -> Result<f64, QuantityError> {
    within(
        text,
        1.0,
        1e6,
        "the carrier's figure in cm³ a kilogram, such as 5000",
    )
}

/// A plain number between two bounds, or what to write instead.
pub(super) fn within(
    text: &str,
    least: f64,
    most: f64,
    remedy: &str,
) -> Result<f64, QuantityError> {
    let number = Number::parse(text)?.value;
    if (least..=most).contains(&number) {
        return Ok(number);
    }
    Err(QuantityError {
        kind: ErrorKind::Impossible,
        message: format!("`{}` is not between {least} and {most}", text.trim()),
        remedy: format!("write {remedy}"),
    })
}

#[cfg(test)]
mod tests {
    use crate::read::{piece_from, studio_from};
    use crate::record::declared;

    const PIECE: &str = "title: Low Water\nmade: 2026\nwarp: {fibre: {cotton: 100}}\nweft: [{fibre: {wool: 100}}]\n\
        measured: {height: 121 cm, width: 166 cm}\n";

    fn slips(lines: &str) -> Vec<String> {
        let (_, slips) = piece_from("p", &"piece.yaml".into(), &format!("{PIECE}{lines}\n"));
        slips
            .into_iter()
            .map(|f| format!("{} {}", f.kind.name, f.remedy))
            .collect()
    }

    #[test]
    fn slips_in_packing_say_what_to_write() {
        assert_eq!(
            slips("packing: {loft: 1.1, face: out, round: weft}"),
            [""; 0]
        );
        for (lines, kind, remedy) in [
            (
                "packing: {loft: 0.4}",
                "impossible-value",
                "1.1 for a usual one",
            ),
            ("packing: {divisor: 0}", "impossible-value", "5000"),
            ("packing: {face: outt}", "unknown-word", "`out`"),
            ("packing: {tubes: 10 cm}", "unknown-field", "`tube`"),
            (
                "packing: {openings: [{what: door, width: 80 cm}]}",
                "missing-field",
                "200 cm",
            ),
            ("display: {days: 400}", "impossible-value", "0 to 366"),
            (
                "display: {show: {light: 50 lx, days: 9}}",
                "missing-field",
                "hours_a_day",
            ),
            (
                "display: {show: {light: 50 lx, hours_a_day: 30, days: 9}}",
                "impossible-value",
                "0 to 24",
            ),
        ] {
            let told = slips(lines);
            assert!(
                told.len() == 1 && told[0].starts_with(kind) && told[0].contains(remedy),
                "{lines}: {told:?}"
            );
        }
    }

    #[test]
    fn how_it_is_packed_is_no_part_of_its_record_number() {
        let studio = "studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n";
        let studio = studio_from(&"studio.yaml".into(), studio)
            .0
            .expect("the studio is readable");
        let number = |lines: &str| {
            let (piece, _) = piece_from("p", &"piece.yaml".into(), &format!("{PIECE}{lines}\n"));
            declared(&studio, &piece.expect("the piece is readable"), None)
        };
        let packed = "packing: {tube: 10 cm, openings: [{what: door, width: 80 cm, height: 2 m}]}\n\
            display: {light: 50 lx, hours_a_day: 8, days: 300, show: {light: 50 lx, hours_a_day: 8, days: 9}}";
        assert_eq!(number(""), number(packed));
    }
}
