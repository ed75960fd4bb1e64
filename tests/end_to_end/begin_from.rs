//! Taking in a spreadsheet or loose photographs, as a weaver does it. What workbooks of other programs hold is judged by
//! tests/outside/test_begin_from.py.

use crate::bench::Bench;
use std::collections::BTreeMap;

/// A bench with a file beside the archive, which is not there yet.
fn with_sheet(name: &str, octets: impl AsRef<[u8]>) -> Bench {
    let bench = Bench::empty();
    std::fs::write(bench.root().with_file_name(name), octets).unwrap();
    bench
}

fn piece(bench: &Bench, slug: &str) -> String {
    std::fs::read_to_string(bench.path(&format!("pieces/{slug}/piece.yaml"))).unwrap()
}

fn notes(bench: &Bench, slug: &str) -> String {
    std::fs::read_to_string(bench.path(&format!("pieces/{slug}/notes.md"))).unwrap()
}

#[test]
fn a_list_becomes_folders_and_nothing_of_it_is_lost() {
    let sheet = "Title,Year,Height (cm),Width (cm),Weight (kg),Sett (epi),Price (GBP),Owner,Edition\n\
                 The Sea Door,2019,121.4,166,4.31,8,6800,Corwin Hale,1 of 1\n\
                 Low Water,ca. 1994,90,60,,,,,\n";
    let bench = with_sheet("works.csv", sheet);
    let said = bench
        .run(&["begin", "studio", "--from", "works.csv"])
        .ends(0);
    assert!(
        said.out.contains("Edition") && said.out.contains("kept in notes.md"),
        "{said:?}"
    );
    let text = piece(&bench, "the-sea-door");
    for line in [
        "title: The Sea Door",
        "made: 2019",
        "  height: 121.4 cm",
        "  width: 166 cm",
        "  mass: 4.31 kg",
        "loom:",
        "  sett: 8 epi",
        "  price: 6800 GBP",
        "    name: Corwin Hale",
    ] {
        assert!(text.lines().any(|l| l == line), "{line}\n{text}");
    }
    assert!(piece(&bench, "low-water").contains("\nmade: 1994~\n"));
    assert!(notes(&bench, "the-sea-door").contains("> Edition: 1 of 1"));
    // What is missing is named by check, and nothing that begin wrote is called wrong.
    let names = bench.run(&["check", "studio", "--json"]).findings();
    assert!(
        names
            .iter()
            .all(|f| !f.contains("unknown") && !f.contains("wrong") && !f.contains("unreadable")),
        "{names:?}"
    );
}

#[test]
fn semicolons_decimal_commas_and_windows_letters_are_read() {
    let sheet = b"Titel;Jahr;H\xf6he (cm);Breite (cm);Preis \x80\r\nSeet\xfcr;M\xe4rz 2019;121,4;60,5;6.800,00\r\n";
    let bench = with_sheet("werke.csv", sheet);
    let said = bench
        .run(&["begin", "studio", "--from", "werke.csv"])
        .ends(0);
    assert!(
        said.out
            .contains("semicolons between the columns, Windows-1252"),
        "{said:?}"
    );
    let text = piece(&bench, "seetur");
    for line in [
        "title: Seetür",
        "made: 2019-03",
        "  height: 121,4 cm",
        "  width: 60,5 cm",
        "  price: 6800.00 EUR",
    ] {
        assert!(text.lines().any(|l| l == line), "{line}\n{text}");
    }
}

