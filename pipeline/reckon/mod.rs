//! The reckoning: every figure that follows from what the weaver declared. Pure arithmetic, one file
//! per subject; each formula names its source. Nothing here opens a file; findings are made in `check`.

mod care;
mod caution;
pub mod community;
pub mod estimate;
pub mod exposure;
mod fibre;
mod figure;
pub mod hang;
mod ledger;
mod light;
mod mass;
mod money;
mod printed;
mod report;
mod roll;
pub mod series;
mod sheet;
pub mod single_view;
mod size;
pub mod slip;
mod time;
mod uncertain;
pub mod walls;
mod web;
mod written;
mod yarn;

pub use care::{Climate, Component, Decided, Pests, Process, Reason, Upkeep};
pub use fibre::{FibreContent, FibreLine, Ornament, Percent, Section, largest_remainder};
pub use figure::Figure;
pub use ledger::{Amount, Entry};
pub use light::{Dose, Light, Responsivity, Weakest, days_until};
pub use mass::{Masses, USUAL_AREAL, WeftMass};
pub use money::{Finances, Material, Materials, Stages, WorkHours};
pub use printed::{printed, significant};
pub use roll::{
    Advised, OnTube, Parcel, Passage, Roll, Tube, Way, Wound, longest_in_box, ring_diameter,
    strain, wound,
};
pub use sheet::sheet;
pub use size::{Misfit, Size};
pub use time::{Estimate, Point, Spread, Stretch, TimeAtWork};
pub use uncertain::Uncertain;
pub use web::Web;
pub use yarn::Yarn;

use crate::record::{Piece, Studio};

/// All that is reckoned for one piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Reckoning {
    /// How large it is as it hangs.
    pub size: Size,
    /// The web on the loom against the piece off it.
    pub web: Web,
    /// Every yarn, warp first.
    pub yarns: Vec<Yarn>,
    /// What it weighs and should weigh.
    pub masses: Masses,
    /// What it is made of, under each rule set the studio chose, in that order.
    pub fibre: Vec<FibreContent>,
    /// How it hangs, if its mass is known.
    pub hanging: Option<hang::Hanging>,
    /// Days and hours at the loom, if the notes tell.
    pub time: Option<TimeAtWork>,
    /// The light it gets, and the yarn that decides.
    pub light: Light,
    /// Care, pests and climate.
    pub upkeep: Upkeep,
    /// The piece rolled up, its parcel, and what it passes through.
    pub roll: Roll,
    /// What it cost and brought in, in one currency. Private.
    pub money: Finances,
}

impl Reckoning {
    /// Reckons a piece.
    pub fn of(studio: &Studio, piece: &Piece) -> Reckoning {
        let size = Size::of(piece);
        let web = Web::of(piece, &size);
        let masses = Masses::of(piece, &web, &size);
        let fibre = studio
            .rules
            .iter()
            .map(|rule| FibreContent::of(piece, &masses, rule.value))
            .collect();
        let roll = Roll::of(piece, &size, &masses);
        let hanging = hang::Hanging::of(piece, &size, &masses);
        let time = TimeAtWork::of(piece, &web, &size);
        let money = Finances::of(studio, piece, &masses, &size, time.as_ref());
        Reckoning {
            size,
            web,
            yarns: Yarn::all(piece),
            masses,
            fibre,
            hanging,
            time,
            light: Light::of(piece),
            upkeep: Upkeep::of(piece),
            roll,
            money,
        }
    }

    /// Every figure as an entry of the ledger, subject by subject.
    pub fn entries(&self) -> Vec<Entry> {
        let mut all = Vec::new();
        all.extend(self.size.entries());
        all.extend(self.web.entries());
        all.extend(Yarn::entries(&self.yarns));
        all.extend(self.masses.entries());
        all.extend(self.hanging.iter().flat_map(hang::Hanging::entries));
        all.extend(self.fibre.iter().flat_map(FibreContent::entries));
        let wool = self.fibre.iter().any(|f| f.wool);
        all.extend(fibre::required(wool));
        all.extend(self.light.entries());
        all.extend(self.upkeep.entries());
        all.extend(self.roll.entries());
        all.extend(self.time.iter().flat_map(TimeAtWork::entries));
        all.extend(self.money.entries());
        all
    }
}
