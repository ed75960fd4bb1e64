//! An invented studio and its pieces, built by hand for the papers to be tried on.

use crate::pictures::Pictures;
use offloom::paper::{OwnerView, Press, PublicView, Sheet};
use offloom::quantity::{Day, Dimension, Edtf, Reading, YarnCount};
use offloom::reckon::Reckoning;
use offloom::record::{
    Age, At, Care, Consent, Credit, Finishing, Kind, Label, Loom, Maker, Makers, Measured,
    Measures, Note, Notes, Owner, PaperSize, Part, Piece, Place, RecordNumber, RuleSet, Series,
    Share, Studio, Tape, Top, Used, Warp, Weft, declared,
};
use std::sync::Arc;

pub fn place() -> Place {
    Place::file(&Arc::from("piece.yaml"))
}

pub fn at<T>(value: T) -> At<T> {
    At {
        value,
        place: place(),
    }
}

pub fn some(text: &str) -> Option<At<String>> {
    Some(at(text.to_string()))
}

pub fn read<D: Dimension>(text: &str) -> At<Reading<D>> {
    at(Reading::parse(text).unwrap())
}

pub fn edtf(text: &str) -> At<Edtf> {
    at(Edtf::parse(text).unwrap())
}

pub fn day(text: &str) -> At<Day> {
    at(Day::parse(text).unwrap())
}

pub fn shares(all: &[(&str, f64)]) -> Vec<Share> {
    all.iter()
        .map(|(fibre, percent)| Share {
            fibre: at((*fibre).to_string()),
            percent: at(*percent),
        })
        .collect()
}

pub fn studio() -> Studio {
    Studio {
        studio: at("Brackwater Tapestry".into()),
        weaver: at("Ottilie Brackwater".into()),
        place: some("Saltby Quay"),
        contact: some("studio@brackwater.example"),
        languages: vec![at("en".into())],
        rules: vec![at(RuleSet::Eu)],
        paper: PaperSize::A4,
        papers: vec![],
        tape: Tape::default(),
        measures: Measures::Cm,
        currency: None,
        hourly_rate: None,
        record_base: None,
        portfolio: None,
        series_order: offloom::record::SeriesOrder::Free,
    }
}

pub fn weft(name: &str, fibre: &[(&str, f64)], used: Option<&str>) -> Weft {
    Weft {
        place: place(),
        name: (!name.is_empty()).then(|| at(name.to_string())),
        count: Some(at(YarnCount::parse("NeW 2/8").unwrap())),
        fibre: shares(fibre),
        used: used.map(|u| Used::Given(read(u))),
        humidity: None,
        decorative: None,
        dye: None,
        colour: None,
        light: None,
        wash: None,
        cost: None,
    }
}

/// The least a record can be.
pub fn minimal() -> Piece {
    Piece {
        slug: "harbour-bar".into(),
        place: place(),
        title: at("Harbour Bar".into()),
        made: edtf("1994~"),
        made_text: "1994~".into(),
        kind: None,
        series: None,
        top: None,
        technique: None,
        inscription: None,
        issued: None,
        statement: None,
        credits: vec![],
        loom: Loom::default(),
        warp: Warp {
            place: place(),
            yarn: None,
            count: None,
            fibre: shares(&[("cotton", 100.0)]),
            cost: None,
        },
        weft: vec![weft("", &[("wool", 100.0)], None)],
        parts: vec![],
        label: Label::default(),
        finishing: Finishing::default(),
        measured: Measured {
            on: None,
            by: None,
            height: vec![read("88 cm")],
            width: vec![read("61 cm")],
            diagonals: None,
            thickness: None,
            mass: None,
            at: None,
        },
        photos: vec![],
        owners: vec![],
        hanging: None,
        packing: None,
        missing_hours: None,
        display: None,
        care: None,
        money: None,
        makers: None,
        notes: Notes::default(),
    }
}

