//! What the piece should weigh from its yarns, and what the scale says.

mod entries;

use super::figure::Figure;
use super::printed::significant;
use super::size::Size;
use super::uncertain::Uncertain;
use super::web::Web;
use crate::quantity::{ArealMass, Dimension, Length, Mass};
use crate::record::{Piece, Used, Weft};

/// Masses of the piece and its yarns.
#[derive(Debug, Clone, PartialEq)]
pub struct Masses {
    /// Warp inside the piece: ends × (woven + hems + tied ends) × tex.
    pub warp: Option<Figure<Mass>>,
    /// Warp strung on the loom: ends × warp length × tex.
    pub warp_strung: Option<Figure<Mass>>,
    /// Warp cut off as waste.
    pub thrums: Option<Figure<Mass>>,
    /// Each weft yarn in the order of the record.
    pub weft: Vec<WeftMass>,
    /// Each part in the order of the record, with its mass if given.
    pub parts: Vec<(String, Option<Figure<Mass>>)>,
    /// Warp, weft and parts together, where all are known.
    pub predicted: Option<Figure<Mass>>,
    /// The scale's reading.
    pub weighed: Option<Figure<Mass>>,
    /// Weighed less predicted.
    pub residual: Option<Figure<Mass>>,
    /// The best mass there is over the area.
    pub areal: Option<Figure<ArealMass>>,
    /// Yarns and parts whose mass is not known.
    pub unknown: Vec<String>,
    warp_worked: String,
    areal_worked: String,
}

/// One weft yarn's mass in the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct WeftMass {
    /// The yarn's name, or its number in the list.
    pub name: String,
    /// The mass, if the record tells.
    pub mass: Option<Figure<Mass>>,
    formula: &'static str,
    worked: String,
}

/// A nominal count and the true yarn differ: 3 % standard uncertainty is taken (common practice, no
/// source; ply twist alone shortens a yarn by one to four percent).
const COUNT_U: f64 = 0.03;
/// Weft that is used but ends up on the floor, in trimmed ends: 2 % of what was used is taken as the
/// standard uncertainty of what is in the piece (own rule).
const TRIMMED_U: f64 = 0.02;
/// Mass per area that is usual for a wall tapestry, g/m² (common practice, no source).
pub const USUAL_AREAL: std::ops::RangeInclusive<f64> = 800.0..=2000.0;

impl Masses {
    /// Reckons the masses.
    pub fn of(piece: &Piece, web: &Web, size: &Size) -> Masses {
        let warp = warp_mass(piece, web, web.end_in_piece.as_ref());
        let warp_strung = warp_mass(piece, web, web.end_strung.as_ref());
        let weft: Vec<WeftMass> = piece
            .weft
            .iter()
            .enumerate()
            .map(|(i, w)| weft_mass(i, w))
            .collect();
        let parts: Vec<(String, Option<Figure<Mass>>)> = piece
            .parts
            .iter()
            .map(|p| {
                let name = &p.name.value;
                let mass = p
                    .used
                    .as_ref()
                    .map(|u| Figure::read(&u.value, &format!("parts.{name}.used")));
                (name.clone(), mass)
            })
            .collect();
        let mut unknown = Vec::new();
        if warp.is_none() {
            unknown.push("warp".to_string());
        }
        let missing_weft = weft.iter().filter(|w| w.mass.is_none());
        unknown.extend(missing_weft.map(|w| w.name.clone()));
        let missing_parts = parts.iter().filter(|(_, mass)| mass.is_none());
        unknown.extend(missing_parts.map(|(name, _)| name.clone()));

        let predicted = unknown.is_empty().then(|| {
            let known = warp
                .iter()
                .chain(weft.iter().filter_map(|w| w.mass.as_ref()))
                .chain(parts.iter().filter_map(|(_, m)| m.as_ref()));
            let from: Vec<String> = known.clone().flat_map(|f| f.from.clone()).collect();
            Figure::new(Uncertain::sum(known.map(Figure::number)), from)
        });
        let weighed = piece
            .measured
            .mass
            .as_ref()
            .map(|m| Figure::read(&m.value, "measured.mass"));
        let residual = predicted.as_ref().zip(weighed.as_ref()).map(|(p, w)| {
            let from = ["measured.mass".to_string()].into_iter();
            Figure::new(w.number() - p.number(), from.chain(p.from.clone()))
        });
        let areal: Option<Figure<ArealMass>> =
            weighed.as_ref().or(predicted.as_ref()).and_then(|m| {
                let from = m.from.iter().chain(&size.area.from).cloned();
                (size.area.value.m2() > 0.0)
                    .then(|| Figure::new(m.number() / size.area.number(), from))
            });
        let areal_worked = areal.as_ref().map_or(String::new(), |a| {
            let area = size.area.value.m2();
            format!(
                "{} g / {} m2 = {} g/m2",
                significant(a.value.base() * area, 5),
                significant(area, 5),
                significant(a.value.base(), 5)
            )
        });
        let thrums = warp_strung.as_ref().zip(warp.as_ref()).and_then(|(s, w)| {
            let from = s.from.iter().chain(&w.from).cloned();
            let waste: Figure<Mass> = Figure::new(s.number() - w.number(), from);
            (waste.value.g() >= 0.0).then_some(waste)
        });
        let tex = piece.warp.count.as_ref().map_or(0.0, |c| c.resultant.tex());
        let warp_worked = web.ends.as_ref().zip(web.end_in_piece.as_ref()).map_or(
            String::new(),
            |(ends, end)| {
                format!(
                    "{} × {} m × {} g/km / 1000",
                    significant(ends.value, 6),
                    significant(end.value.m(), 5),
                    significant(tex, 6)
                )
            },
        );
        Masses {
            thrums,
            warp,
            warp_strung,
            weft,
            parts,
            predicted,
            weighed,
            residual,
            areal,
            unknown,
            warp_worked,
            areal_worked,
        }
    }

