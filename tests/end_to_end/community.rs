//! A piece made by many as the one who answers for it prepares its papers. The papers themselves are looked at by
//! tests/outside/test_community.py.

use crate::bench::{Bench, SMALL_PIECE};

const ROLL: &str =
    "name,age,consent\r\nAda Quill,adult,yes\r\nNell Tarn,minor,no\r\nRufus Tallow,adult,yes\r\n";
const MAP: &str = "row,column,maker,motif\r\n1,1,Ada Quill,gull\r\n1,2,Nell Tarn + Ada Quill,=boat\r\n2,1,Rufus Tallow,\r\n2,2,Ada Quill,sun\r\n";

/// An archive with a small piece that three people made, from a roll and a map.
fn laid_out(roll: &str, map: &str, squares: &str) -> Bench {
    let piece = format!(
        "{SMALL_PIECE}kind: community\nmakers: {{roll_file: roll.csv, squares: {{{squares}, map: squares.csv}}}}\n"
    );
    let bench = Bench::with_pieces(&[("many", &piece)]);
    bench.put("pieces/many/roll.csv", roll);
    bench.put("pieces/many/squares.csv", map);
    bench
}

fn names(bench: &Bench) -> Vec<String> {
    bench.files("finished/community/many").into_keys().collect()
}

const ALL: [&str; 7] = [
    "community.json",
    "credits-panel.pdf",
    "roll.pdf",
    "squares-list.pdf",
    "squares-map.pdf",
    "squares.csv",
    "thanks-sheets.pdf",
];

#[test]
fn a_piece_made_by_many_is_made_twice_to_the_same_bytes_and_nothing_else_is_touched() {
    let bench = laid_out(ROLL, MAP, "rows: 2, columns: 2");
    let before = bench.files("pieces");
    bench.run(&["community", "studio", "many"]).ends(0);
    assert_eq!(names(&bench), ALL);
    let made = bench.files("finished/community/many");
    std::fs::remove_dir_all(bench.path("finished")).unwrap();
    bench.run(&["community", "studio", "pieces/many/"]).ends(0);
    assert!(made == bench.files("finished/community/many"));
    assert!(before == bench.files("pieces"));
    assert!(!bench.path("finished/many").exists());
}

#[test]
fn the_list_is_tamed_and_what_is_printed_for_machines_names_nobody() {
    let bench = laid_out(ROLL, MAP, "rows: 2, columns: 2");
    let said = bench
        .run(&["community", "studio", "many", "--json"])
        .ends(0);
    let json = said.json();
    let text = json.to_string();
    for name in ["Quill", "Tarn", "Tallow"] {
        assert!(!text.contains(name), "{text}");
    }
    assert_eq!(json["result"]["people"]["named"], 2);
    assert_eq!(json["result"]["people"]["minors_named"], 0);
    assert_eq!(
        json["result"]["wall"]["not_on_the_map"],
        serde_json::json!([])
    );
    let files = json["files"].as_array().unwrap();
    let public: Vec<&str> = files
        .iter()
        .filter(|f| f["circle"] == "public")
        .map(|f| f["file"].as_str().unwrap())
        .collect();
    assert_eq!(public, ["credits-panel.pdf", "squares-map.pdf"]);
    let list = std::fs::read_to_string(bench.path("finished/community/many/squares.csv")).unwrap();
    // Source, exact case: the map above, a line for each maker of each square, a formula made harmless.
    let wanted = "number,row,column,maker,age,consent,motif\r\n\
        1-1,1,1,Ada Quill,adult,yes,gull\r\n\
        1-2,1,2,Nell Tarn,minor,no,'=boat\r\n\
        1-2,1,2,Ada Quill,adult,yes,'=boat\r\n\
        2-1,2,1,Rufus Tallow,adult,yes,\r\n\
        2-2,2,2,Ada Quill,adult,yes,sun\r\n";
    assert_eq!(list, wanted);
}

#[test]
fn tables_of_other_countries_spreadsheets_make_the_same_papers() {
    let bench = laid_out(ROLL, MAP, "rows: 2, columns: 2");
    bench.run(&["community", "studio", "many"]).ends(0);
    let made = bench.files("finished/community/many");
    let other = laid_out(
        &format!("\u{feff}{}", ROLL.replace(',', ";")),
        &MAP.replace(',', ";").replace("\r\n", "\n"),
        "rows: 2, columns: 2",
    );
    other.run(&["community", "studio", "many"]).ends(0);
    assert!(made == other.files("finished/community/many"));
}

#[test]
fn a_slip_in_a_table_is_told_with_its_line_and_nothing_is_made() {
    let bench = laid_out(
        &ROLL.replace("minor", "child"),
        &MAP.replace("2,2,Ada", "2,x,Ada"),
        "rows: 2, columns: 2",
    );
    let said = bench
        .run(&["community", "studio", "many", "--json"])
        .ends(1);
    let findings = said.json()["findings"].as_array().unwrap().clone();
    let at: Vec<(&str, &str, u64, u64)> = findings
        .iter()
        .filter(|f| f["rank"] == "error")
        .map(|f| {
            (
                f["name"].as_str().unwrap(),
                f["file"].as_str().unwrap(),
                f["line"].as_u64().unwrap(),
                f["column"].as_u64().unwrap(),
            )
        })
        .collect();
    assert_eq!(
        at,
        [
            ("unknown-word", "pieces/many/roll.csv", 3, 11),
            ("unreadable-value", "pieces/many/squares.csv", 5, 3),
        ]
    );
    assert!(!bench.path("finished/community").exists());
}

#[test]
fn without_a_map_the_papers_that_need_one_go() {
    let bench = laid_out(ROLL, MAP, "rows: 2, columns: 2");
    bench.run(&["community", "studio", "many"]).ends(0);
    let piece = format!("{SMALL_PIECE}kind: community\nmakers: {{roll_file: roll.csv}}\n");
    bench.put("pieces/many/piece.yaml", piece);
    bench.run(&["community", "studio", "many"]).ends(0);
    assert_eq!(
        names(&bench),
        [
            "community.json",
            "credits-panel.pdf",
            "roll.pdf",
            "thanks-sheets.pdf"
        ]
    );
}

#[test]
fn a_table_outside_the_piece_is_never_read() {
    let bench = laid_out(ROLL, MAP, "rows: 2, columns: 2");
    bench.put("pieces/roll.csv", ROLL);
    let piece = format!("{SMALL_PIECE}makers: {{roll_file: ../roll.csv}}\n");
    bench.put("pieces/many/piece.yaml", piece);
    let said = bench
        .run(&["community", "studio", "many", "--json"])
        .ends(1);
    assert_eq!(said.json()["findings"][0]["name"], "leaves-folder");
}

#[test]
fn a_piece_without_makers_and_a_piece_that_is_not_there_are_told() {
    let bench = Bench::with_pieces(&[("one", SMALL_PIECE)]);
    let said = bench.run(&["community", "studio", "one"]).ends(2);
    assert!(
        said.err.contains("nobody is on the roll of `one`"),
        "{said:?}"
    );
    let said = bench.run(&["community", "studio", "onn"]).ends(2);
    assert!(said.err.contains("did you mean `one`?"), "{said:?}");
}
