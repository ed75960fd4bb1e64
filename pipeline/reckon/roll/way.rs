//! Which yarns go round the tube, which side lies outward, how long and how wide the tube should be.
//! Sources differ on the first two, so both answers are given, and the reason of the one taken.

use super::setting;
use crate::quantity::Length;
use crate::reckon::figure::Figure;
use crate::reckon::mass::Masses;
use crate::reckon::size::Size;
use crate::reckon::uncertain::Uncertain;
use crate::record::{Face, Packing, Piece, Round};

/// Bare tube at each end where it is not said: 5 cm, so that the tube is 4 in longer than the textile
/// is wide (museum notes on flat textile storage, among them Brown, STASH sheet, 1992).
const END_MM: f64 = 50.0;
/// Tube advised for cloth up to `THIN_MM`, for thicker cloth, and for a heavy, lined or embroidered
/// one, mm: own rule. Sources name 75 to 150 mm in general and 200 mm for large pieces; none ties the
/// tube to the cloth.
const ADVISED_MM: [f64; 3] = [100.0, 150.0, 200.0];
/// Cloth that counts as thin: own rule.
const THIN_MM: f64 = 3.0;
/// A piece counts as heavy over this mass per area, g/m²: own rule; wool tapestry weighs 800 to 2000
/// (from memory).
const HEAVY_G_PER_M2: f64 = 2000.0;

/// The way a piece is rolled.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// Whether the warps run up and down as it hangs.
    pub warp_upright: bool,
    /// The yarns that go round the tube.
    pub round: Round,
    /// Whether the weaver chose them.
    pub chosen: bool,
    /// Which side lies outward.
    pub face: Face,
    /// Whether the weaver said so.
    pub face_said: bool,
    /// Whether it is lined.
    pub lined: bool,
    /// A part sewn along the top, by its name: it is thicker there.
    pub heading: Option<String>,
    /// The length that is rolled up.
    pub rolled: Figure<Length>,
    /// Tube length of the way taken.
    pub tube_length: Figure<Length>,
    /// Tube length of the other way.
    pub other_length: Figure<Length>,
    /// Bare tube at each end.
    pub ends: Figure<Length>,
}

impl Way {
    pub(super) fn of(piece: &Piece, packing: &Packing, size: &Size) -> Way {
        let warp_upright = !piece.top().sideways();
        let round = packing.round.as_ref();
        let chosen = round.is_some();
        let round = round.map_or(Round::Warp, |r| r.value);
        let ends = setting(&packing.ends, "packing.ends", END_MM);
        let height_is_rolled = (round == Round::Warp) == warp_upright;
        let (rolled, along) = if height_is_rolled {
            (&size.height, &size.width)
        } else {
            (&size.width, &size.height)
        };
        let tube = |cloth: &Figure<Length>| {
            let number = cloth.number() + &ends.number().times(2.0);
            Figure::new(number, cloth.from.iter().chain(&ends.from).cloned())
        };
        Way {
            warp_upright,
            round,
            chosen,
            face_said: packing.face.is_some(),
            face: packing.face.as_ref().map_or(Face::Out, |f| f.value),
            lined: lined(piece),
            heading: piece
                .parts
                .iter()
                .find(|p| p.method.is_some() || p.name.value.to_lowercase().contains("heading"))
                .map(|p| p.name.value.clone()),
            tube_length: tube(along),
            other_length: tube(rolled),
            rolled: rolled.clone(),
            ends,
        }
    }

    /// Whether the hanging height is what is rolled up.
    pub fn height_is_rolled(&self) -> bool {
        (self.round == Round::Warp) == self.warp_upright
    }
}

/// Whether a part is a lining.
pub(super) fn lined(piece: &Piece) -> bool {
    let is = |name: &str| name.to_lowercase().contains("lining");
    piece.parts.iter().any(|p| is(&p.name.value))
}

/// The tube's diameter.
#[derive(Debug, Clone, PartialEq)]
pub struct Tube {
    /// The least that is advised; nothing where neither thickness nor weight nor lining is known.
    pub advised: Option<Advised>,
    /// The tube that is reckoned with: the one said, else the advised one.
    pub taken: Option<Figure<Length>>,
    /// Whether it was said.
    pub given: bool,
}

impl Tube {
    pub(super) fn of(piece: &Piece, packing: &Packing, size: &Size, masses: &Masses) -> Tube {
        let advised = advised(piece, size, masses);
        let given = packing
            .tube
            .as_ref()
            .map(|t| Figure::read(&t.value, "packing.tube"));
        let assumed = || {
            let tube = advised.as_ref()?.tube.mm();
            Some(Figure::new(Uncertain::exact(tube), [""; 0]))
        };
        Tube {
            given: given.is_some(),
            taken: given.or_else(assumed),
            advised,
        }
    }
}

/// A tube advised.
#[derive(Debug, Clone, PartialEq)]
pub struct Advised {
    /// Its least diameter.
    pub tube: Length,
    /// Why.
    pub why: String,
    /// The field that decided.
    pub field: &'static str,
}

fn advised(piece: &Piece, size: &Size, masses: &Masses) -> Option<Advised> {
    let technique = piece.technique.as_ref().map(|t| t.to_lowercase());
    let embroidered = technique.is_some_and(|t| t.contains("embroider"));
    let heavy = masses
        .areal
        .as_ref()
        .is_some_and(|a| crate::quantity::Dimension::base(a.value) > HEAVY_G_PER_M2);
    let thickness = size.thickness.as_ref().map(|t| t.value.mm());
    let (step, field, why) = match thickness {
        _ if lined(piece) => (2, "parts", "it is lined".to_string()),
        _ if embroidered => (2, "technique", "it is embroidered".to_string()),
        _ if heavy => {
            let why = format!("it is heavy, over {HEAVY_G_PER_M2} g a square metre");
            (2, "measured.mass", why)
        }
        Some(t) if t > THIN_MM => {
            let why = format!("the cloth is thicker than {THIN_MM} mm");
            (1, "measured.thickness", why)
        }
        Some(_) => {
            let why = format!("the cloth is not thicker than {THIN_MM} mm");
            (0, "measured.thickness", why)
        }
        None => return None,
    };
    Some(Advised {
        tube: Length::from_mm(ADVISED_MM[step]),
        why,
        field,
    })
}
