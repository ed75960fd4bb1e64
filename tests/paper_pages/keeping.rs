//! The owner's sheet and the studio sheet: what each tells its reader, and what only the studio is told.

use crate::pictures::Pictures;
use crate::reading::{Read, squeezed};
use crate::scene::*;
use offloom::paper::{KeeperView, LANGUAGES, Press, Sheet, StudioView, lacks};
use offloom::quantity::{Cost, Money};
use offloom::reckon::Reckoning;
use offloom::record::{Display, MoneyMatters, Owner, Paper, Piece, Stage, Studio};

fn owner_sheet(studio: &Studio, piece: &Piece, pictures: &Pictures) -> Sheet {
    let (_, number) = record(studio, piece);
    let reckoning = Reckoning::of(studio, piece);
    let view = KeeperView::of(studio, piece, &reckoning, &number);
    Press::new().owner_sheet(&view, &pictures.plates()).unwrap()
}

fn studio_sheet(studio: &Studio, piece: &Piece, pictures: &Pictures) -> Sheet {
    let (_, number) = record(studio, piece);
    let reckoning = Reckoning::of(studio, piece);
    let plates = pictures.plates();
    let wanting = lacks(Paper::ALL, studio, piece, &reckoning, &number, &plates);
    let view = StudioView::of(studio, piece, &reckoning, &number, wanting);
    Press::new().studio_sheet(&view, &plates).unwrap()
}

/// A commission lived with: dyes of known fastness, a bright wall, and money.
fn lived_with() -> Piece {
    let mut p = commission();
    p.weft[1].light = Some(at((4, 5)));
    p.weft[0].light = Some(at((6, 6)));
    p.weft[2].light = Some(at((6, 6)));
    p.weft[3].light = Some(at((7, 7)));
    p.weft[0].cost = Some(at(Cost::parse("54 GBP/kg").unwrap()));
    p.display = Some(Display {
        place: None,
        light: Some(read("120 lx")),
        hours_a_day: Some(at(9.0)),
        days: None,
        filtered: Some(at(false)),
        show: None,
    });
    p.money = Some(MoneyMatters {
        price: Some(at(Money::parse("16817 GBP").unwrap())),
        insured: Some(at(Money::parse("17923 GBP").unwrap())),
        stages: vec![Stage {
            what: at("deposit".into()),
            amount: at(Money::parse("5129 GBP").unwrap()),
            on: Some(edtf("2026-01-11")),
        }],
    });
    p.owners.insert(
        0,
        Owner {
            from: edtf("2026-06/2026-07"),
            public: some("A former keeper"),
            name: some("Osric Pennywhistle"),
            address: some("3 Tarpot Alley"),
            how: some("given"),
        },
    );
    p
}

#[test]
fn an_owner_is_told_what_light_does_to_this_piece() {
    let read = Read::of(&owner_sheet(&studio(), &lived_with(), &Pictures::none()).pdf);
    assert!(read.says("The first colour to fade is buoy red (blue wool 4–5)"));
    // Source, from memory: CIE 157:2004: blue wool 4 to 6 may get 150 000 lx·h a year, at 50 lx at most.
    assert!(read.says("museums allow 150 000 lx·h a year, and nothing brighter than 50 lx"));
    // Source, exact case: 120 lx × 9 h × 365 = 394 200 lx·h, 2.628 times 150 000; 150 000 / 1080 = 138.9.
    assert!(read.says("about 390 000 lx·h a year, 2.6 times as much"));
    assert!(read.says("for the rest of the year after 138 days in this light"));
    assert!(read.says("Not known for lamp white"));
}

#[test]
fn an_owner_whose_colours_nobody_tested_is_told_to_take_care() {
    let read = Read::of(&owner_sheet(&studio(), &minimal(), &Pictures::none()).pdf);
    // Source, from memory: CIE 157:2004: blue wool 1 to 3 may get 15 000 lx·h a year, at 50 lx at most.
    assert!(read.says("museums allow 15 000 lx·h a year, and nothing brighter than 50 lx"));
    assert!(read.says("Its weight is not recorded"));
    assert!(read.says("No support is recorded"));
}