    /// The mass to state: the scale's, else the prediction.
    pub fn stated(&self) -> Option<&Figure<Mass>> {
        self.weighed.as_ref().or(self.predicted.as_ref())
    }
}

/// Ends × length × tex: tex is grams a kilometre (ISO 1144), so grams = ends × metres × tex / 1000.
fn warp_mass(piece: &Piece, web: &Web, end: Option<&Figure<Length>>) -> Option<Figure<Mass>> {
    let tex = piece.warp.count.as_ref()?.resultant.tex();
    let (ends, end) = (web.ends.as_ref()?, end?);
    let nominal = Uncertain::input(1.0, COUNT_U, "warp.count, nominal");
    let metres = &(ends * end.number()) * &nominal;
    let from = ["loom.ends", "warp.count"].map(str::to_string).into_iter();
    Some(Figure::new(
        // mm × g/km = 10⁻⁶ g.
        metres.times(tex * 1e-6),
        from.chain(end.from.clone()),
    ))
}

fn weft_mass(i: usize, weft: &Weft) -> WeftMass {
    let name = weft
        .name
        .as_ref()
        .map_or_else(|| format!("weft {}", i + 1), |n| n.value.clone());
    let field = format!("weft[{i}]");
    let (mass, formula, worked) = match &weft.used {
        None => (None, "", String::new()),
        Some(Used::Given(m)) => (
            Some(Figure::read(&m.value, &format!("{field}.used"))),
            "as given, in g",
            format!("{} = {} g", m.value.text, significant(m.value.value.g(), 6)),
        ),
        Some(Used::Weighed(s)) => {
            let before = Figure::read(&s.before.value, &format!("{field}.weighed.before"));
            let after = Figure::read(&s.after.value, &format!("{field}.weighed.after"));
            (
                Some(Figure::new(
                    before.number() - after.number(),
                    [format!("{field}.weighed")],
                )),
                "before − after, in g",
                format!(
                    "{} − {} = {} g",
                    s.before.value.text,
                    s.after.value.text,
                    significant(s.before.value.value.g() - s.after.value.value.g(), 6)
                ),
            )
        }
        Some(Used::Reeled(l)) => {
            let mass = weft.count.as_ref().map(|count| {
                let length = Figure::read(&l.value, &format!("{field}.used"));
                let nominal = Uncertain::input(1.0, COUNT_U, format!("{field}.count, nominal"));
                let grams = (length.number() * &nominal).times(count.resultant.tex() * 1e-6);
                Figure::new(grams, [format!("{field}.used"), format!("{field}.count")])
            });
            let tex = weft.count.as_ref().map_or(0.0, |c| c.resultant.tex());
            (
                mass,
                "length × tex / 1000",
                format!("{} × {} g/km", l.value.text, significant(tex, 6)),
            )
        }
    };
    // One doubt for all yarns: trimming takes about the same share of each.
    let trimmed = Uncertain::input(1.0, TRIMMED_U, "weft, trimmed ends");
    WeftMass {
        name,
        mass: mass.map(|m: Figure<Mass>| Figure::new(m.number() * &trimmed, m.from.clone())),
        formula,
        worked,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::{piece_from, studio_from};
    use crate::reckon::Reckoning;

    fn reckoned(lines: &str) -> Reckoning {
        let (studio, _) = studio_from(&"studio.yaml".into(), "studio: A\nweaver: B\n");
        let text =
            format!("title: Trial\nmade: 2026\nmeasured: {{height: 1 m, width: 1 m}}\n{lines}");
        let (piece, slips) = piece_from("p", &"piece.yaml".into(), &text);
        Reckoning::of(
            &studio.unwrap(),
            &piece.unwrap_or_else(|| panic!("{slips:?}")),
        )
    }

    fn warp_lb(loom: &str, count: &str) -> f64 {
        let r = reckoned(&format!(
            "loom: {loom}\nwarp: {{count: {count}, fibre: {{cotton: 100}}}}\nweft: [{{fibre: {{wool: 100}}}}]\n"
        ));
        r.masses.warp.unwrap().value.g() / 453.592_37
    }

    #[test]
    fn a_warp_weighs_what_the_handbook_reckons() {
        // Source, published: Brooks, Cotton Manufacturing, weight of a piece: 2280 ends of 38 yd, 30s
        // cotton, are 103 1/7 hanks and 3 lb 7 oz (3.438 lb).
        let lb = warp_lb("{ends: 2280, woven: 34.7472 m}", "Ne 30");
        assert!((lb - (103.0 + 1.0 / 7.0) / 30.0).abs() < 1e-4, "{lb}");
        // Source, published: a hand-weaver's project: 528 ends of 4 yd are 2112 yd, of 8/2 cotton at
        // 3360 yd/lb almost two thirds of a pound.
        let lb = warp_lb("{ends: 528, woven: 3.6576 m}", "Ne 8/2");
        assert!((lb - 2112.0 / 3360.0).abs() < 1e-5, "{lb}");
        // Source, published: a hand-weaver's project: 48 in at 48 ends an inch are 2304 ends, of 7.5 yd
        // 17 280 yd, at 8400 yd/lb 2.057 lb.
        let lb = warp_lb("{sett: 48 epi, width: 48 in, woven: 6.858 m}", "Ne 20/2");
        assert!((lb - 2.057).abs() < 6e-4, "{lb}");
    }

    #[test]
    fn weft_reeled_off_weighs_its_length_times_its_count() {
        // Source, exact case: 4000 m of Nm 8/2 are a kilogram, by the definition of the metric count.
        let r = reckoned(
            "warp: {fibre: {cotton: 100}}\nweft: [{count: Nm 8/2, fibre: {wool: 100}, used: 4000 m}]\n",
        );
        let g = r.masses.weft[0].mass.as_ref().unwrap().value.g();
        assert!((g - 1000.0).abs() < 1e-9, "{g}");
        assert!(r.masses.predicted.is_none(), "the warp is not known");
        assert_eq!(r.masses.unknown, ["warp"]);
    }

    #[test]
    fn hems_and_tied_ends_are_in_the_piece_and_the_rest_is_thrums() {
        // Source, common practice: a hem of about an inch at each end, turned under.
        let r = reckoned(
            "loom: {ends: 400, woven: 150 cm, warp_length: 220 cm, hems: {start: 1 in, finish: 1 in}, tails: 4 cm}\n\
             warp: {count: 250 tex, fibre: {cotton: 100}}\nweft: [{fibre: {wool: 100}, used: 1 kg}]\n",
        );
        let end = 1.5 + 2.0 * 0.0254 + 2.0 * 0.04;
        let g = |f: &Option<Figure<Mass>>| f.as_ref().unwrap().value.g();
        assert!((g(&r.masses.warp) - 400.0 * end * 0.25).abs() < 1e-9);
        assert!((g(&r.masses.thrums) - 400.0 * (2.2 - end) * 0.25).abs() < 1e-9);
        let balance = g(&r.masses.warp) + g(&r.masses.thrums) - g(&r.masses.warp_strung);
        assert!(balance.abs() < 1e-9);
    }
}
