//! The condition sheet: what stands on it in every language, what never does, and that a square of cloth
//! has the same name from the front and from behind.

use crate::pictures::Pictures;
use crate::reading::{Read, squeezed};
use crate::scene::*;
use offloom::paper::{LANGUAGES, OnFile, Press, RegistrarView, Sheet};
use offloom::quantity::Money;
use offloom::reckon::Reckoning;
use offloom::record::{Finishing, MoneyMatters, Piece, Studio, View};

fn photo(file: &str, view: View, digest: &str) -> OnFile {
    OnFile {
        file: file.into(),
        view,
        taken: Some("2026-06-21".into()),
        pixels: Some((2400, 1750)),
        sha256: digest.repeat(8),
    }
}

fn view(studio: &Studio, piece: &Piece, photos: Vec<OnFile>) -> RegistrarView {
    let (_, number) = record(studio, piece);
    let reckoning = Reckoning::of(studio, piece);
    RegistrarView::of(studio, piece, &reckoning, &number, photos, None)
}

fn sheet(studio: &Studio, piece: &Piece, photos: Vec<OnFile>, pictures: &Pictures) -> Sheet {
    let view = view(studio, piece, photos);
    let made = Press::new().condition_sheet(&view, &pictures.plates());
    let made = made.unwrap();
    let dir = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("papers");
    std::fs::create_dir_all(&dir).unwrap();
    let slug = squeezed(&piece.title.value)
        .chars()
        .take(20)
        .collect::<String>();
    std::fs::write(dir.join(format!("{slug}.condition-sheet.pdf")), &made.pdf).unwrap();
    assert!(made.warnings.is_empty(), "{:?}", made.warnings);
    made
}

/// A commission with its diagonals, its price, and how it was finished.
fn known() -> Piece {
    let mut p = commission();
    p.measured.diagonals = Some([read("205.2 cm"), read("205.9 cm")]);
    p.money = Some(MoneyMatters {
        price: Some(at(Money::parse("6817 GBP").unwrap())),
        insured: Some(at(Money::parse("7429 GBP").unwrap())),
        ..MoneyMatters::default()
    });
    p.finishing = Finishing {
        slits: some("sewn from the back"),
        hems: some("turned and stitched"),
        ..Finishing::default()
    };
    p.weft[1].light = Some(at((4, 5)));
    p.weft[1].wash = Some(at((2, 3)));
    p
}

#[test]
fn a_registrar_reads_the_baseline() {
    let photos = vec![photo("front.jpg", View::Front, "deadbeef")];
    let made = sheet(&studio(), &known(), photos, &Pictures::none());
    let paper = Read::of(&made.pdf);
    for words in [
        "121.4 / 121.0 / 120.8 cm, from left to right",
        "166.0 / 166.4 cm, from the top down",
        "205.2 / 205.9 cm",
        "sewn from the back",
        "turned and stitched",
        "buoy red (4–5)",
        "buoy red (2–3)",
        "not recorded for 4 of 5 yarns",
        "front.jpg",
        "21 June 2026",
        "deadbeef",
        "Lent by",
        "textile conservator",
    ] {
        assert!(paper.says(words), "{words}");
    }
    // Eight digits of a digest are enough to tell the photographs apart, and all there is room for.
    assert!(!paper.says("deadbeefd"));
}

#[test]
fn neither_price_nor_owner_nor_address_stands_on_the_condition_sheet() {
    let photos = vec![photo("front.jpg", View::Front, "deadbeef")];
    let piece = known();
    let made = sheet(&studio(), &piece, photos.clone(), &Pictures::none());
    let paper = Read::of(&made.pdf);
    let everything = format!(
        "{} {} {}",
        paper.text(),
        paper.strings(),
        squeezed(&paper.xmp())
    );
    let seen = format!("{:?}", view(&studio(), &piece, photos));
    for secret in [
        "Mirabel",
        "Achterhof",
        "Lamplighter",
        "6817",
        "7429",
        "private thought",
    ] {
        assert!(!everything.contains(&squeezed(secret)), "{secret}");
        assert!(!seen.contains(secret), "the view holds {secret}");
    }
}