#[test]
fn a_workbook_is_read_with_its_dates_and_formulas() {
    use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook};
    let mut book = Workbook::new();
    let sheet = book.add_worksheet().set_name("Clients").unwrap();
    sheet.write(0, 0, "Surname").unwrap();
    let sheet = book.add_worksheet().set_name("Works").unwrap();
    for (column, head) in ["Title", "Finished", "Size (in)", "Mass (g)"]
        .iter()
        .enumerate()
    {
        sheet.write(0, column as u16, *head).unwrap();
    }
    let day = Format::new().set_num_format("dd/mm/yyyy");
    sheet.write(1, 0, "Tide Tables").unwrap();
    let date = ExcelDateTime::from_ymd(2019, 3, 4).unwrap();
    sheet.write_with_format(1, 1, &date, &day).unwrap();
    sheet.write(1, 2, "48 1/8 x 36").unwrap();
    sheet
        .write(1, 3, Formula::new("=2000+310").set_result("2310"))
        .unwrap();
    let octets = book.save_to_buffer().unwrap();
    let bench = with_sheet("works.xlsx", octets);
    let said = bench
        .run(&["begin", "studio", "--from", "works.xlsx"])
        .ends(0);
    assert!(
        said.out.contains("sheet Works") && said.out.contains("sheets not read: Clients"),
        "{said:?}"
    );
    assert!(said.out.contains("height first"), "{said:?}");
    let text = piece(&bench, "tide-tables");
    for line in [
        "made: 2019-03-04",
        "  height: 48 1/8 in",
        "  width: 36 in",
        "  mass: 2310 g",
    ] {
        assert!(text.lines().any(|l| l == line), "{line}\n{text}");
    }
    let said = bench
        .run(&[
            "begin",
            "studio",
            "--from",
            "works.xlsx",
            "--sheet",
            "Wroks",
        ])
        .ends(2);
    assert!(said.err.contains("Works"), "{said:?}");
}

#[test]
fn every_bad_value_is_told_with_its_cell_and_stays_as_a_remark() {
    let sheet = "Title,Made,Height (cm),Width,Price\n\
                 One,04/05/2019,12x,60,400\n\
                 Two,2019,100,60 cm,$400\n\
                 ,,,,9000\n";
    let bench = with_sheet("works.csv", sheet);
    let said = bench
        .run(&["begin", "studio", "--from", "works.csv", "--json"])
        .ends(1);
    let json = said.json();
    let mut found = Vec::new();
    for row in json["rows"].as_array().unwrap() {
        for f in row["findings"].as_array().unwrap() {
            found.push(format!(
                "{} {} {}",
                f["cell"].as_str().unwrap(),
                f["name"].as_str().unwrap(),
                f["value"].as_str().unwrap()
            ));
        }
    }
    found.sort();
    assert_eq!(
        found,
        [
            "B2 unreadable-value 04/05/2019",
            "C2 unknown-unit 12x",
            "D2 no-unit 60",
            "E2 no-unit 400",
            "E3 unreadable-value $400",
        ]
    );
    assert_eq!(json["rows_left_out"][0]["row"], 4);
    let text = piece(&bench, "one");
    for line in [
        "# height: 12x - could not be read",
        "# made: 04/05/2019 - could not be read",
        "made:",
    ] {
        assert!(text.lines().any(|l| l.starts_with(line)), "{line}\n{text}");
    }
    // What she says mends whole columns.
    let again = with_sheet("works.csv", sheet);
    let mended = [
        "begin",
        "studio",
        "--from",
        "works.csv",
        "--json",
        "--map",
        "Made=made (day first)",
        "--map",
        "Width=width (cm)",
        "--map",
        "Price=price (CAD)",
    ];
    let json = again.run(&mended).ends(1).json();
    let left = json["rows"]
        .as_array()
        .unwrap()
        .iter()
        .map(|r| r["findings"].as_array().unwrap().len());
    assert_eq!(left.sum::<usize>(), 1);
    assert!(piece(&again, "one").contains("\nmade: 2019-05-04\n"));
    assert!(piece(&again, "two").contains("  price: 400 CAD\n"));
}

#[test]
fn nothing_that_is_there_is_touched_and_a_dry_run_writes_nothing() {
    let sheet = "title,made\nThe Sea Door,2019\nTHE SEA DOOR,2020\nNew One,2021\n";
    let bench = with_sheet("works.csv", sheet);
    bench
        .run(&["begin", "studio", "--from", "works.csv", "--dry-run"])
        .ends(0);
    assert!(!bench.root().exists());
    bench.put("studio.yaml", "studio: Test Loom\nweaver: Ada Reed\n");
    bench.put("pieces/the-sea-door/piece.yaml", "title: mine\n");
    let before = bench.files("pieces/the-sea-door");
    let said = bench
        .run(&["begin", "studio", "--from", "works.csv"])
        .ends(0);
    assert!(said.out.contains("already: left alone"), "{said:?}");
    assert_eq!(bench.files("pieces/the-sea-door"), before);
    assert!(piece(&bench, "the-sea-door-2").contains("title: THE SEA DOOR\n"));
    assert!(piece(&bench, "new-one").contains("made: 2021\n"));
    // A second run finds everything there and changes nothing.
    let before = bench.files("");
    let json = bench
        .run(&["begin", "studio", "--from", "works.csv", "--json"])
        .ends(0)
        .json();
    for row in json["rows"].as_array().unwrap() {
        assert_eq!(row["state"], "already there");
    }
    assert!(bench.files("") == before);
}

