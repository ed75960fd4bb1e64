//! The three papers on invented records, from the least to the fullest. The pages are left below the
//! target folder to be looked at.

mod promises;
mod reading;
mod scene;

use offloom::paper::Press;
use offloom::record::{Measures, PaperSize, RuleSet, Studio};
use scene::*;

fn show(name: &str, studio: &Studio, piece: &offloom::record::Piece, pictures: &Pictures) {
    let press = Press::new();
    let dir = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("papers");
    std::fs::create_dir_all(&dir).unwrap();
    let names = ["care-label", "certificate", "catalogue-page"];
    for (paper, sheet) in names.iter().zip(papers(&press, studio, piece, pictures)) {
        std::fs::write(dir.join(format!("{name}.{paper}.pdf")), &sheet.pdf).unwrap();
        println!("{name} {paper}: {} pages, {} bytes, {:?}", sheet.pages, sheet.pdf.len(), sheet.wanting);
    }
}

#[test]
fn a_full_commission() {
    show("commission", &studio(), &commission(), &Pictures::of((2400, 1750), Some((1200, 900))));
}

#[test]
fn a_wide_piece_with_two_columns_to_say() {
    let mut piece = commission();
    piece.statement = some(&long_statement(2));
    show("columns", &studio(), &piece, &Pictures::of((2400, 1750), Some((1200, 900))));
    piece.statement = None;
    show("silent", &studio(), &piece, &Pictures::of((2400, 1750), Some((1200, 900))));
    piece.title = at("Net".into());
    piece.measured.height = vec![read("140 cm")];
    piece.measured.width = vec![read("60 cm")];
    piece.statement = commission().statement;
    show("slim", &studio(), &piece, &Pictures::of((1000, 2300), Some((1200, 900))));
}

#[test]
fn an_old_piece_without_photographs() {
    show("minimal", &studio(), &minimal(), &Pictures::none());
}

#[test]
fn a_tall_piece_with_much_to_say() {
    show("portrait", &studio(), &portrait(), &Pictures::of((1100, 2440), Some((1000, 1000))));
}

#[test]
fn a_long_low_piece() {
    show("panorama", &studio(), &panorama(), &Pictures::of((3000, 600), None));
}

#[test]
fn a_piece_by_forty_hands() {
    show("community", &studio(), &community(), &Pictures::of((2000, 2000), Some((1200, 800))));
}

#[test]
fn papers_in_two_languages() {
    let mut s = studio();
    s.languages = vec![at("en".into()), at("fi".into())];
    show("english-finnish", &s, &commission(), &Pictures::of((2400, 1750), Some((1200, 900))));
    s.languages = vec![at("fr".into()), at("en".into())];
    s.measures = Measures::Both;
    show("french-english", &s, &commission(), &Pictures::of((2400, 1750), Some((1200, 900))));
}

#[test]
fn papers_on_letter_sheets() {
    let mut s = studio();
    s.paper = PaperSize::Letter;
    s.measures = Measures::In;
    s.rules = vec![at(RuleSet::Eu), at(RuleSet::Us), at(RuleSet::Uk)];
    show("letter", &s, &commission(), &Pictures::of((2400, 1750), Some((1200, 900))));
}
