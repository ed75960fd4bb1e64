//! A studio's own face: what it may take the place of, how its mistakes are told, and that it sees
//! nothing but its own folder.

use crate::pictures::Pictures;
use crate::reading::Read;
use crate::scene::*;
use offloom::paper::{Face, OwnerView, PaperError, Press, Sheet};
use offloom::reckon::Reckoning;
use offloom::record::Piece;

fn certificate(press: &Press, piece: &Piece) -> Result<Sheet, PaperError> {
    let (bytes, number) = record(&studio(), piece);
    let reckoning = Reckoning::of(&studio(), piece);
    let owner = OwnerView::of(&studio(), piece, &reckoning, &number);
    press.certificate(&owner, &bytes, &Pictures::none().plates())
}

fn with(path: &str, text: &str) -> Press {
    let mut face = Face::default();
    face.add_file(path, text.as_bytes().to_vec());
    Press::with(&face).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn fault(path: &str, text: &str) -> PaperError {
    certificate(&with(path, text), &commission()).unwrap_err()
}

/// What a template has to say for a file to be archival.
const HEAD: &str = "#let data = json(\"/data.json\")\n#set document(title: data.title, date: datetime(year: 2026, month: 7, day: 2))\n#set text(font: \"Libertinus Serif\", lang: data.common.lang)\n";

#[test]
fn a_template_of_hers_takes_the_place_of_the_embedded_one() {
    let press = with(
        "certificate.typ",
        &format!("{HEAD}= #data.title\nIn our own manner, shape #data.common.shape."),
    );
    let read = Read::of(&certificate(&press, &commission()).unwrap().pdf);
    assert!(read.says("Tide Tables"));
    assert!(read.says("In our own manner, shape 1."));
    assert!(!read.says("hand-woven tapestry"));
}

#[test]
fn a_template_of_hers_may_use_its_neighbours_and_the_shared_style() {
    let mut face = Face::default();
    face.add_file(
        "certificate.typ",
        b"#import \"style.typ\": *\n#import \"parts/motto.typ\": motto\n#show: paper\n#title-block(data.title)\n#motto".to_vec(),
    );
    face.add_file(
        "parts/motto.typ",
        b"#let motto = [Slow is the word.]".to_vec(),
    );
    let press = Press::with(&face).unwrap_or_else(|faults| panic!("{faults:?}"));
    let read = Read::of(&certificate(&press, &commission()).unwrap().pdf);
    assert!(read.says("Slow is the word."));
}

#[test]
fn a_mistake_in_a_template_is_told_with_its_line_and_column() {
    let wrong = fault(
        "certificate.typ",
        &format!("{HEAD}= #data.title\n#data.titel"),
    );
    assert_eq!(
        (wrong.template.as_str(), wrong.line, wrong.column, wrong.own),
        ("certificate.typ", 5, 7, true),
        "{wrong}"
    );
    assert!(wrong.message.contains("titel"), "{wrong}");
}

#[test]
fn a_template_sees_nothing_outside_its_folder() {
    for reach in [
        "#read(\"../piece.yaml\")",
        "#read(\"../../../../../etc/hostname\")",
        "#read(\"/etc/hostname\")",
        "#include \"/../secret.typ\"",
        "#import \"@preview/anything:1.0.0\": *",
        "#image(\"../photos/front.jpg\")",
    ] {
        let wrong = fault("certificate.typ", &format!("{HEAD}= #data.title\n{reach}"));
        assert!(wrong.own && wrong.line == 5, "{reach}: {wrong}");
    }
}

#[test]
fn words_of_hers_take_the_place_of_the_embedded_ones() {
    let words = include_str!("../../templates/words/en.yaml");
    let own = words.replacen("hand-woven tapestry", "cloth of our loom", 1);
    let read = Read::of(
        &certificate(&with("words/en.yaml", &own), &commission())
            .unwrap()
            .pdf,
    );
    assert!(read.says("cloth of our loom"));
}

#[test]
fn every_mistake_in_words_of_hers_is_told() {
    let words = include_str!("../../templates/words/en.yaml");
    let mut face = Face::default();
    let lacking = words.replacen("  name: Certificate of provenance\n", "", 1);
    face.add_file("words/en.yaml", lacking.into_bytes());
    face.add_file("words/de.yaml", b"language: [\n".to_vec());
    face.add_file("words/nl.yaml", words.as_bytes().to_vec());
    let faults = Press::with(&face).err().unwrap();
    let told: Vec<&str> = faults.iter().map(|f| f.template.as_str()).collect();
    assert_eq!(told, ["words/nl.yaml", "words/en.yaml", "words/de.yaml"]);
    assert!(faults.iter().all(|f| f.own));
    assert!(
        faults[1].message.contains("`name`") && faults[1].line > 1,
        "{}",
        faults[1]
    );
}

/// A face of another family than the papers', from the same crate; and a character that only it has.
fn further() -> (Vec<u8>, char) {
    let all: Vec<typst::text::Font> = typst_assets::fonts()
        .filter_map(|data| typst::text::Font::new(typst::foundations::Bytes::new(data), 0))
        .collect();
    let serif: Vec<_> = all
        .iter()
        .filter(|f| f.info().family == "Libertinus Serif")
        .collect();
    let other = all
        .iter()
        .find(|f| f.info().family == "DejaVu Sans Mono")
        .unwrap();
    let c = ('\u{2190}'..'\u{2C00}')
        .find(|c| {
            other.info().coverage.contains(u32::from(*c))
                && serif
                    .iter()
                    .all(|f| !f.info().coverage.contains(u32::from(*c)))
        })
        .unwrap();
    (other.data().to_vec(), c)
}

#[test]
fn a_character_is_set_in_letters_that_were_given_for_it() {
    let (letters, c) = further();
    let mut piece = commission();
    piece.title = at(format!("Tide {c} Tables"));
    let plain = certificate(&Press::new(), &piece).unwrap();
    assert_eq!(plain.missing_glyphs, [c]);
    let mut face = Face::default();
    face.add_letters(letters);
    let press = Press::with(&face).unwrap_or_else(|faults| panic!("{faults:?}"));
    let sheet = certificate(&press, &piece).unwrap();
    assert!(sheet.missing_glyphs.is_empty());
    assert!(Read::of(&sheet.pdf).says(&format!("Tide {c} Tables")));
    // Where nobody needs them they change nothing.
    let with = certificate(&press, &commission()).unwrap();
    let without = certificate(&Press::new(), &commission()).unwrap();
    assert!(with.pdf == without.pdf);
}
