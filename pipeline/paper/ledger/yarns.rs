//! The studio sheet's table of yarns, the warp first.

use super::StudioView;
use super::view::YarnRow;
use crate::paper::figures::{THIN, money, short};
use crate::paper::said::Said;
use crate::paper::words::Words;
use serde::Serialize;

/// The table: its head, the columns' heads, and a row a yarn with as many cells as there are heads.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct YarnTable {
    head: Said,
    heads: Vec<Said>,
    rows: Vec<Vec<Said>>,
}

/// The table of a piece's yarns.
pub(super) fn table(view: &StudioView, tongues: &[&Words]) -> YarnTable {
    let heads: [fn(&Words) -> &String; 8] = [
        |w| &w.ledger.yarn,
        |w| &w.ledger.count,
        |w| &w.ledger.fibre,
        |w| &w.ledger.dye,
        |w| &w.ledger.light,
        |w| &w.ledger.wash,
        |w| &w.ledger.used,
        |w| &w.ledger.cost,
    ];
    YarnTable {
        head: Said::each(tongues, |w| w.ledger.yarns.clone()),
        heads: heads
            .iter()
            .map(|get| Said::each(tongues, |w| get(w).clone()))
            .collect(),
        rows: view.yarns.iter().map(|y| row(y, tongues)).collect(),
    }
}

fn row(yarn: &YarnRow, tongues: &[&Words]) -> Vec<Said> {
    let own = |text: &Option<String>| Said::own(text.clone().unwrap_or_default());
    let grade = |g: Option<(u8, u8)>| {
        Said::own(g.map_or(String::new(), |(low, high)| {
            if low == high {
                low.to_string()
            } else {
                format!("{low}–{high}")
            }
        }))
    };
    let name = match (&yarn.name, yarn.warp) {
        (Some(name), false) => Said::own(name),
        (Some(name), true) => {
            Said::own(format!("{name}, ")).then(Said::each(tongues, |w| w.ledger.warp.clone()))
        }
        (None, true) => Said::each(tongues, |w| w.ledger.warp.clone()),
        (None, false) => Said::own("–"),
    };
    let fibres = Said::each(tongues, |w| {
        let each: Vec<String> = yarn
            .fibres
            .iter()
            .map(|(name, percent)| {
                let name =
                    crate::record::fibre_named(name).map_or(name.as_str(), |f| w.fibre(f.name));
                // A yarn of one fibre needs no figure.
                if yarn.fibres.len() == 1 {
                    name.to_string()
                } else {
                    format!("{name}\u{A0}{}", short(*percent, w))
                }
            })
            .collect();
        each.join(", ")
    });
    let grams = Said::each(tongues, |w| {
        yarn.grams.map_or(String::new(), |g| {
            format!("{}{THIN}g", short(libm::round(g), w))
        })
    });
    let cost = Said::each(tongues, |w| {
        yarn.cost.as_ref().map_or(String::new(), |c| money(c, w))
    });
    vec![
        name,
        own(&yarn.count),
        fibres,
        own(&yarn.dye),
        grade(yarn.light),
        grade(yarn.wash),
        grams,
        cost,
    ]
}
