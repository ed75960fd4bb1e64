//! The papers with drawings to scale: the hanging sheet for the installer, the packing sheet for the
//! carrier and the condition sheet for the registrar. Their figures come from the reckoning; here they
//! are put into words and handed to the templates, drawings as lengths in millimetres. Where a line
//! stands on the page is the template's.

mod baseline;
mod carrier;
mod condition;
mod elevation;
mod hanging;
mod installer;
mod leaving;
mod load;
mod outline;
mod packing;
mod packing_list;
mod print;
mod registrar;
mod roll;
mod scale;
mod words;

pub use carrier::CarrierView;
#[cfg(test)]
pub(super) use condition::ConditionSheet;
pub(super) use condition::wanting as condition_wants;
pub(super) use elevation::ruler;
pub(super) use hanging::wanting as hanging_wants;
pub use installer::InstallerView;
pub(super) use packing::wanting as packing_wants;
pub(super) use print::{about, doubted, long, plain, weight};
pub use registrar::{OnFile, RegistrarView};
pub(super) use scale::{Ruler, fitting_close, ruler_length};
pub(super) use words::DrawnWords;

#[cfg(test)]
pub(super) use {hanging::HangingSheet, packing::PackingSheet};

use super::said::Said;
use serde::Serialize;

/// A line to be filled in by hand.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Blank {
    /// What is to be written there.
    term: Said,
    /// The unit that stands behind it; nothing for names and days.
    unit: Option<String>,
}

impl Blank {
    fn of(term: Said, unit: Option<&str>) -> Blank {
        Blank {
            term,
            unit: unit.map(str::to_string),
        }
    }
}
