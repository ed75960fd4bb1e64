//! The checks: rules over the record that find the weaver's slips. Each has a file of its own with
//! its documentation, a bad and a good example, and its rule; register.rs lists them all. What
//! reading finds by itself is documented here too, in `while_reading/`.
//!
//! A check never writes, never guesses a value into the record, and knows nothing of papers.

mod day_slips;
mod days;
mod example;
mod manual;
mod register;
#[cfg(test)]
mod testing;
pub(crate) mod while_gathering;
pub(crate) mod while_setting;
mod words;

mod while_reading {
    pub mod fields;
    pub mod files;
    pub mod values;
    pub mod yaml;
}
mod files {
    pub mod name_not_portable;
    pub mod names_alike;
}
mod materials {
    pub mod animal_part;
    pub mod fibre_shares;
    pub mod no_amount;
    pub mod no_count;
    pub mod no_fibre;
    pub mod ornament_counted;
    pub mod unknown_fibre;
    pub mod virgin_wool;
    pub mod weighed_backwards;
    pub mod yarns;
}
mod measures {
    pub mod air_unlikely;
    pub mod diagonals_impossible;
    pub mod display_hours;
    pub mod frame;
    pub mod light_too_strong;
    pub mod mass_unlikely;
    pub mod out_of_square;
    pub mod readings_apart;
    pub mod size_unlikely;
}
mod packing {
    pub mod too_long_for_opening;
    pub mod tube_too_thin;
}
mod hanging {
    pub mod bar_does_not_fit;
    pub mod bar_overstressed;
    pub mod bar_sags;
    pub mod bracket_in_sleeve;
    pub mod bracket_off_bar;
    pub mod centre_outside;
    pub mod hold_down_bracket;
    pub mod one_bracket;
    mod reckoned;
    pub mod slits_open;
    #[cfg(test)]
    mod tests;
}
mod loom {
    pub mod ends_sett_width;
    pub mod off_loom_size;
    pub mod sett_unlikely;
    pub mod top_not_set;
    pub mod turned;
    pub mod warp_too_short;
}
mod photos {
    pub mod light_uneven;
    pub mod listed;
    pub mod no_alt_text;
    pub mod no_front_photo;
    pub mod photo_clipped;
    pub mod photo_coarse;
    pub mod photo_colour;
    pub mod photo_corners;
    pub mod photo_missing;
    pub mod photo_moving;
    pub mod photo_not_read;
    pub mod photo_private;
    pub mod photo_shape;
    pub mod photo_small;
    pub mod photo_soft;
    pub mod photo_twice;
    pub mod photo_unlisted;
    pub mod photo_unreadable;
    pub mod plate_room;
    pub mod views_missing;
}
mod notes {
    pub mod by_day;
    pub mod day_twice;
    pub mod days_out_of_order;
    pub mod hours_impossible;
    pub mod hours_long;
    pub mod last_height;
    pub mod note_outside_made;
    pub mod rate_unlikely;
    pub mod woven_downwards;
}
mod dates {
    pub mod issued_too_early;
    pub mod measured_before_made;
}
mod slips {
    pub mod figures_disagree;
}
mod series {
    pub mod members;
    pub mod series_ask;
    pub mod series_count_differs;
    pub mod series_count_short;
    pub mod series_gap;
    pub mod series_number_beyond;
    pub mod series_number_follows;
    pub mod series_number_taken;
    pub mod series_out_of_order;
}
mod owners {
    pub mod owner_before_made;
    pub mod owner_gap;
    pub mod owner_overlap;
    pub mod owners_out_of_order;
    pub mod spans;
}
mod money {
    pub mod currency_mixed;
    pub mod currency_other;
    pub mod stages;
    pub mod stages_open;
    pub mod stages_over_price;
}
mod makers {
    pub mod consent_unknown;
    pub mod consent_withheld;
    pub mod maker_not_on_roll;
    pub mod maker_without_square;
    pub mod minor_printed;
    pub mod name_twice_on_roll;
    mod places;
    pub mod roll_file_missing;
    pub mod square_outside;
    pub mod square_twice;
    pub mod squares_map_missing;
    pub mod squares_size;
    pub mod squares_without_maker;
}