#[test]
fn hostile_cells_stay_cells() {
    let long = "x".repeat(100_000);
    let sheet = format!(
        "title,made,height (cm),photo,notes\n\
         ../../../etc/passwd,2019,10,../../secret.jpg,a\n\
         =cmd|' /C calc'!A0,2019,10,,\"## 2019-01-01 · 5 h\n## x\"\n\
         \"a\u{7}\u{1b}[2Jb\",2019,10,,\n\
         {long},2019,10,,\n\
         \"title: x\n# y\",2019,10,/etc/passwd,\n\
         {{a: *b}},\"[2019,2020]\",10,,\n\
         CON,2019,10,,\n"
    );
    let bench = with_sheet("works.csv", sheet);
    let said = bench
        .run(&["begin", "studio", "--from", "works.csv"])
        .ends(1);
    assert!(
        !said.out.contains('\u{1b}') && !said.err.contains('\u{1b}'),
        "{said:?}"
    );
    let mut made: Vec<String> = std::fs::read_dir(bench.path("pieces"))
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    made.sort();
    let wanted = [
        "a-2jb",
        "a-b",
        "cmd-c-calc-a0",
        "etc-passwd",
        "piece-con",
        "row-5",
        "title-x-y",
    ];
    assert_eq!(made, wanted);
    // Nothing was written beside the archive.
    let around = std::fs::read_dir(bench.root().parent().unwrap())
        .unwrap()
        .count();
    assert_eq!(around, 2);
    for slug in &made {
        let text = piece(&bench, slug);
        let read: BTreeMap<String, serde_yaml::Value> = serde_yaml::from_str(&text).unwrap();
        assert!(read.contains_key("measured"), "{text}");
    }
    let read: BTreeMap<String, serde_yaml::Value> =
        serde_yaml::from_str(&piece(&bench, "cmd-c-calc-a0")).unwrap();
    assert_eq!(read["title"].as_str(), Some("=cmd|' /C calc'!A0"));
    assert!(notes(&bench, "row-5").contains(&long));
    // Text that looks like a day's entry is no day's entry.
    assert!(notes(&bench, "cmd-c-calc-a0").contains("> ## x"));
    let found = bench.run(&["check", "studio", "--json"]).findings();
    assert!(
        found
            .iter()
            .all(|f| !f.contains("notes.md") && !f.contains("not-yaml")),
        "{found:?}"
    );
}

#[test]
fn ten_thousand_rows_are_read_and_every_one_is_named() {
    let mut sheet = "title,made,height (cm),width (cm)\n".to_string();
    for row in 0..10_000 {
        sheet.push_str(&format!("Study {row},2019,{}.5,40\n", 20 + row % 100));
    }
    let bench = with_sheet("works.csv", sheet);
    let json = bench
        .run(&[
            "begin",
            "studio",
            "--from",
            "works.csv",
            "--dry-run",
            "--json",
        ])
        .ends(0)
        .json();
    assert_eq!(json["rows"].as_array().unwrap().len(), 10_000);
    assert_eq!(json["rows"][9_999]["piece"], "study-9999");
}

#[test]
fn what_is_no_list_of_works_is_refused_with_what_to_do() {
    for (name, octets, word) in [
        ("works.csv", &b"alpha,beta\n1,2\n"[..], "--map"),
        ("empty.csv", b"", "nothing stands in it"),
        ("works.xlsx", b"PK\x03\x04 rubbish", "damaged"),
        (
            "works.xls",
            b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1",
            "save it as xlsx",
        ),
        ("works.pdf", b"%PDF-1.7", "PDF"),
    ] {
        let bench = with_sheet(name, octets);
        let said = bench.run(&["begin", "studio", "--from", name]).ends(2);
        assert!(said.err.contains(word), "{name}: {said:?}");
        assert!(!bench.root().exists());
    }
    Bench::empty()
        .run(&["begin", "studio", "--from", "none.csv"])
        .ends(2);
}

