//! The folder `papers/` of an archive, and letters given with `--fonts`.

use crate::bench::Bench;

fn write(bench: &Bench, path: &str, text: &str) {
    let path = bench.path(path);
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(path, text).unwrap();
}

const ONE: [&str; 4] = ["finish", "studio", "--piece", "dock-leaf"];

#[test]
fn a_broken_template_of_hers_is_a_finding_and_no_paper_is_made() {
    let bench = Bench::sample();
    write(
        &bench,
        "papers/care-label.typ",
        "#let words = 1\n#nonsense()\n",
    );
    let said = bench.run(&["finish", "studio"]).ends(1);
    let all = format!("{}{}", said.out, said.err);
    assert!(all.contains("papers/care-label.typ:2:2"), "{all}");
    // It meets every piece, and is told once.
    assert_eq!(all.matches("own-paper").count(), 1, "{all}");
    assert!(!bench.path("finished/dock-leaf/care-label.pdf").exists());
}

#[test]
fn words_of_hers_make_the_papers_anew_and_leaving_them_out_again_too() {
    let bench = Bench::sample();
    bench.run(&ONE).ends(0);
    let plain = std::fs::read(bench.path("finished/dock-leaf/care-label.pdf")).unwrap();
    let words = include_str!("../../templates/words/en.yaml");
    let own = words.replacen("Do not wash.", "Keep it dry.", 1);
    write(&bench, "papers/words/en.yaml", &own);
    let said = bench.run(&ONE).ends(0);
    assert!(!said.out.contains("unchanged"), "{}", said.out);
    let changed = std::fs::read(bench.path("finished/dock-leaf/care-label.pdf")).unwrap();
    assert!(plain != changed);
    let again = bench.run(&ONE).ends(0);
    assert!(again.out.contains("unchanged"), "{}", again.out);
    std::fs::remove_dir_all(bench.path("papers")).unwrap();
    bench.run(&ONE).ends(0);
    let back = std::fs::read(bench.path("finished/dock-leaf/care-label.pdf")).unwrap();
    assert!(plain == back);
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_of_templates_is_not_followed() {
    let bench = Bench::sample();
    write(&bench, "papers/readme.txt", "ours");
    std::os::unix::fs::symlink(bench.path("studio.yaml"), bench.path("papers/style.typ")).unwrap();
    let said = bench.run(&ONE).ends(1);
    let all = format!("{}{}", said.out, said.err);
    assert!(all.contains("papers/style.typ"), "{all}");
    assert!(all.contains("own-paper"), "{all}");
}

#[test]
fn a_character_without_letters_is_named_with_its_line_and_field() {
    let bench = Bench::sample();
    let path = bench.path("pieces/dock-leaf/piece.yaml");
    let text = std::fs::read_to_string(&path).unwrap();
    let text = text.replacen("statement: For nettles.", "statement: For nettles 潮.", 1);
    std::fs::write(&path, text).unwrap();
    let said = bench.run(&ONE).ends(0);
    let all = format!("{}{}", said.out, said.err);
    assert!(all.contains("letters-lacking"), "{all}");
    assert!(all.contains("`statement`: "), "{all}");
    assert!(all.contains("piece.yaml:11:24"), "{all}");
}

#[test]
fn a_folder_of_fonts_that_is_not_there_is_said() {
    let bench = Bench::sample();
    let said = bench
        .run(&[
            "finish",
            "studio",
            "--piece",
            "dock-leaf",
            "--fonts",
            "no-such-folder",
        ])
        .ends(2);
    assert!(said.err.contains("no-such-folder"), "{}", said.err);
}
