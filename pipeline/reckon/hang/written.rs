//! What the weaver wrote in the fields that hanging is reckoned from, as she wrote it.

use crate::record::{Piece, SlitsLeft};

/// The words in a field such as `hanging.brackets`; nothing where the field is empty or not one of
/// hanging's.
pub fn written(piece: &Piece, field: &str) -> Option<String> {
    let finishing = &piece.finishing;
    match field {
        "finishing.slits" => return Some(finishing.slits.as_ref()?.value.clone()),
        "parts.heading" => {
            let heading = super::support::heading(piece)?;
            let method = heading.method.as_ref().map(|m| m.value.clone());
            let depth = heading.depth.as_ref().map(|d| d.value.text.clone());
            let both: Vec<String> = [method, depth].into_iter().flatten().collect();
            return (!both.is_empty()).then(|| both.join(", "));
        }
        _ => {}
    }
    let hanging = piece.hanging.as_ref()?;
    let bar = hanging.bar.as_ref();
    match field {
        "hanging.support" => Some(hanging.support.as_ref()?.value.word().to_string()),
        "hanging.bar.material" => Some(bar?.material.as_ref()?.value.word().to_string()),
        "hanging.bar.section" => Some(bar?.section.as_ref()?.value.text.clone()),
        "hanging.bar.length" => Some(bar?.length.as_ref()?.value.text.clone()),
        "hanging.brackets" => {
            let all: Vec<&str> = hanging
                .brackets
                .iter()
                .map(|b| b.value.text.as_str())
                .collect();
            (!all.is_empty()).then(|| all.join(", "))
        }
        "hanging.fixings" => Some(hanging.fixings.as_ref()?.value.to_string()),
        "hanging.factor" => Some(hanging.factor.as_ref()?.value.to_string()),
        "hanging.centre_of_mass" => Some(hanging.centre_of_mass.as_ref()?.value.text.clone()),
        "hanging.longest_slit" => Some(hanging.longest_slit.as_ref()?.value.text.clone()),
        "hanging.slits" => {
            let left = hanging.slits.as_ref()?.value;
            let named = SlitsLeft::ALL.iter().find(|(_, s)| *s == left);
            named.map(|(word, _)| (*word).to_string())
        }
        _ => None,
    }
}
