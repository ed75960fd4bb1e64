//! The relations that true figures keep, each as a standard score: how many of its own standard
//! deviations a record is off. Where handbooks give a range it is taken as about two deviations
//! either way; the rest is own judgement of common practice, and marked so.

use super::facts::Facts;

/// A relation between figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Relation {
    /// Sett × width in the loom are the ends.
    EndsSettWidth,
    /// The finished piece is a little narrower than the web in the loom.
    DrawIn,
    /// The finished piece is a little shorter than it was woven.
    TakeUp,
    /// The warp was strung longer than what was woven of it.
    WarpLength,
    /// Warp, weft and parts weigh what the scale says.
    Mass,
    /// A wall tapestry weighs one to two kilograms a square metre.
    MassPerArea,
    /// And is neither felt nor lace: mass over area over thickness.
    Density,
    /// Diagonals follow from height and width.
    Diagonals,
    /// Both diagonals are nearly alike.
    Lean,
    /// Height readings agree.
    Heights,
    /// Width readings agree.
    Widths,
    /// Width over height as in the photograph.
    Photograph,
    /// The last height noted is the woven height.
    LastHeight,
    /// Hours enough for the area, and not too many.
    Rate,
    /// A sett as tapestry weavers use.
    Sett,
    /// The warp yarn suits the sett.
    WarpYarn,
    /// A size as tapestries have.
    Extent,
    /// Hems of about an inch.
    Hems,
    /// More yarn before than after.
    Used,
    /// No yarn is out of all proportion to the others.
    Share,
}

/// A relation and how far the figures are off it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Score {
    pub relation: Relation,
    /// In standard deviations.
    pub z: f64,
}

/// Finished width against the loom's: 1 to 3 % is commonly borne (common practice, no source).
const DRAW_IN: (f64, f64) = (0.022, 0.020);
/// Finished height against the woven: 1 to 5 % (common practice, no source).
const TAKE_UP: (f64, f64) = (0.028, 0.022);
/// Scale against yarns: a hundredth is trimmed off or dries out; moisture, nominal counts and the
/// studio's scales make two hundredths either way (own rule).
const MASS: (f64, f64) = (-0.01, 0.02);
/// g/mm²: 0.8 to 2.0 kg/m² with a lining or without (common practice, no source).
const PER_AREA: (f64, f64) = (1550e-6, 0.33);
/// g/mm³: 1.6 kg/m² at 4 mm (own rule).
const DENSITY: (f64, f64) = (420e-6, 0.38);
/// mm²/h: a few tens to a few hundreds of cm² an hour by sett and image. Forty days of six hours for
/// two square metres are 83 cm²/h, six such days 556; a fine sett takes longer (common practice, no
/// source). Slow is less telling than fast: hours of stringing and unweaving are noted too.
const RATE: (f64, f64) = (6000.0, 0.62);
const SLOW: f64 = 1.3;
/// Ends a mm: 2 to 5 a cm for most present-day work (Encyclopaedia Britannica and a weaver's page
/// give 8 to 12 an inch; wider here: own rule).
const SETT: (f64, f64) = (0.32, 0.5);
/// Diameter of the warp over the distance of its ends: 12/6 cotton at 8 an inch is 0.19, 12/15 at 6
/// an inch 0.23 (common practice, no source).
const COVER: (f64, f64) = (0.25, 0.4);

