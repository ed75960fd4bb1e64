//! The checks: rules over the record that find the weaver's slips. Each has a file of its own with
//! its documentation, a bad and a good example, and its rule; this file is their register. What
//! reading finds by itself is documented here too, in `while_reading/`.
//!
//! A check never writes, never guesses a value into the record, and knows nothing of papers.

mod day_slips;
mod days;
mod example;
mod manual;
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
    pub mod minor_printed;
    pub mod squares_map_missing;
    pub mod squares_size;
}

pub use example::{Example, Seen};
pub use manual::{entry, explain, manual};

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

/// Every check, in the order of the manual.
pub const CHECKS: &[&Check] = &[
    &while_reading::files::NO_PIECES,
    &while_reading::files::AWKWARD_FOLDER,
    &while_reading::files::UNREADABLE_FILE,
    &while_reading::files::LEAVES_FOLDER,
    &while_reading::files::NOT_ARCHIVED,
    &files::names_alike::CHECK,
    &files::name_not_portable::CHECK,
    &while_reading::yaml::NOT_YAML,
    &while_reading::yaml::TAB_INDENT,
    &while_reading::yaml::DUPLICATE_FIELD,
    &while_reading::yaml::REMARK_IN_TEXT,
    &while_reading::yaml::UNFOLDS_TOO_FAR,
    &while_reading::fields::UNKNOWN_FIELD,
    &while_reading::fields::MISSING_FIELD,
    &while_reading::fields::WRONG_SHAPE,
    &while_reading::fields::TWO_ANSWERS,
    &while_reading::values::NO_UNIT,
    &while_reading::values::WRONG_UNIT,
    &while_reading::values::UNKNOWN_UNIT,
    &while_reading::values::AMBIGUOUS_COUNT,
    &while_reading::values::UNREADABLE_VALUE,
    &while_reading::values::IMPOSSIBLE_VALUE,
    &while_reading::values::UNKNOWN_WORD,
    &while_reading::values::UNREADABLE_NOTE,
    &materials::unknown_fibre::CHECK,
    &materials::fibre_shares::CHECK,
    &materials::no_fibre::CHECK,
    &materials::no_count::CHECK,
    &materials::no_amount::CHECK,
    &materials::weighed_backwards::CHECK,
    &materials::ornament_counted::CHECK,
    &materials::virgin_wool::CHECK,
    &materials::animal_part::CHECK,
    &measures::size_unlikely::CHECK,
    &measures::mass_unlikely::CHECK,
    &measures::readings_apart::CHECK,
    &measures::diagonals_impossible::CHECK,
    &measures::out_of_square::CHECK,
    &measures::air_unlikely::CHECK,
    &measures::display_hours::CHECK,
    &measures::light_too_strong::CHECK,
    &packing::tube_too_thin::CHECK,
    &packing::too_long_for_opening::CHECK,
    &loom::sett_unlikely::CHECK,
    &loom::ends_sett_width::CHECK,
    &loom::top_not_set::CHECK,
    &loom::off_loom_size::CHECK,
    &loom::warp_too_short::CHECK,
    &hanging::slits_open::CHECK,
    &hanging::bracket_off_bar::CHECK,
    &hanging::bracket_in_sleeve::CHECK,
    &hanging::one_bracket::CHECK,
    &hanging::centre_outside::CHECK,
    &hanging::hold_down_bracket::CHECK,
    &hanging::bar_sags::CHECK,
    &hanging::bar_overstressed::CHECK,
    &hanging::bar_does_not_fit::CHECK,
    &slips::figures_disagree::CHECK,
    &photos::photo_missing::CHECK,
    &photos::photo_moving::CHECK,
    &photos::photo_unreadable::CHECK,
    &photos::photo_not_read::CHECK,
    &photos::photo_unlisted::CHECK,
    &photos::no_front_photo::CHECK,
    &photos::photo_corners::CHECK,
    &photos::photo_shape::CHECK,
    &photos::photo_colour::CHECK,
    &photos::no_alt_text::CHECK,
    &photos::photo_private::CHECK,
    &photos::photo_coarse::CHECK,
    &photos::photo_small::CHECK,
    &photos::photo_soft::CHECK,
    &photos::photo_clipped::CHECK,
    &photos::light_uneven::CHECK,
    &photos::photo_twice::CHECK,
    &photos::views_missing::CHECK,
    &notes::hours_impossible::CHECK,
    &notes::hours_long::CHECK,
    &notes::days_out_of_order::CHECK,
    &notes::day_twice::CHECK,
    &notes::note_outside_made::CHECK,
    &notes::woven_downwards::CHECK,
    &notes::last_height::CHECK,
    &notes::rate_unlikely::CHECK,
    &dates::measured_before_made::CHECK,
    &dates::issued_too_early::CHECK,
    &series::series_number_taken::CHECK,
    &series::series_number_beyond::CHECK,
    &series::series_count_differs::CHECK,
    &series::series_count_short::CHECK,
    &series::series_out_of_order::CHECK,
    &series::series_gap::CHECK,
    &series::series_number_follows::CHECK,
    &series::series_ask::CHECK,
    &owners::owners_out_of_order::CHECK,
    &owners::owner_gap::CHECK,
    &owners::owner_overlap::CHECK,
    &owners::owner_before_made::CHECK,
    &money::stages_over_price::CHECK,
    &money::stages_open::CHECK,
    &money::currency_mixed::CHECK,
    &money::currency_other::CHECK,
    &makers::consent_unknown::CHECK,
    &makers::minor_printed::CHECK,
    &makers::squares_size::CHECK,
    &makers::squares_map_missing::CHECK,
    &while_setting::LETTERS_LACKING,
    &while_setting::OWN_PAPER,
    &while_setting::TIME_STAMP_UNFIT,
    &while_gathering::PIECE_UNKNOWN,
    &while_gathering::LISTED_TWICE,
    &while_gathering::SHOW_EMPTY,
    &while_gathering::WALL_UNKNOWN,
    &while_gathering::WALL_TWICE,
    &while_gathering::BEYOND_WALL,
    &while_gathering::NO_PLACE_FOR,
    &while_gathering::MASS_UNTOLD,
    &while_gathering::OTHER_SHOW,
    &while_gathering::SOLD_NOT_LENT,
    &while_gathering::SHORT_LOAN,
    &while_gathering::LOAN_NOT_SHOWN,
    &while_gathering::NO_PRINT_PLATE,
    &while_gathering::NOT_FINISHED,
    &while_gathering::ONE_LANGUAGE,
    &while_gathering::CHILD_NAMED,
    &while_gathering::PRICE_NOT_ASKED,
    &while_gathering::OVER_YEAR,
];

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
