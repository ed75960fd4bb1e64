//! What only the gathering of a show can find. It is raised there; here it is explained.

use super::{Check, Example, Rule};
use crate::record::FindingKind;

/// A piece with a yarn that fades early.
const PIECE: &str =
    "weft: [{name: sea green, count: NeW 2/8, fibre: {wool: 100}, used: 410 g, light: 3}]\n";

/// The folder's file, with the lines that every exhibition has.
macro_rules! ebb {
    ($lines:literal) => {
        (
            "exhibitions/ebb.yaml",
            concat!("title: Ebb\nopen: 2027-02-05/2027-03-28\n", $lines),
        )
    };
}

macro_rules! checks {
    ($($name:ident $kind:ident = $rank:ident $id:literal, $doc:literal, $piece:expr, [$($bad:expr),*], [$($good:expr),*];)*) => {
        $(
            #[doc = $id]
            pub(crate) const $kind: FindingKind = FindingKind::$rank($id);
            pub const $name: Check = Check {
                kind: $kind,
                doc: $doc,
                bad: Example { piece: $piece, more: &[$($bad),*], ..Example::PLAIN },
                good: Example { piece: $piece, more: &[$($good),*], ..Example::PLAIN },
                rule: Rule::WhileGathering,
            };
        )*
    };
}