/// Every relation the figures allow.
pub(super) fn scores(f: &Facts) -> Vec<Score> {
    let mut all = Vec::with_capacity(20);
    let mut add = |relation, z: f64| {
        // A figure that makes no sense at all must not win by being no number.
        let z = if z.is_finite() {
            z.clamp(-60.0, 60.0)
        } else {
            60.0
        };
        all.push(Score { relation, z });
    };
    let ln = libm::log;
    if let (Some(ends), Some(sett), Some(width)) = (f.ends, f.sett, f.loom_width) {
        let doubt = joined(&[0.012, 2.0 / ends.v, width.u, sett.u.min(0.01)]);
        add(
            Relation::EndsSettWidth,
            ln(ends.v / (sett.v * width.v)) / doubt,
        );
    }
    let laid = f.laid();
    let width = f
        .loom_width
        .map(|w| (w.v, w.u))
        .or_else(|| Some((f.ends?.v / f.sett?.v, 0.02)));
    if let (Some((width, u)), Some((across, _))) = (width, laid) {
        let z = (1.0 - across / width - DRAW_IN.0) / joined(&[DRAW_IN.1, u]);
        add(Relation::DrawIn, z);
    }
    if let (Some(woven), Some((_, along))) = (f.woven, laid) {
        let z = (1.0 - along / woven.v - TAKE_UP.0) / joined(&[TAKE_UP.1, woven.u]);
        add(Relation::TakeUp, z);
    }
    if let (Some(strung), Some(woven)) = (f.warp_length, f.woven) {
        let ratio = strung.v / (woven.v + f.both_hems());
        let over = ln(ratio / 1.3);
        add(
            Relation::WarpLength,
            if over < 0.0 { over / 0.09 } else { over / 0.5 },
        );
    }
    let area = f.area();
    let predicted = f.predicted();
    if let (Some(mass), Some(predicted)) = (f.mass, predicted) {
        let warp = f.warp().unwrap_or(0.0) / predicted;
        let doubt = joined(&[MASS.1, 0.03 * warp, mass.u]);
        add(Relation::Mass, (ln(mass.v / predicted) - MASS.0) / doubt);
    }
    let best = f.mass.map(|m| m.v).or(predicted);
    if let (Some(mass), Some(area)) = (best, area) {
        add(
            Relation::MassPerArea,
            ln(mass / area / PER_AREA.0) / PER_AREA.1,
        );
        if let Some(t) = f.thickness {
            let doubt = joined(&[DENSITY.1, t.u]);
            add(Relation::Density, ln(mass / area / t.v / DENSITY.0) / doubt);
        }
    }
    if let (Some([p, q]), Some(h), Some(w)) = (f.diagonals, f.height(), f.width()) {
        // In a parallelogram p² + q² = 2 (h² + w²) (elementary geometry).
        let both = ((p.v * p.v + q.v * q.v) / 2.0).sqrt();
        let doubt = joined(&[0.004, p.u, q.u]);
        add(Relation::Diagonals, ln(both / libm::hypot(h, w)) / doubt);
        add(Relation::Lean, ln(p.v / q.v) / joined(&[0.007, p.u, q.u]));
    }
    for (relation, readings) in [
        (Relation::Heights, &f.heights),
        (Relation::Widths, &f.widths),
    ] {
        if readings.len() > 1 {
            let mut sorted: Vec<f64> = readings.iter().map(|r| r.v).collect();
            sorted.sort_by(f64::total_cmp);
            let n = sorted.len();
            let middle = (sorted[(n - 1) / 2] + sorted[n / 2]) / 2.0;
            for r in readings {
                add(relation, ln(r.v / middle) / joined(&[0.006, r.u]));
            }
        }
    }
    if let (Some(photo), Some(h), Some(w)) = (f.photo, f.height(), f.width()) {
        add(Relation::Photograph, ln(w / h / photo.ratio) / photo.doubt);
    }
    if let (Some(last), Some(woven)) = (f.last_height, f.woven) {
        let over = ln(last.v / woven.v);
        // She may have stopped noting heights early, but can not have woven more than there is;
        // hems may be in what she noted.
        let above = joined(&[0.025, last.u, f.both_hems().max(50.0) / woven.v / 2.0]);
        add(
            Relation::LastHeight,
            if over > 0.0 {
                over / above
            } else {
                over / 0.35
            },
        );
    }
    if let (Some(hours), Some(area)) = (f.hours, area) {
        let sett = f.sett.map_or(SETT.0, |s| s.v);
        let usual = RATE.0 * SETT.0 / sett;
        let over = ln(area / hours / usual);
        add(
            Relation::Rate,
            over / if over > 0.0 { RATE.1 } else { SLOW },
        );
    }
    let sett = f
        .sett
        .map(|s| s.v)
        .or_else(|| Some(f.ends?.v / f.loom_width?.v));
    if let Some(sett) = sett {
        add(Relation::Sett, ln(sett / SETT.0) / SETT.1);
        if let Some(tex) = f.warp_tex {
            // Diameter of a cotton yarn in mm: 1/(28 √Ne) in (Peirce 1937; from memory), that is
            // 0.0373 √tex.
            let diameter = 0.0373 * tex.v.sqrt();
            add(Relation::WarpYarn, ln(diameter * sett / COVER.0) / COVER.1);
        }
    }
    if let Some(area) = area {
        add(Relation::Extent, ln(area.sqrt() / 1000.0) / 0.9);
    }
    for hem in f.hems.iter().flatten() {
        add(Relation::Hems, ln(hem.v / 25.0) / 0.6);
    }
    if f.oddest > 0.0 {
        add(Relation::Share, f.oddest);
    }
    if f.negative > 0 {
        add(Relation::Used, 10.0 * f64::from(f.negative));
    }
    all
}

fn joined(parts: &[f64]) -> f64 {
    parts.iter().map(|p| p * p).sum::<f64>().sqrt()
}
