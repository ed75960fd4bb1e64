//! What the piece should weigh from its yarns, and what the scale says.

use super::figure::Figure;
use super::size::Size;
use super::uncertain::Uncertain;
use super::web::Web;
use crate::quantity::{ArealMass, Length, Mass};
use crate::record::{Piece, Used};

/// Masses of the piece and its yarns.
#[derive(Debug, Clone, PartialEq)]
pub struct Masses {
    /// Warp inside the piece: ends × (woven + hems) × tex.
    pub warp: Option<Figure<Mass>>,
    /// Warp strung on the loom: ends × warp length × tex.
    pub warp_strung: Option<Figure<Mass>>,
    /// Warp cut off as waste.
    pub thrums: Option<Mass>,
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
}

/// One weft yarn's mass in the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct WeftMass {
    /// The yarn's name, or its number in the list.
    pub name: String,
    /// The mass, if the record tells.
    pub mass: Option<Figure<Mass>>,
}

impl Masses {
    /// Reckons the masses.
    pub fn of(piece: &Piece, web: &Web, size: &Size) -> Masses {
        let warp = warp_mass(piece, web, web.woven.map(|w| w + web.hems), "loom.woven");
        let strung_length = piece.loom.warp_length.as_ref().map(|l| l.value.value);
        let warp_strung = warp_mass(piece, web, strung_length, "loom.warp_length");
        let weft: Vec<WeftMass> = piece
            .weft
            .iter()
            .enumerate()
            .map(|(i, w)| WeftMass {
                name: w
                    .name
                    .as_ref()
                    .map_or_else(|| format!("weft {}", i + 1), |n| n.value.clone()),
                mass: w.used.as_ref().map(|u| used(i, u)),
            })
            .collect();
        let parts: Vec<(String, Option<Figure<Mass>>)> = piece
            .parts
            .iter()
            .enumerate()
            .map(|(i, p)| {
                let mass = p
                    .used
                    .as_ref()
                    .map(|u| Figure::read(&u.value, &format!("parts[{i}].used")));
                (p.name.value.clone(), mass)
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

        let known: Vec<&Figure<Mass>> = warp
            .iter()
            .chain(weft.iter().filter_map(|w| w.mass.as_ref()))
            .chain(parts.iter().filter_map(|(_, m)| m.as_ref()))
            .collect();
        let predicted = unknown.is_empty().then(|| total(&known));
        let weighed = piece
            .measured
            .mass
            .as_ref()
            .map(|m| Figure::read(&m.value, "measured.mass"));
        let residual = predicted.as_ref().zip(weighed.as_ref()).map(|(p, w)| {
            Figure::new(
                w.number() - p.number(),
                ["measured.mass", "loom", "warp", "weft", "parts"],
            )
        });
        let areal = weighed.as_ref().or(predicted.as_ref()).and_then(|m| {
            let from = m.from.iter().chain(&size.area.from).cloned();
            (size.area.value.m2() > 0.0).then(|| Figure::new(m.number() / size.area.number(), from))
        });
        Masses {
            thrums: warp_strung.as_ref().zip(warp.as_ref()).and_then(|(s, w)| {
                let waste = s.value.g() - w.value.g();
                (waste >= 0.0).then(|| Mass::from_g(waste))
            }),
            warp,
            warp_strung,
            weft,
            parts,
            predicted,
            weighed,
            residual,
            areal,
            unknown,
        }
    }

    /// The mass to state: the scale's, else the prediction.
    pub fn stated(&self) -> Option<&Figure<Mass>> {
        self.weighed.as_ref().or(self.predicted.as_ref())
    }
}

/// Ends × length × tex: tex is grams a kilometre (ISO 1144), so grams = ends × metres × tex / 1000.
fn warp_mass(
    piece: &Piece,
    web: &Web,
    length: Option<Length>,
    from: &'static str,
) -> Option<Figure<Mass>> {
    let count = piece.warp.count.as_ref()?;
    let (ends, length) = (web.ends?, length?);
    let g = ends * length.m() * count.resultant.tex() / 1000.0;
    let doubt = Uncertain::input(1.0, WARP_COUNT_U, "warp.count, nominal");
    Some(Figure::new(
        doubt.times(g),
        [from, "loom.ends", "warp.count"],
    ))
}

/// A nominal count and the true yarn differ: 3 % standard uncertainty is taken for warp (common
/// practice, no source; ply twist alone shortens a yarn by one to four percent).
const WARP_COUNT_U: f64 = 0.03;

fn used(i: usize, used: &Used) -> Figure<Mass> {
    let name = format!("weft[{i}].weighed");
    match used {
        Used::Given(m) => Figure::read(&m.value, &format!("weft[{i}].used")),
        Used::Weighed(s) => {
            let before = Figure::read(&s.before.value, &format!("{name}.before"));
            let after = Figure::read(&s.after.value, &format!("{name}.after"));
            Figure::new(before.number() - after.number(), [name])
        }
    }
}

fn total(known: &[&Figure<Mass>]) -> Figure<Mass> {
    let from: Vec<String> = known.iter().flat_map(|f| f.from.clone()).collect();
    Figure::new(Uncertain::sum(known.iter().map(|f| f.number())), from)
}