/// A commission with everything told.
pub fn commission() -> Piece {
    let mut p = minimal();
    p.title = at("Tide Tables".into());
    p.made = edtf("2026-03/2026-06");
    p.made_text = "2026-03/2026-06".into();
    p.kind = Some(at(Kind::Commission));
    p.series = Some(Series {
        name: at("Slack Water".into()),
        number: Some(at(vec![4])),
        of: Some(at(9)),
    });
    p.top = Some(at(Top::Left));
    p.technique = some("slit tapestry");
    p.inscription = some("OB 26, lower right");
    p.issued = Some(day("2026-07-02"));
    p.statement = some(
        "The tables for Saltby Quay are printed once a year and pinned inside the door of the net \
         loft. For every day they give four times and four heights, and nothing else. I wove them \
         as they stand, one pass for each quarter of an hour, so that the springs rise and the \
         neaps lie down.\n\nThe red is the buoy at the bar. It swings with the stream and is never \
         where the table says.",
    );
    p.credits = vec![Credit {
        what: at("colour study after a tide-table page".into()),
        who: some("public domain, undated"),
    }];
    p.loom = Loom {
        kind: some("frame loom"),
        sett: Some(read("3 ends/cm")),
        ends: Some(at(366)),
        width: Some(read("122 cm")),
        woven: Some(read("168 cm")),
        warp_length: Some(read("230 cm")),
        hems: None,
        tails: None,
    };
    p.warp.yarn = some("cotton seine twine");
    p.warp.count = Some(at(YarnCount::parse("Ne 12/15").unwrap()));
    p.weft = vec![
        weft("low-water green", &[("wool", 100.0)], Some("0.41 kg")),
        weft("buoy red", &[("wool", 80.0), ("silk", 20.0)], Some("322 g")),
        weft("slack grey", &[("wool", 100.0)], Some("1.12 kg")),
        weft(
            "mudflat",
            &[("wool", 90.0), ("mohair", 10.0)],
            Some("760 g"),
        ),
        weft("lamp white", &[("linen", 100.0)], Some("210 g")),
    ];
    p.parts = vec![Part {
        name: at("lining".into()),
        fibre: shares(&[("cotton", 100.0)]),
        used: Some(read("480 g")),
        method: None,
        depth: None,
        animal_origin: None,
        cost: None,
    }];
    p.measured.on = Some(day("2026-06-21"));
    p.measured.by = some("OB");
    p.measured.height = vec![read("121.4 cm"), read("121.0 cm"), read("120.8 cm")];
    p.measured.width = vec![read("166.0 cm"), read("166.4 cm")];
    p.measured.mass = Some(read("4.31 kg"));
    p.owners = vec![Owner {
        from: edtf("2026-07"),
        public: some("Private collection"),
        name: some("Mirabel Achterhof"),
        address: some("7 Lamplighter Steps, Saltby Quay"),
        how: some("commissioned"),
    }];
    p.care = Some(Care {
        cleaning: some("surface vacuum only"),
        because: some("unfixed madder"),
    });
    p.notes = notes(&[
        ("2026-03-04", 6.0),
        ("2026-03-09", 14.0),
        ("2026-03-17", 31.0),
        ("2026-03-25", 42.0),
        ("2026-04-06", 60.0),
        ("2026-04-15", 66.0),
        ("2026-04-28", 96.0),
        ("2026-05-11", 118.0),
        ("2026-05-20", 131.0),
        ("2026-06-02", 149.0),
        ("2026-06-10", 162.0),
        ("2026-06-15", 168.0),
    ]);
    p
}

pub fn notes(all: &[(&str, f64)]) -> Notes {
    Notes {
        entries: all
            .iter()
            .map(|(on, cm)| Note {
                place: place(),
                day: day(on),
                hours: Some(read("5.5 h")),
                height: Some(read(&format!("{cm} cm"))),
                text: "a private thought".into(),
            })
            .collect(),
    }
}

/// A statement that fills more than a page.
pub fn long_statement(paragraphs: usize) -> String {
    let one = "The bell on the outer mark is heard before the mark is seen. In fog the boats count \
        its strokes and come in by ear, and the old charts give the interval beside the name. I have \
        hung a line of weft for every stroke I counted in the week of the long fog, from the window \
        over the chandler’s, with the kettle on and the light going. Where the count failed because \
        a cart passed, the warp is left bare. Nobody has to see this. The hand knows where the gaps \
        are and goes slower there, as one does on a stair with one tread missing.";
    vec![one; paragraphs].join("\n\n")
}

/// Tall, with a long title and much to say.
pub fn portrait() -> Piece {
    let mut p = commission();
    p.title = at(
        "What the Bell Buoy Said to the Harbour Master’s Daughter on the Longest Night of the Year"
            .into(),
    );
    p.statement = some(&long_statement(5));
    p.measured.height = vec![read("214.0 cm")];
    p.measured.width = vec![read("96.5 cm")];
    p.measured.thickness = Some(read("12 mm"));
    p.series = Some(Series {
        name: at("Night Soundings".into()),
        number: Some(at(vec![2, 3])),
        of: Some(at(9)),
    });
    p
}

/// Long and low.
pub fn panorama() -> Piece {
    let mut p = commission();
    p.title = at("Groyne".into());
    p.series = None;
    p.measured.height = vec![read("62.0 cm")];
    p.measured.width = vec![read("310.0 cm")];
    p
}

/// Made by forty, of whom not all are named.
pub fn community() -> Piece {
    let mut p = commission();
    p.title = at("Forty Squares for the Lifeboat".into());
    p.kind = Some(at(Kind::Community));
    p.series = None;
    let first = [
        "Ada", "Bram", "Cosima", "Dov", "Elspeth", "Fenn", "Greta", "Hal",
    ];
    let last = ["Quillfeather", "Sandlark", "Tarn", "Ropewalk", "Vesper"];
    let roll = (0..40)
        .map(|i| Maker {
            name: at(format!("{} {}", first[i % 8], last[i / 8])),
            age: Some(at(if i % 5 == 0 { Age::Minor } else { Age::Adult })),
            consent: match i % 7 {
                0 => Some(at(Consent::No)),
                1 => Some(at(Consent::Unknown)),
                2 if i > 20 => None,
                _ => Some(at(Consent::Yes)),
            },
            sort: None,
        })
        .collect();
    p.makers = Some(Makers {
        place: place(),
        roll,
        roll_file: None,
        squares: None,
    });
    p
}

/// The record and its number.
pub fn record(studio: &Studio, piece: &Piece) -> (Vec<u8>, RecordNumber) {
    let bytes = declared(studio, piece, None);
    let number = RecordNumber::of(&bytes);
    (bytes, number)
}

/// All three papers of a piece, in the order label, certificate, catalogue page.
pub fn papers(press: &Press, studio: &Studio, piece: &Piece, pictures: &Pictures) -> [Sheet; 3] {
    let (bytes, number) = record(studio, piece);
    let reckoning = Reckoning::of(studio, piece);
    let public = PublicView::of(studio, piece, &reckoning, &number);
    let owner = OwnerView::of(studio, piece, &reckoning, &number);
    let plates = pictures.plates();
    [
        press.care_label(&public, &plates).unwrap(),
        press.certificate(&owner, &bytes, &plates).unwrap(),
        press.catalogue_page(&public, &plates).unwrap(),
    ]
}