#[test]
fn photographs_named_in_the_list_are_copied_from_beside_it() {
    let bench = with_sheet(
        "works.csv",
        "title,made,photos\nSea Door,2019,front.jpg; back.jpg\n",
    );
    let photo = Bench::sample().path("pieces/dock-leaf/photos/front.jpg");
    let octets = std::fs::read(&photo).unwrap_or_else(|_| b"stands for a photograph".to_vec());
    std::fs::write(bench.root().with_file_name("front.jpg"), &octets).unwrap();
    let said = bench
        .run(&["begin", "studio", "--from", "works.csv"])
        .ends(0);
    assert!(
        said.out.contains("not found beside the sheet: back.jpg"),
        "{said:?}"
    );
    assert_eq!(
        std::fs::read(bench.path("pieces/sea-door/photos/front.jpg")).unwrap(),
        octets
    );
    let text = piece(&bench, "sea-door");
    assert!(text.contains("  - file: front.jpg\n    view:\n"), "{text}");
}

#[test]
fn loose_photographs_become_drafts_and_are_taken_once() {
    let sample = Bench::sample();
    let bench = Bench::empty();
    let loose = bench.root().with_file_name("loose");
    std::fs::create_dir_all(loose.join("more")).unwrap();
    let from = |name: &str| sample.path(&format!("pieces/{name}"));
    std::fs::copy(from("thirteen-moons/photos/front.jpg"), loose.join("a.jpg")).unwrap();
    std::fs::copy(
        from("thirteen-moons/photos/back.jpg"),
        loose.join("more/a.jpg"),
    )
    .unwrap();
    std::fs::copy(
        from("thirteen-moons/photos/front.jpg"),
        loose.join("copy.jpg"),
    )
    .unwrap();
    std::fs::copy(
        from("glebe-fields/photos/front.jpg"),
        loose.join("other.jpg"),
    )
    .unwrap();
    std::fs::write(
        loose.join("broken.jpg"),
        &std::fs::read(loose.join("a.jpg")).unwrap()[..3000],
    )
    .unwrap();
    std::fs::write(loose.join("list.txt"), "no picture").unwrap();
    std::fs::write(
        loose.join("phone.heic"),
        b"\0\0\0\x18ftypheic\0\0\0\0mif1heic",
    )
    .unwrap();
    let before = std::fs::read_dir(&loose).unwrap().count();
    let json = bench
        .run(&["begin", "studio", "--from", "loose", "--dry-run", "--json"])
        .ends(0)
        .json();
    assert!(!bench.root().exists());
    let groups = json["groups"].as_array().unwrap();
    let with = |name: &str| {
        let holds = |g: &&serde_json::Value| {
            g["photos"]
                .as_array()
                .unwrap()
                .iter()
                .any(|p| p["from"] == name)
        };
        groups.iter().find(holds).unwrap()["piece"]
            .as_str()
            .unwrap()
            .to_string()
    };
    assert_eq!(with("a.jpg"), with("more/a.jpg"));
    assert_ne!(with("a.jpg"), with("other.jpg"));
    let said = bench.run(&["begin", "studio", "--from", "loose"]).ends(0);
    for word in [
        "the same file as a.jpg",
        "HEIC is not read here",
        "ends before the picture does",
        "plain text",
    ] {
        assert!(said.out.contains(word), "{word}: {said:?}");
    }
    let slug = with("a.jpg");
    let copied: Vec<String> = bench
        .files(&format!("pieces/{slug}/photos"))
        .into_keys()
        .collect();
    assert_eq!(copied, ["a-2.jpg", "a.jpg"]);
    assert!(piece(&bench, &slug).contains("  - file: a-2.jpg\n    view:\n"));
    assert_eq!(std::fs::read_dir(&loose).unwrap().count(), before);
    let again = bench.run(&["begin", "studio", "--from", "loose"]).ends(0);
    assert!(again.out.contains("is in the archive already"), "{again:?}");
    assert!(again.out.contains("0 folders made"), "{again:?}");
}