#[test]
fn the_cautions_stand_where_the_act_happens_and_defer() {
    let alone = LANGUAGES.iter().map(|code| vec![*code]);
    let pairs = [vec!["en", "fr"], vec!["fi", "de"], vec!["es", "en"]];
    for code in alone.chain(pairs) {
        let code = code.join("+");
        let mut s = studio();
        s.languages = code.split('+').map(|c| at(c.to_string())).collect();
        let sheet = owner_sheet(&s, &lived_with(), &Pictures::none());
        assert!(sheet.warnings.is_empty(), "{code}: {:?}", sheet.warnings);
        assert!(sheet.missing_glyphs.is_empty(), "{code}");
    }
    let read = Read::of(&owner_sheet(&studio(), &lived_with(), &Pictures::none()).pdf);
    for caution in [
        "judged by a competent person; local codes and licensed practice rule",
        "Which fire rules hold in a room that is open to the public, the venue and local codes say",
        "See that no child can pull at it or climb on it",
        "freezing is a conservator’s work",
        "ask a licensed pest controller",
        "ask a textile conservator at once",
    ] {
        assert!(read.says(caution), "{caution}");
    }
}

#[test]
fn every_paper_tells_only_what_its_reader_may_know() {
    let piece = lived_with();
    let mut s = studio();
    s.hourly_rate = Some(at(Money::parse("28.35 GBP").unwrap()));
    let everything = |pdf: &[u8]| {
        let read = Read::of(pdf);
        let rest = format!("{}{}", read.strings(), squeezed(&read.xmp()));
        format!("{}{rest}", read.text())
    };
    let pictures = Pictures::of((600, 400), None);
    let owner = everything(&owner_sheet(&s, &piece, &pictures).pdf);
    let own = everything(&studio_sheet(&s, &piece, &pictures).pdf);
    // The studio's own sheet has all of it, so that the search can find what it looks for.
    for secret in [
        "Mirabel Achterhof",
        "7 Lamplighter Steps",
        "Osric Pennywhistle",
        "3 Tarpot Alley",
        "16 817 GBP",
        "17 923 GBP",
        "5129 GBP",
        "22.14 GBP",
        "28.35 GBP",
        "66 h",
    ] {
        assert!(own.contains(&squeezed(secret)), "{secret}");
        // The owner may know what was paid.
        let may = secret == "16 817 GBP";
        assert_eq!(owner.contains(&squeezed(secret)), may, "{secret}");
    }
    assert!(!own.contains("aprivatethought"));
}

#[test]
fn the_studio_is_told_what_the_record_lacks_in_every_language() {
    let words = |code: &str| {
        let mut s = studio();
        s.languages = vec![at(code.to_string())];
        let sheet = studio_sheet(&s, &minimal(), &Pictures::none());
        assert!(sheet.warnings.is_empty(), "{code}: {:?}", sheet.warnings);
        Read::of(&sheet.pdf).text()
    };
    let (_, number) = record(&studio(), &minimal());
    let reckoning = Reckoning::of(&studio(), &minimal());
    let plates = Pictures::none();
    let all = lacks(
        Paper::ALL,
        &studio(),
        &minimal(),
        &reckoning,
        &number,
        &plates.plates(),
    );
    assert!(all.len() > 15, "{all:?}");
    let english = words("en");
    for what in &all {
        assert!(english.contains(&squeezed(what)), "{what}");
    }
    for code in &LANGUAGES[1..] {
        let text = words(code);
        for what in &all {
            assert!(
                !text.contains(&squeezed(what)),
                "{code}: {what} is not translated"
            );
        }
    }
}

#[test]
fn two_languages_stand_side_by_side_on_both_sheets() {
    for pair in [["en", "fr"], ["fi", "de"], ["es", "en"]] {
        let mut s = studio();
        s.languages = pair.iter().map(|c| at(c.to_string())).collect();
        let pictures = Pictures::of((600, 400), None);
        let owner = owner_sheet(&s, &lived_with(), &pictures);
        assert!((2..=3).contains(&owner.pages), "{pair:?}: {}", owner.pages);
        let own = studio_sheet(&s, &lived_with(), &pictures);
        assert!(own.pages <= 2, "{pair:?}: {}", own.pages);
    }
}
