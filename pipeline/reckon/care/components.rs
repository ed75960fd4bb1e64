//! What the piece is put together from, as care looks at it: warp, yarns of the weft, parts.

use crate::record::{Fibre, Piece, Share, fibre_named};

/// One component.
#[derive(Debug, Clone, PartialEq)]
pub struct Component {
    /// Its field in the record, such as `weft[3]`.
    pub field: String,
    /// Her name for it.
    pub name: String,
    /// Its fibres, those that are known by name.
    pub fibres: Vec<&'static Fibre>,
    /// Whether its fibre is said at all.
    pub fibre_said: bool,
    /// What is known of its colour.
    pub colour: Colour,
    /// How it holds, for a heading.
    pub method: Option<String>,
}

/// What is known of a component's colour in water.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Colour {
    /// Not asked: warp, lining, heading.
    NotAsked,
    /// Undyed, as the record says.
    Undyed,
    /// Dyed, fastness to washing from so much on the grey scale.
    Fast(u8),
    /// Neither dye nor fastness is known, or a dye that nobody tested.
    Unknown,
}

impl Component {
    /// Every component, warp first, as the record has them.
    pub fn all(piece: &Piece) -> Vec<Component> {
        let warp = of(
            "warp".into(),
            piece.warp.yarn.as_ref().map(|y| y.value.clone()),
            "the warp",
            &piece.warp.fibre,
        );
        let weft = piece.weft.iter().enumerate().map(|(i, w)| {
            let name = w.name.as_ref().map(|n| n.value.clone());
            let dye = w.dye.as_ref().map(|d| d.value.to_lowercase());
            let undyed = dye.is_some_and(|d| matches!(d.as_str(), "none" | "undyed"));
            let wash = w.wash.as_ref().map(|wash| wash.value.0);
            Component {
                colour: match (undyed, wash) {
                    (true, None | Some(4..)) => Colour::Undyed,
                    (_, Some(grade)) => Colour::Fast(grade),
                    (false, None) => Colour::Unknown,
                },
                ..of(
                    format!("weft[{i}]"),
                    name,
                    &format!("weft {}", i + 1),
                    &w.fibre,
                )
            }
        });
        let parts = piece.parts.iter().map(|p| Component {
            method: p.method.as_ref().map(|m| m.value.clone()),
            ..of(
                format!("parts.{}", p.name.value),
                Some(p.name.value.clone()),
                "",
                &p.fibre,
            )
        });
        std::iter::once(warp).chain(weft).chain(parts).collect()
    }
}

fn of(field: String, name: Option<String>, else_named: &str, shares: &[Share]) -> Component {
    let present = shares.iter().filter(|s| s.percent.value > 0.0);
    Component {
        name: name.unwrap_or_else(|| else_named.to_string()),
        fibres: present
            .filter_map(|s| fibre_named(&s.fibre.value))
            .collect(),
        fibre_said: !shares.is_empty(),
        colour: Colour::NotAsked,
        method: None,
        field,
    }
}

/// How hot an iron a fibre bears: 0 for 200 °C, 1 for 150, 2 for 110, 3 for none. Common practice, no
/// source, but for silk, which is kept to the lowest step as its weft is fine.
pub(super) fn iron(fibre: &Fibre) -> (u8, &'static str) {
    match fibre.name {
        "cotton" | "linen" | "flax" | "true hemp" | "jute" | "ramie" => {
            (0, "cellulose bears a hot iron")
        }
        "metal" | "metallised" => (3, "heat and pressure spoil metal thread"),
        "polypropylene" | "polyethylene" | "chlorofibre" | "elastodiene" | "trivinyl" => {
            (3, "it softens under any iron")
        }
        "polyamide" | "nylon" => (2, "polyamide softens early"),
        "acrylic" | "modacrylic" | "acetate" | "polylactide" | "silk" => {
            (2, "it bears the lowest heat only")
        }
        name if name.starts_with("elast") => (2, "it bears the lowest heat only"),
        _ if fibre.protein => (1, "wool and hair yellow and harden under a hot iron"),
        _ => (1, "it bears a middling heat"),
    }
}
