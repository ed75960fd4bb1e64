//! The words of the papers with drawings, as the language files have them under `drawn`.

use crate::record::{BarMaterial, Support, View};
use serde::Deserialize;

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($field:ident: $kind:ty),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub(in crate::paper) struct $name { $(pub $field: $kind),* }
    };
}

words!(/** Words of both papers. */ DrawnWords {
    questions: String, date: String, to_fill: String, materials: Materials, hanging: HangingWords,
    packing: PackingWords, condition: ConditionWords,
});
words!(/** What bars are made of. */ Materials {
    pine: String, spruce: String, fir: String, alder: String, ash: String, beech: String,
    oak: String, aluminium: String, steel: String, acrylic: String,
});
words!(/** The hanging sheet. */ HangingWords {
    name: String, drawn: String, behind: String, drop: String, alt: String, top: String,
    overhead: String, hands: String, fire: String, points: String, slits: String,
    support: String, hook: String, sleeve: String, batten: String, bar_seen: String,
    support_none: String, band: String, hook_how: String, sleeve_how: String,
    batten_how: String, bar_how: String, bar: String, flat: String, flat_lying: String,
    round: String, tube: String, box_: String, long: String, long_advised: String,
    bar_advised: String, fixings: String, at: String, at_best: String, count: String,
    none: String, holds: String, holds_said: String, line: String, line_said: String,
    wall: String, wall_bar: String, wall_alone: String, each: String, each_alike: String,
    each_two: String, design: String, design_said: String, pull: String, pull_said: String,
    sag: String, sag_said: String, sag_steady: String, sag_little: String, within: String, beyond: String,
    reckoned: String, no_mass: String, centre: String, centre_left: String,
    centre_right: String, centre_unknown: String, drop_blank: String, floor_blank: String,
    mass_blank: String, judged_blank: String, hung_blank: String,
});
impl HangingWords {
    /// What carries the piece, in words.
    pub(in crate::paper) fn hung_by(&self, support: Support) -> &String {
        match support {
            Support::HookAndLoop => &self.hook,
            Support::Sleeve => &self.sleeve,
            Support::Batten => &self.batten,
            Support::Bar => &self.bar_seen,
        }
    }
}
words!(/** The packing sheet. */ PackingWords {
    name: String, section_head: String, side_head: String, section: String, side: String,
    section_alt: String, side_alt: String, tube_label: String, roll_label: String,
    not_drawn: String, order: String, look: String, lay_out: String, lay_out_lined: String,
    lay_in: String, tube: String, tube_least: String, tube_unknown: String, interleaf: String,
    interleaf_plain: String, foot_first: String, height: String, width: String, bump: String, heading: String, turns: String,
    straight: String, ends: String, cover: String, tie: String, cradle: String,
    cradle_plain: String, mark: String, parcel: String, inside: String, outside: String,
    mass: String, with_packing: String, piece_alone: String, no_mass: String, girth: String,
    girth_said: String, volume: String, volume_said: String, carrier: String, ways: String,
    door: String, room: String, endways: String, no_door: String, level: String,
    upright: String, slanting: String, no_room: String, only: String, lifting: String,
    dyes: String, wet: String, way_head: String, carry: String, carry_said: String, keep: String,
    keep_said: String, wet_term: String, harm: String, harm_said: String, arrival_term: String,
    asked: String, arrival: String, list: String, the_piece: String, bar: String,
    bar_apart: String, bar_plain: String, papers: String, photographed: String, dry: String, weighed: String,
    roll_blank: String, closed: String, opened: String,
});
words!(/** The condition sheet. */ ConditionWords {
    name: String, height: String, heights: String, width: String, widths: String,
    diagonals: String, diagonals_said: String, not_measured: String, square: String,
    leans_left: String, leans_right: String, square_unknown: String, square_doubtful: String,
    top_left: String, top_right: String, lower_right: String, lower_left: String,
    thickness: String, not_weighed: String, not_recorded: String, mass_moves: String,
    humidity: String, left_head: String, watch_head: String, warp_upright: String, warp_level: String,
    heading: String, deep: String, slits: String, hems: String, warp_ends: String,
    blocking: String, moths: String, yarn: String, fades: String, by_blue_wool: String,
    runs: String, by_grey_scale: String, none_weak: String, no_fastness: String,
    some_unknown: String, light: String, dose: String, first_change: String, allowed: String,
    rough: String, cleaning: String, photographs: String, view: String, file: String,
    taken: String, pixels: String, digest: String, digests: String, no_photographs: String,
    views: Views, front_head: String, back_head: String, front_alt: String, back_alt: String,
    front_drawn: String, back_drawn: String, as_measured: String, as_rectangle: String,
    as_even: String, heading_line: String, lined: String, top: String, signs_head: String,
    signs_how: String, signs: [String; 15], entries_head: String, number: String, sign: String,
    place: String, seen: String, size: String, date_and_hand: String, handling: String,
    hands: String, lifting: String, damp: String, pests: String, no_work: String,
    house: String, lent_by: String, lent_to: String, loan_number: String, arrival: String,
    hanging: String, taking_down: String, dispatch: String, where_: String, by: String,
    air: String, photographed: String, changes: String, signature: String, again: String,
});
words!(/** What photographs show. */ Views {
    front: String, back: String, detail: String, signature: String, loom: String,
    installed: String, material: String,
});

impl Views {
    /// The name of a view in this language.
    pub(super) fn name(&self, view: View) -> &str {
        match view {
            View::Front => &self.front,
            View::Back => &self.back,
            View::Detail => &self.detail,
            View::Signature => &self.signature,
            View::Loom => &self.loom,
            View::Installed => &self.installed,
            View::Material => &self.material,
        }
    }
}

impl Materials {
    /// The name of a material in this language.
    pub(super) fn name(&self, material: BarMaterial) -> &str {
        match material {
            BarMaterial::Pine => &self.pine,
            BarMaterial::Spruce => &self.spruce,
            BarMaterial::Fir => &self.fir,
            BarMaterial::Alder => &self.alder,
            BarMaterial::Ash => &self.ash,
            BarMaterial::Beech => &self.beech,
            BarMaterial::Oak => &self.oak,
            BarMaterial::Aluminium => &self.aluminium,
            BarMaterial::Steel => &self.steel,
            BarMaterial::Acrylic => &self.acrylic,
        }
    }
}
