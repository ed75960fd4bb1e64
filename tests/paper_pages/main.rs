//! The papers on invented records, from the least to the fullest. The pages are left below the
//! target folder, in `tmp/papers`, to be looked at.

mod condition;
mod drawn;
mod face;
mod keeping;
mod pictures;
mod promises;
mod reading;
mod scene;

use offloom::paper::Press;
use offloom::record::{Measures, PaperSize, Piece, RuleSet, Studio};
use pictures::Pictures;
use scene::*;

const NAMES: [&str; 3] = ["care-label", "certificate", "catalogue-page"];

/// Makes the papers, leaves them to be looked at, and gives their numbers of pages.
fn pages(name: &str, studio: &Studio, piece: &Piece, pictures: &Pictures) -> [usize; 3] {
    let dir = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("papers");
    std::fs::create_dir_all(&dir).unwrap();
    let sheets = papers(&Press::new(), studio, piece, pictures);
    for (paper, sheet) in NAMES.iter().zip(&sheets) {
        std::fs::write(dir.join(format!("{name}.{paper}.pdf")), &sheet.pdf).unwrap();
        assert!(sheet.warnings.is_empty(), "{paper}: {:?}", sheet.warnings);
        assert!(sheet.missing_glyphs.is_empty(), "{paper}");
    }
    sheets.map(|sheet| sheet.pages)
}

fn wide() -> Pictures {
    Pictures::of((2400, 1750), Some((1200, 900)))
}

#[test]
fn a_full_commission_has_three_single_pages() {
    assert_eq!(
        pages("commission", &studio(), &commission(), &wide()),
        [1, 1, 1]
    );
}

#[test]
fn an_old_piece_without_photographs_has_its_papers() {
    assert_eq!(
        pages("minimal", &studio(), &minimal(), &Pictures::none()),
        [1, 1, 1]
    );
}

#[test]
fn a_long_statement_beside_a_tall_piece_goes_to_a_second_page() {
    let tall = Pictures::of((1100, 2440), Some((1000, 1000)));
    assert_eq!(pages("portrait", &studio(), &portrait(), &tall), [1, 2, 2]);
}

#[test]
fn a_statement_of_middle_length_stands_in_two_columns_below_the_plate() {
    let mut piece = commission();
    piece.statement = some(&long_statement(2));
    assert_eq!(pages("columns", &studio(), &piece, &wide()), [1, 1, 1]);
}

#[test]
fn a_piece_without_a_statement_shows_more_of_its_second_plate() {
    let mut piece = commission();
    piece.statement = None;
    assert_eq!(pages("silent", &studio(), &piece, &wide()), [1, 1, 1]);
}

#[test]
fn a_slim_piece_has_everything_beside_it() {
    let mut piece = commission();
    piece.title = at("Net".into());
    piece.measured.height = vec![read("140 cm")];
    piece.measured.width = vec![read("60 cm")];
    let slim = Pictures::of((1000, 2300), Some((1200, 900)));
    assert_eq!(pages("slim", &studio(), &piece, &slim), [1, 1, 1]);
}

#[test]
fn a_long_low_piece_stands_a_little_above_the_middle() {
    let low = Pictures::of((3000, 600), None);
    assert_eq!(pages("panorama", &studio(), &panorama(), &low), [1, 1, 1]);
}

#[test]
fn a_piece_by_forty_hands_keeps_to_single_pages() {
    let square = Pictures::of((2000, 2000), Some((1200, 800)));
    assert_eq!(
        pages("community", &studio(), &community(), &square),
        [1, 1, 1]
    );
}

#[test]
fn a_certificate_in_two_languages_may_have_two_sides() {
    let mut s = studio();
    s.languages = vec![at("en".into()), at("fi".into())];
    assert_eq!(
        pages("english-finnish", &s, &commission(), &wide()),
        [1, 2, 1]
    );
    s.languages = vec![at("fr".into()), at("en".into())];
    s.measures = Measures::Both;
    assert_eq!(
        pages("french-english", &s, &commission(), &wide()),
        [1, 2, 1]
    );
    s.languages = vec![at("de".into())];
    assert_eq!(pages("german", &s, &commission(), &wide()), [1, 1, 1]);
}

#[test]
fn papers_fit_letter_sheets_too() {
    let mut s = studio();
    s.paper = PaperSize::Letter;
    s.measures = Measures::In;
    s.rules = vec![at(RuleSet::Eu), at(RuleSet::Us), at(RuleSet::Uk)];
    assert_eq!(pages("letter", &s, &commission(), &wide()), [1, 2, 1]);
}