pub use example::{Example, Seen};
pub use manual::{entry, explain, manual};
pub use register::CHECKS;

use crate::read::printable;
use crate::record::{Finding, FindingKind, Piece, Rank, Sight, Studio};
use std::collections::{BTreeMap, BTreeSet};

/// One check.
pub struct Check {
    /// The kind of finding it raises.
    pub kind: FindingKind,
    /// What it finds and why that matters, in a few sentences for the weaver.
    pub doc: &'static str,
    /// An archive that it finds fault with.
    pub bad: Example,
    /// The same mended.
    pub good: Example,
    /// The rule.
    pub rule: Rule,
}

/// How a check looks.
pub enum Rule {
    /// Reading raises the finding; nothing is left to do here.
    WhileReading,
    /// The press raises the finding.
    WhileSetting,
    /// The gathering of a show raises the finding.
    WhileGathering,
    /// Looks at one piece.
    Piece(fn(&Subject, &mut Vec<Finding>)),
    /// Looks for what one piece does not say. While its piece.yaml has slips of reading nobody knows
    /// what it says, so [`ranked`] withholds these findings until the slips are mended.
    Silence(fn(&Subject, &mut Vec<Finding>)),
    /// Looks across all pieces.
    Archive(fn(&[Subject], &mut Vec<Finding>)),
}

/// All that a rule may look at for one piece.
pub struct Subject<'a> {
    /// The studio, if it could be read.
    pub studio: Option<&'a Studio>,
    /// The piece.
    pub piece: &'a Piece,
    /// Every file in the piece's folder, by its path in it.
    pub files: &'a BTreeSet<String>,
    /// What was seen in each file of `photos/`, by its path below it.
    pub sights: &'a BTreeMap<String, Sight>,
}

/// Runs every rule over the pieces.
pub fn check(subjects: &[Subject]) -> Vec<Finding> {
    let mut findings: Vec<Finding> = subjects.iter().flat_map(check_piece).collect();
    findings.extend(check_archive(subjects));
    findings
}

/// Runs the rules that look at one piece.
pub fn check_piece(subject: &Subject) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in CHECKS {
        if let Rule::Piece(rule) | Rule::Silence(rule) = check.rule {
            rule(subject, &mut findings);
        }
    }
    slips::figures_disagree::settle(subject, &mut findings);
    findings.into_iter().map(printable).collect()
}

/// Runs the rules over the makers of one piece alone.
pub fn check_makers(subject: &Subject) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in register::OF_MAKERS {
        if let Rule::Piece(rule) | Rule::Silence(rule) = check.rule {
            rule(subject, &mut findings);
        }
    }
    findings.into_iter().map(printable).collect()
}

/// Runs the rules that look across pieces. They do not look at photographs, so the subjects' sights
/// may be empty.
pub fn check_archive(subjects: &[Subject]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in CHECKS {
        if let Rule::Archive(rule) = check.rule {
            rule(subjects, &mut findings);
        }
    }
    findings.into_iter().map(printable).collect()
}

/// Puts all findings of a run, those of reading among them, in the order they are shown: gravest
/// first, then by place. What merely follows from a slip of reading is left out.
pub fn ranked(mut findings: Vec<Finding>) -> Vec<Finding> {
    let rule = |f: &Finding| explain(f.kind.name).map(|check| &check.rule);
    let spoiled: BTreeSet<String> = findings
        .iter()
        .filter(|f| f.kind.rank == Rank::Error && matches!(rule(f), Some(Rule::WhileReading)))
        .filter_map(|f| f.place.file.strip_suffix("piece.yaml").map(str::to_string))
        .collect();
    findings.retain(|f| {
        let silence = matches!(rule(f), Some(Rule::Silence(_)));
        !(silence
            && spoiled
                .iter()
                .any(|folder| f.place.file.starts_with(folder)))
    });
    findings.sort_by(|a, b| {
        let key = |f: &Finding| (f.kind.rank, f.place.clone(), f.kind.name);
        key(a).cmp(&key(b))
    });
    findings.dedup();
    findings
}

/// Whether any finding is an error.
pub fn has_error(findings: &[Finding]) -> bool {
    findings.iter().any(|f| f.kind.rank == Rank::Error)
}