#[test]
fn no_makers_name_and_no_file_named_after_a_child_stands_on_it() {
    let piece = community();
    let makers = piece.makers.as_ref().unwrap();
    let child = makers.roll[0].name.value.clone();
    let photos = vec![
        photo("squares/ada-quillfeather.jpg", View::Detail, "0123abcd"),
        photo("adagio.jpg", View::Front, "4567abcd"),
    ];
    assert_eq!(child, "Ada Quillfeather");
    let made = sheet(&studio(), &piece, photos.clone(), &Pictures::none());
    let paper = Read::of(&made.pdf);
    let everything = format!("{} {}", paper.text(), paper.strings()).to_lowercase();
    let seen = format!("{:?}", view(&studio(), &piece, photos)).to_lowercase();
    for maker in &makers.roll {
        let name = maker.name.value.to_lowercase();
        assert!(!everything.contains(&squeezed(&name)), "{name}");
        assert!(!seen.contains(&name), "{name}");
    }
    assert!(!everything.contains("quillfeather"));
    // The photograph is there all the same, and a word that only begins like a name is none.
    assert!(everything.contains("0123abcd") && everything.contains("adagio.jpg"));
}

#[test]
fn every_square_has_a_name_on_both_faces() {
    let made = sheet(&studio(), &known(), vec![], &Pictures::none());
    let paper = Read::of(&made.pdf);
    // Source, exact case: 166.4 cm are 16 squares of 10 cm and more than a third of one, 121.4 cm are 12 and
    // less than a third, which the last takes: A to Q, 1 to 12.
    let alt = "columns A to Q from the left, rows 1 to 12 from the top";
    let behind = "columns A to Q from the right, rows 1 to 12 from the top";
    assert!(paper.strings().contains(&squeezed(alt)));
    assert!(paper.strings().contains(&squeezed(behind)));
    assert!(paper.text().contains("ABCDEFGHIJKLMNOPQ"));
    assert!(paper.text().contains("QPONMLKJIHGFEDCBA") || paper.says("A B C"));
}

#[test]
fn every_language_has_the_whole_sheet() {
    for lead in LANGUAGES {
        for second in [None, Some("de"), Some("fi")] {
            if second == Some(*lead) {
                continue;
            }
            let mut s = studio();
            s.languages = [Some(*lead), second]
                .into_iter()
                .flatten()
                .map(|l| at(l.to_string()))
                .collect();
            let photos = vec![photo("front.jpg", View::Front, "deadbeef")];
            let made = sheet(&s, &known(), photos, &Pictures::of((2400, 1750), None));
            let paper = Read::of(&made.pdf);
            assert!(made.missing_glyphs.is_empty(), "{lead}");
            assert!(
                (4..=6).contains(&made.pages),
                "{lead} {second:?}: {} sides",
                made.pages
            );
            assert!(
                paper.says("deadbeef") && paper.says("Tide Tables"),
                "{lead}"
            );
            assert!(!paper.text().contains('{'), "{lead}: a brace is left");
        }
    }
}

#[test]
fn the_least_record_has_a_sheet_and_says_what_is_not_known() {
    let made = sheet(&studio(), &minimal(), vec![], &Pictures::none());
    let paper = Read::of(&made.pdf);
    assert_eq!(made.pages, 4);
    assert!(paper.says("Drawn as a rectangle from height and width alone"));
    assert!(paper.says("not known, since the diagonals were not measured"));
    assert!(paper.says("no fastness is recorded"));
    let wanting: Vec<&str> = made.wanting.iter().map(|w| w.field).collect();
    assert!(wanting.contains(&"measured.diagonals") && wanting.contains(&"photos"));
    // Nothing is drawn as measured that was not.
    assert!(!paper.says("fits all readings best"));
}

#[test]
fn sixty_photographs_go_on_below_a_head_of_their_own() {
    let photos = (0..60)
        .map(|i| {
            photo(
                &format!("view-{i:02}.jpg"),
                View::Detail,
                &format!("{i:08x}"),
            )
        })
        .collect();
    let made = sheet(&studio(), &known(), photos, &Pictures::none());
    let paper = Read::of(&made.pdf);
    for i in 0..60 {
        assert!(paper.says(&format!("{i:08x}")), "{i}");
    }
    assert_eq!(
        paper
            .text()
            .matches("Tide Tables".replace(' ', "").as_str())
            .count(),
        made.pages
    );
}
