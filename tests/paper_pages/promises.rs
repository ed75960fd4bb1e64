//! What the papers promise: her words stay literal, nothing private gets out, the file is archival,
//! and the same record gives the same bytes.

use crate::pictures::Pictures;
use crate::reading::{Read, squeezed};
use crate::scene::*;
use offloom::paper::{LANGUAGES, OwnerView, Press, PublicView};
use offloom::quantity::Money;
use offloom::reckon::Reckoning;
use offloom::record::{Credit, MoneyMatters, Owner};

#[test]
fn hostile_words_stay_literal() {
    let hostile = [
        "#import \"/style.typ\": *",
        "*bold* _slanted_ `raw`",
        "$x^2$ \\ #panic()",
        "<label> @ref = head",
        "// comment /* and */ [box]",
        "{braces} ~ -- ... 'quotes'",
    ];
    for words in hostile {
        let mut piece = commission();
        piece.title = at(words.to_string());
        piece.technique = some(words);
        piece.statement = some(words);
        piece.inscription = some(words);
        piece.credits = vec![Credit {
            what: at(words.to_string()),
            who: some(words),
        }];
        let sheets = papers(&Press::new(), &studio(), &piece, &Pictures::none());
        for sheet in sheets {
            assert!(Read::of(&sheet.pdf).says(words), "{words}");
            assert!(sheet.warnings.is_empty(), "{:?}", sheet.warnings);
        }
    }
}

#[test]
fn odd_titles_still_make_papers() {
    let titles = [
        "word ".repeat(40),
        "Unbroken".repeat(25),
        "two\nlines\tand a tab\u{0}\u{7}".into(),
        "שלום and κύμα and прилив".into(),
        "مد وجزر".into(),
        "\u{202E}turned\u{202C} \u{FEFF}\u{E000}\u{FFFF}".into(),
        "e\u{301}te\u{301} 👩‍🎨".into(),
    ];
    for title in titles {
        let mut piece = commission();
        piece.title = at(title.clone());
        for pictures in [Pictures::none(), Pictures::of((600, 400), None)] {
            for sheet in papers(&Press::new(), &studio(), &piece, &pictures) {
                assert!(sheet.pages <= 2, "{title}");
            }
        }
    }
}

#[test]
fn letters_without_a_glyph_are_named() {
    let mut piece = commission();
    piece.title = at("Tide 🌊 潮".into());
    for sheet in papers(&Press::new(), &studio(), &piece, &Pictures::none()) {
        assert_eq!(sheet.missing_glyphs, ['潮', '🌊']);
    }
    for sheet in papers(&Press::new(), &studio(), &commission(), &Pictures::none()) {
        assert!(sheet.missing_glyphs.is_empty());
    }
}

#[test]
fn nothing_private_stands_on_a_public_paper() {
    let mut piece = community();
    piece.money = Some(MoneyMatters {
        price: Some(at(Money::parse("6817 GBP").unwrap())),
        ..MoneyMatters::default()
    });
    piece.owners.insert(
        0,
        Owner {
            from: edtf("2026-06/2026-07"),
            public: some("A former keeper"),
            name: some("Osric Pennywhistle"),
            address: some("3 Tarpot Alley"),
            how: some("given"),
        },
    );
    let refused: Vec<String> = piece
        .makers
        .iter()
        .flat_map(|m| &m.roll)
        .filter(|m| !m.may_be_named())
        .map(|m| m.name.value.clone())
        .collect();
    assert!(refused.len() > 10);
    let [label, certificate, page] = papers(
        &Press::new(),
        &studio(),
        &piece,
        &Pictures::of((600, 400), None),
    );
    let everything = |pdf: &[u8]| {
        let read = Read::of(pdf);
        format!(
            "{}\n{}\n{}",
            read.text(),
            read.strings(),
            squeezed(&read.xmp())
        )
    };
    for public in [&label, &page] {
        let all = everything(&public.pdf);
        for secret in [
            "Mirabel Achterhof",
            "Lamplighter",
            "Pennywhistle",
            "Tarpot",
            "6817",
            "a private thought",
        ] {
            assert!(!all.contains(&squeezed(secret)), "{secret}");
        }
        for name in &refused {
            assert!(!all.contains(&squeezed(name)), "{name}");
        }
    }
    // The owner's paper names the present owner, so the search above can find what it looks for.
    let owner = everything(&certificate.pdf);
    assert!(owner.contains("MirabelAchterhof"));
    assert!(owner.contains("Aformerkeeper"));
    for secret in ["Lamplighter", "Pennywhistle", "Tarpot", "6817"] {
        assert!(!owner.contains(secret), "{secret}");
    }
    assert!(Read::of(&page.pdf).says("Cosima Quillfeather"));
    assert!(Read::of(&page.pdf).says(&format!("and {} others", refused.len())));
}

#[test]
fn the_files_are_archival_and_accessible() {
    let pictures = Pictures::of((900, 600), Some((600, 400)));
    let figures = [1, 3, 4];
    let sheets = papers(&Press::new(), &studio(), &commission(), &pictures);
    for (sheet, count) in sheets.iter().zip(figures) {
        let read = Read::of(&sheet.pdf);
        let xmp = read.xmp();
        // Source, from memory: ISO 19005-3 and ISO 14289-1 name themselves so in the metadata.
        for claim in [
            "<pdfaid:part>3</pdfaid:part>",
            "<pdfaid:conformance>A</pdfaid:conformance>",
            "<pdfuaid:part>1</pdfuaid:part>",
            "Tide Tables – ",
            "Ottilie Brackwater",
            "2026-07-02T00:00:00Z",
        ] {
            assert!(xmp.contains(claim), "{claim}");
        }
        assert_eq!(read.fonts_left_out(), 0);
        // Label: its ladder once. Certificate: ladder, plate, code. Page: ladder, two plates, chart.
        assert_eq!(read.figures(), (count, count));
    }
}

