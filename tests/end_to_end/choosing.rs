//! Which papers are made, and the contact sheet of all pages.

use crate::bench::Bench;

fn papers(bench: &Bench, slug: &str) -> Vec<String> {
    let all = bench.files(&format!("finished/{slug}"));
    let mut names: Vec<String> = (all.keys())
        .filter_map(|f| f.rsplit('/').next())
        .filter(|f| f.ends_with(".pdf"))
        .map(str::to_string)
        .collect();
    names.sort();
    names
}

#[test]
fn one_paper_alone_is_made_and_no_bundle_is_issued() {
    let bench = Bench::sample_pieces(&["dock-leaf"]);
    let said = bench
        .run(&["finish", "studio", "--only", "certificate"])
        .ends(0);
    assert_eq!(papers(&bench, "dock-leaf"), ["certificate.pdf"]);
    assert!(
        said.out.contains("dock-leaf: certificate, "),
        "{}",
        said.out
    );
    assert!(bench.files("finished/bundles").is_empty());
    let alone = bench.files("finished/dock-leaf");
    // The whole run makes the others too, and the same certificate.
    bench.run(&["finish", "studio"]).ends(0);
    let whole = bench.files("finished/dock-leaf");
    let certificate = |all: &std::collections::BTreeMap<String, Vec<u8>>| {
        let (_, bytes) = all
            .iter()
            .find(|(k, _)| k.ends_with("certificate.pdf"))
            .unwrap();
        bytes.clone()
    };
    assert!(certificate(&alone) == certificate(&whole));
    assert_eq!(papers(&bench, "dock-leaf").len(), 9);
    assert!(!bench.files("finished/bundles").is_empty());
    // One paper again leaves the rest lying.
    bench
        .run(&["finish", "studio", "--only", "care-label,hanging-sheet"])
        .ends(0);
    assert_eq!(bench.files("finished/dock-leaf"), whole);
}

#[test]
fn the_studio_sheet_alone_lists_all_that_is_wanting() {
    let bench = Bench::sample_pieces(&["glebe-fields"]);
    bench
        .run(&["finish", "studio", "--only", "studio-sheet"])
        .ends(0);
    let alone = bench.files("finished/glebe-fields");
    bench.run(&["finish", "studio"]).ends(0);
    let whole = bench.files("finished/glebe-fields");
    let sheet = |all: &std::collections::BTreeMap<String, Vec<u8>>| {
        let (_, bytes) = all
            .iter()
            .find(|(k, _)| k.ends_with("studio-sheet.pdf"))
            .unwrap();
        bytes.clone()
    };
    assert!(sheet(&alone) == sheet(&whole));
}

#[test]
fn a_paper_by_a_wrong_name_is_answered_with_the_right_ones() {
    let bench = Bench::sample_pieces(&["dock-leaf"]);
    let said = bench
        .run(&["finish", "studio", "--only", "certificat"])
        .ends(2);
    assert!(said.err.contains("certificate"), "{}", said.err);
    assert!(said.err.contains("studio-sheet"), "{}", said.err);
    assert!(!bench.path("finished").exists());
}

#[test]
fn a_studio_makes_the_papers_it_names_and_takes_the_others_away() {
    let bench = Bench::sample_pieces(&["dock-leaf"]);
    bench.run(&["finish", "studio"]).ends(0);
    let yaml = std::fs::read_to_string(bench.path("studio.yaml")).unwrap();
    bench.put(
        "studio.yaml",
        format!("{yaml}\npapers: [certificate, care-label]\n"),
    );
    bench.run(&["finish", "studio"]).ends(0);
    assert_eq!(
        papers(&bench, "dock-leaf"),
        ["care-label-single.pdf", "care-label.pdf", "certificate.pdf"]
    );
    // Asked for by name, a paper is made that the studio does not make otherwise.
    bench
        .run(&["finish", "studio", "--only", "packing-sheet"])
        .ends(0);
    assert!(bench.path("finished/dock-leaf/packing-sheet.pdf").is_file());
    bench.put("studio.yaml", format!("{yaml}\npapers: [certifikate]\n"));
    let said = bench.run(&["finish", "studio"]).ends(1);
    let all = format!("{}{}", said.out, said.err);
    assert!(all.contains("certificate"), "{all}");
}

#[test]
fn the_proof_shows_every_page_and_goes_into_no_bundle() {
    let bench = Bench::sample_pieces(&["dock-leaf", "tide-tables"]);
    let said = bench.run(&["finish", "studio", "--proof"]).ends(0);
    let proof = std::fs::read(bench.path("finished/proof.pdf")).unwrap();
    assert!(said.out.contains("proof.pdf: "), "{}", said.out);
    // What has not changed is shown all the same, in the same bytes.
    bench.run(&["finish", "studio", "--proof"]).ends(0);
    assert!(proof == std::fs::read(bench.path("finished/proof.pdf")).unwrap());
    let json = bench
        .run(&[
            "finish",
            "studio",
            "--proof",
            "--only",
            "certificate",
            "--json",
        ])
        .ends(0)
        .json();
    let pages = json["proof"]["pages"].as_u64().unwrap();
    assert!((2..=4).contains(&pages), "{pages}");
    for (name, bytes) in bench.files("finished/bundles") {
        let inside = String::from_utf8_lossy(&bytes);
        assert!(!inside.contains("proof.pdf"), "{name}");
    }
}