/// A front that is not fit for print.
pub(crate) const NO_PLATE: FindingKind = FindingKind::warning("no-print-plate");
pub const NO_PRINT_PLATE: Check = Check {
    kind: NO_PLATE,
    doc: "The catalogue has no photograph of a piece's front that is good enough for print: there is none, or it has \
          too few pixels to stand ten centimetres wide at 250 pixels an inch.",
    bad: Example {
        piece: "photos: []",
        more: &[ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n")],
        ..Example::PLAIN
    },
    good: Example {
        more: &[ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n")],
        ..Example::PLAIN
    },
    rule: Rule::WhileGathering,
};

checks! {
    PIECE_UNKNOWN UNKNOWN = error "piece-unknown",
        "An exhibition names a piece that is not in the folder `pieces`, or one whose piece.yaml can not be read.",
        "",
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [pp]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n")];
    LISTED_TWICE TWICE = warning "piece-listed-twice",
        "An exhibition lists a piece more than once. It hangs once, where it is listed first.",
        "",
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p, p]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n")];
    SHOW_EMPTY EMPTY = warning "show-empty",
        "An exhibition lists no piece, so that its papers are almost bare.",
        "",
        [ebb!("walls: [{name: north, width: 6 m}]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n")];
    WALL_UNKNOWN NO_SUCH_WALL = error "wall-unknown",
        "A piece is to hang on a wall that the exhibition does not have.",
        "",
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [{piece: p, wall: nroth}]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [{piece: p, wall: north}]\n")];
    WALL_TWICE SAME_WALL = error "wall-named-twice",
        "Two walls of an exhibition have the same name, so that nobody can tell them apart.",
        "",
        [ebb!("walls: [{name: north, width: 6 m}, {name: north, width: 4 m}]\npieces: [p]\n")],
        [ebb!("walls: [{name: north, width: 6 m}, {name: south, width: 4 m}]\npieces: [p]\n")];
    BEYOND_WALL BEYOND = warning "clear-beyond-wall",
        "A stretch that must be kept clear ends beyond its wall, or before it begins. One of the figures is a slip: check \
         them against the plan of the room.",
        "",
        [ebb!("walls: [{name: north, width: 6 m, keep_clear: [{from: 5.5 m, to: 6.5 m, what: door}]}]\npieces: [p]\n")],
        [ebb!("walls: [{name: north, width: 6 m, keep_clear: [{from: 5 m, to: 6 m, what: door}]}]\npieces: [p]\n")];
    NO_PLACE_FOR NO_PLACE = warning "piece-without-place",
        "A piece finds no place on the walls: it is too wide, too high or too heavy for them, or the others leave no \
         room. All papers are made; it stands in the list, and on the hang plan among those left over.",
        "",
        [ebb!("walls: [{name: north, width: 1 m}]\npieces: [p]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n")];
    MASS_UNTOLD UNTOLD_MASS = warning "mass-untold",
        "A wall has a limit of what it may carry, and a piece on it has no mass: the sum on the hang plan is too small.",
        "warp: {fibre: {cotton: 100}}\nweft: [{fibre: {wool: 100}}]\n",
        [ebb!("walls: [{name: north, width: 6 m, limit: 25 kg}]\npieces: [p]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n")];
    OTHER_SHOW ELSEWHERE = warning "shown-elsewhere",
        "A piece is promised to two exhibitions that are open at the same time.",
        "",
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n"), ("exhibitions/flood.yaml", "title: Flood\nopen: 2027-03-01/2027-05-01\npieces: [p]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n"), ("exhibitions/flood.yaml", "title: Flood\nopen: 2027-04-01/2027-05-01\npieces: [p]\n")];
    SOLD_NOT_LENT NOT_LENT = warning "owned-not-lent",
        "A piece has an owner other than the studio, and the exhibition has no loan of it. Ask whether the owner agrees, and write the loan down.",
        "owners: [{from: 2026-07, name: Ada Quill, how: bought}]",
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\nloans: [{piece: p, lender: Ada Quill, from: 2027-01-20, to: 2027-04-10}]\n")];
    SHORT_LOAN LOAN_SHORT = warning "loan-too-short",
        "A loan begins after the exhibition opens or ends before it closes, or ends before it begins.",
        "",
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\nloans: [{piece: p, lender: Ada Quill, from: 2027-01-20, to: 2027-03-10}]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\nloans: [{piece: p, lender: Ada Quill, from: 2027-01-20, to: 2027-04-10}]\n")];
    LOAN_NOT_SHOWN NOT_SHOWN = warning "lent-not-shown",
        "A loan is of a piece that the exhibition does not show. Either the piece was forgotten, or the loan is left from an \
         earlier list.",
        "",
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\nloans: [{piece: q, lender: Ada Quill}]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\nloans: [{piece: p, lender: Ada Quill}]\n")];
    NOT_FINISHED UNFINISHED = warning "piece-not-finished",
        "A piece was never finished, or has changed since: its plates and its record number are missing from the \
         exhibition's papers. `offloom finish` makes them.",
        "",
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n")],
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [p]\n")];
    ONE_LANGUAGE UNTOLD = note "told-in-one-language",
        "The exhibition's papers speak two languages, and a text of hers is told in one alone. It stands as it is; a \
         text for each is written as `{en: …, fi: …}`.",
        "",
        [ebb!("languages: [en, fi]\nintroduction: {en: Low water.}\nwalls: [{name: north, width: 6 m}]\npieces: [p]\n")],
        [ebb!("languages: [en, fi]\nintroduction: {en: Low water., fi: Matala vesi.}\nwalls: [{name: north, width: 6 m}]\npieces: [p]\n")];
    CHILD_NAMED MINOR = error "minor-named",
        "A text of the exhibition names somebody of a piece's roll who is not of age or has not agreed to be named. A \
         child's name is printed only with consent, and only as the roll says.",
        "makers: {roll: [{name: Nell Tarn, age: minor, consent: no}, {name: Ada Quill, age: adult, consent: yes}]}",
        [ebb!("introduction: Woven with Nell Tarn.\nwalls: [{name: north, width: 6 m}]\npieces: [p]\n")],
        [ebb!("introduction: Woven by many.\nwalls: [{name: north, width: 6 m}]\npieces: [p]\n")];
    PRICE_NOT_ASKED PRICE = warning "price-not-asked",
        "A price is written, but `price_list: yes` is not: it stands on no paper. Or a text for the public has the sum in it.",
        "",
        [ebb!("walls: [{name: north, width: 6 m}]\npieces: [{piece: p, for_sale: yes, price: 5200 GBP}]\n")],
        [ebb!("price_list: yes\nwalls: [{name: north, width: 6 m}]\npieces: [{piece: p, for_sale: yes, price: 5200 GBP}]\n")];
    OVER_YEAR LIGHT = warning "light-over-year",
        "A piece gets more light in the year of the show than its most fugitive yarn may have, or stronger light than it \
         should ever hang in. The light budget says which change keeps it inside: dimmer light, or taking it down on a day.",
        PIECE,
        [ebb!("light: 500 lx\nhours: {days_a_week: 6, hours_a_day: 7}\nwalls: [{name: north, width: 6 m}]\npieces: [p]\n")],
        [ebb!("light: 40 lx\nhours: {days_a_week: 6, hours_a_day: 7}\nwalls: [{name: north, width: 6 m}]\npieces: [p]\n")];
}