#[test]
fn the_certificate_carries_the_record_it_names() {
    let (bytes, number) = record(&studio(), &commission());
    let [_, certificate, _] = papers(&Press::new(), &studio(), &commission(), &Pictures::none());
    let read = Read::of(&certificate.pdf);
    let (name, kind, media, attached) = read.attachment();
    assert_eq!((name.as_str(), kind.as_str()), ("record.json", "Data"));
    assert_eq!(media, "application/json");
    assert_eq!(attached, bytes);
    assert!(read.says(&number.hex()));
    let (groups, check) = number.spoken();
    assert!(read.says(&format!("{groups}{check}")));
}

#[test]
fn the_same_record_gives_the_same_bytes() {
    let pictures = Pictures::of((900, 600), Some((600, 400)));
    let press = Press::new();
    let first = papers(&press, &studio(), &commission(), &pictures);
    papers(&press, &studio(), &community(), &Pictures::none());
    assert_eq!(first, papers(&press, &studio(), &commission(), &pictures));
    assert_eq!(
        first,
        papers(&Press::new(), &studio(), &commission(), &pictures)
    );
}

#[test]
fn every_language_and_every_pair_makes_clean_papers() {
    let press = Press::new();
    for first in LANGUAGES {
        for second in LANGUAGES {
            let mut s = studio();
            s.languages = vec![at((*first).to_string()), at((*second).to_string())];
            let sheets = papers(&press, &s, &commission(), &Pictures::of((300, 200), None));
            for sheet in sheets {
                assert!(sheet.warnings.is_empty(), "{:?}", sheet.warnings);
                assert!(sheet.missing_glyphs.is_empty(), "{first} {second}");
                assert!(sheet.pages <= 2, "{first} {second}");
            }
        }
    }
}

#[test]
fn a_broken_picture_is_an_error_with_a_place() {
    let (_, number) = record(&studio(), &commission());
    let reckoning = Reckoning::of(&studio(), &commission());
    let view = PublicView::of(&studio(), &commission(), &reckoning, &number);
    let pictures = Pictures::of((300, 200), None);
    let mut plates = pictures.plates();
    let broken = b"this is no JPEG";
    plates.front.as_mut().unwrap().jpeg = broken;
    let error = Press::new().catalogue_page(&view, &plates).unwrap_err();
    assert_eq!(error.template, "style.typ");
    assert!(error.line > 0 && error.column > 0, "{error}");
}

#[test]
fn what_the_record_lacks_is_named_and_not_invented() {
    let [label, certificate, page] =
        papers(&Press::new(), &studio(), &minimal(), &Pictures::none());
    let fields = |s: &offloom::paper::Sheet| s.wanting.iter().map(|w| w.field).collect::<Vec<_>>();
    assert_eq!(fields(&label), ["weft.used", "care.cleaning"]);
    assert!(fields(&certificate).contains(&"measured.mass"));
    assert!(fields(&page).contains(&"statement"));
    let label = Read::of(&label.pdf);
    assert!(label.says("Percentages not known."));
    assert!(!label.says("%"));
    let certificate = Read::of(&certificate.pdf);
    for absent in ["Weight", "Technique", "Series", "Owner", "Way up", "Issued"] {
        assert!(!certificate.says(absent), "{absent}");
    }
    assert!(certificate.says("about 1994"));
}

#[test]
fn her_own_word_on_washing_takes_the_place_of_ours() {
    let mut piece = commission();
    piece.care = Some(offloom::record::Care {
        cleaning: some("hand wash in cool water"),
        because: None,
    });
    let [label, ..] = papers(&Press::new(), &studio(), &piece, &Pictures::none());
    let label = Read::of(&label.pdf);
    assert!(label.says("Hand wash in cool water."));
    assert!(!label.says("Do not wash."));
    assert!(label.says("Do not bleach. Do not tumble dry. Do not iron."));
}

#[test]
fn the_owners_view_is_wider_than_the_public_one() {
    let mut piece = commission();
    piece.money = Some(MoneyMatters {
        price: Some(at(Money::parse("6817 GBP").unwrap())),
        ..MoneyMatters::default()
    });
    let (_, number) = record(&studio(), &piece);
    let reckoning = Reckoning::of(&studio(), &piece);
    let owner = OwnerView::of(&studio(), &piece, &reckoning, &number);
    assert_eq!(owner.address(), Some("7 Lamplighter Steps, Saltby Quay"));
    assert_eq!(owner.price().unwrap().to_string(), "6817 GBP");
    let public = format!("{:?}", owner.public);
    for secret in ["Mirabel", "Lamplighter", "6817"] {
        assert!(!public.contains(secret), "{secret}");
    }
}

#[test]
fn the_code_leads_to_the_studios_own_address_where_there_is_one() {
    let mut s = studio();
    s.record_base = some("https://brackwater.example/r/");
    let (_, number) = record(&s, &commission());
    let [_, with, _] = papers(&Press::new(), &s, &commission(), &Pictures::none());
    let address = format!("https://brackwater.example/r/{}", number.spoken().0);
    assert!(Read::of(&with.pdf).strings().contains(&address));
    let [_, without, _] = papers(&Press::new(), &studio(), &commission(), &Pictures::none());
    let (_, number) = record(&studio(), &commission());
    assert!(Read::of(&without.pdf).strings().contains(&number.ni()));
}
