//! The studio's key, and the bundles it seals.

use crate::bench::Bench;
use std::fs;
use std::os::unix::fs::PermissionsExt;

/// The folder that the program runs in, above the archive.
fn desk(bench: &Bench) -> std::path::PathBuf {
    bench.root().parent().unwrap().to_path_buf()
}

/// A bench with a passphrase in a file that nobody else may read.
fn with_words() -> Bench {
    let bench = Bench::sample_pieces(&["dock-leaf"]);
    let words = desk(&bench).join("words");
    fs::write(&words, "tide and time\n").unwrap();
    fs::set_permissions(&words, fs::Permissions::from_mode(0o600)).unwrap();
    bench
}

fn make(bench: &Bench, since: &str) -> crate::bench::Said {
    bench.run(&[
        "key",
        "studio",
        "--make",
        "--since",
        since,
        "--passphrase-file",
        "words",
    ])
}

/// An audit of all bundles that wants the studio's seal.
fn audited(bench: &Bench) -> crate::bench::Said {
    let list = "studio/seal/allowed_signers";
    bench.run(&["audit", "studio/finished/bundles", "--signers", list])
}

#[test]
fn without_a_key_bundles_have_no_seal_and_nobody_is_asked() {
    let bench = with_words();
    bench.run(&["finish", "studio"]).ends(0);
    let said = bench.run(&["key", "studio"]).ends(0);
    assert!(said.out.contains("no key yet"), "{}", said.out);
}

#[test]
fn a_locked_key_without_its_passphrase_makes_nothing() {
    let bench = with_words();
    make(&bench, "2026-01-01").ends(0);
    let said = bench.run(&["finish", "studio"]).ends(2);
    assert!(said.err.contains("--passphrase-file"), "{}", said.err);
    assert!(!bench.path("finished").exists());
    // Without a seal on purpose it goes, and no certificate speaks of a key.
    bench.run(&["finish", "studio", "--no-seal"]).ends(0);
    fs::write(desk(&bench).join("words"), "another\n").unwrap();
    let said = bench
        .run(&["finish", "studio", "--passphrase-file", "words"])
        .ends(2);
    assert!(said.err.contains("does not open the key"), "{}", said.err);
}

#[test]
fn a_key_or_a_passphrase_that_others_may_read_is_refused() {
    let bench = with_words();
    make(&bench, "2026-01-01").ends(0);
    for file in ["words", "studio/seal/key"] {
        let path = desk(&bench).join(file);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o644)).unwrap();
        let said = bench
            .run(&["finish", "studio", "--passphrase-file", "words"])
            .ends(2);
        assert!(said.err.contains("chmod 600"), "{}", said.err);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o600)).unwrap();
    }
    bench
        .run(&["finish", "studio", "--passphrase-file", "words"])
        .ends(0);
}

#[test]
fn the_same_key_seals_the_same_bundle_to_the_byte() {
    let bench = with_words();
    make(&bench, "2026-01-01").ends(0);
    for out in ["one", "two"] {
        bench
            .run(&[
                "finish",
                "studio",
                "--passphrase-file",
                "words",
                "--out",
                out,
            ])
            .ends(0);
    }
    for name in ["dock-leaf.r1.zip", "dock-leaf.r1.owner.zip"] {
        let read = |out: &str| fs::read(desk(&bench).join(out).join("bundles").join(name)).unwrap();
        assert!(read("one") == read("two"), "{name}");
    }
}

#[test]
fn a_new_key_ends_the_former_one_s_time_and_throws_nothing_away() {
    let bench = with_words();
    make(&bench, "2026-01-01").ends(0);
    let first = fs::read(bench.path("seal/key")).unwrap();
    let said = make(&bench, "2025-06-01").ends(2);
    assert!(said.err.contains("2026-01-01"), "{}", said.err);
    make(&bench, "2031-05-01").ends(0);
    assert!(fs::read(bench.path("seal/key.until-2031-05-01")).unwrap() == first);
    assert!(fs::read(bench.path("seal/key")).unwrap() != first);
    let said = bench.run(&["key", "studio"]).ends(0);
    assert!(
        said.out.contains("from 2026-01-01, until 2031-05-01"),
        "{}",
        said.out
    );
    assert!(
        said.out.contains("from 2031-05-01, present key"),
        "{}",
        said.out
    );
}

#[test]
fn a_key_of_hers_is_taken_by_its_public_half_and_stays_where_it_is() {
    let bench = with_words();
    make(&bench, "2026-01-01").ends(0);
    let (key, public) = (desk(&bench).join("mine"), desk(&bench).join("mine.pub"));
    fs::rename(bench.path("seal/key"), &key).unwrap();
    fs::rename(bench.path("seal/key.pub"), &public).unwrap();
    fs::remove_file(bench.path("seal/allowed_signers")).unwrap();
    bench
        .run(&[
            "key",
            "studio",
            "--take",
            "mine.pub",
            "--since",
            "2026-03-01",
        ])
        .ends(0);
    assert!(!bench.path("seal/key").exists());
    let said = bench
        .run(&["finish", "studio", "--passphrase-file", "words"])
        .ends(2);
    assert!(said.err.contains("--key FILE"), "{}", said.err);
    bench
        .run(&[
            "finish",
            "studio",
            "--passphrase-file",
            "words",
            "--key",
            "mine",
        ])
        .ends(0);
    let said = audited(&bench).ends(0);
    assert!(said.out.contains("sealed by"), "{}", said.out);
}

#[test]
fn a_closed_key_seals_no_more() {
    let bench = with_words();
    make(&bench, "2026-01-01").ends(0);
    bench
        .run(&["key", "studio", "--close", "2026-02-01"])
        .ends(0);
    bench.run(&["finish", "studio"]).ends(0);
    let said = audited(&bench).ends(1);
    assert!(
        said.out.contains("nobody has sealed this bag"),
        "{}",
        said.out
    );
}

#[test]
fn a_revision_that_does_not_follow_from_the_one_before_is_told() {
    let bench = Bench::sample_pieces(&["dock-leaf"]);
    bench.run(&["finish", "studio"]).ends(0);
    bench
        .run(&["finish", "studio", "--reissue", "dock-leaf"])
        .ends(0);
    bench.run(&["audit", "studio/finished/bundles"]).ends(0);
    // Another first revision, whole in itself, is put in the place of the one that was followed.
    let piece = bench.path("pieces/dock-leaf/piece.yaml");
    let text = fs::read_to_string(&piece).unwrap();
    fs::write(&piece, text + "\n# another day\n").unwrap();
    bench.run(&["finish", "studio", "--out", "other"]).ends(0);
    for name in ["dock-leaf.r1.zip", "dock-leaf.r1.owner.zip"] {
        let from = desk(&bench).join("other/bundles").join(name);
        fs::copy(from, bench.path("finished/bundles").join(name)).unwrap();
    }
    let said = bench.run(&["audit", "studio/finished/bundles"]).ends(1);
    assert!(
        said.out.contains("is not the one that this follows"),
        "{}",
        said.out
    );
}

#[test]
fn what_changed_between_two_revisions_is_told_in_her_words() {
    let bench = Bench::sample_pieces(&["dock-leaf"]);
    bench.run(&["finish", "studio"]).ends(0);
    let piece = bench.path("pieces/dock-leaf/piece.yaml");
    let text = fs::read_to_string(&piece).unwrap();
    let old = text
        .lines()
        .find(|l| l.starts_with("title:"))
        .unwrap()
        .to_string();
    fs::write(&piece, text.replace(&old, "title: Dock Leaf Again")).unwrap();
    bench.put("pieces/dock-leaf/letter.txt", "From the owner.\n");
    let photos = bench.path("pieces/dock-leaf/photos");
    fs::copy(photos.join("front.jpg"), photos.join("spare.jpg")).unwrap();
    bench.run(&["finish", "studio"]).ends(0);
    let shelf = "studio/finished/bundles";
    let said = bench
        .run(&["audit", shelf, "--between", "dock-leaf.r1", "dock-leaf.r2"])
        .ends(0);
    for line in [
        "became `Dock Leaf Again`",
        "piece/letter.txt: new",
        "piece/photos/spare.jpg: new",
        "papers/certificate.pdf: another file",
    ] {
        assert!(said.out.contains(line), "{line}\n{}", said.out);
    }
    assert!(!said.out.contains("front.jpg"), "{}", said.out);
    let same = bench
        .run(&[
            "audit",
            shelf,
            "--between",
            "dock-leaf.r2",
            "dock-leaf.r2",
            "--json",
        ])
        .ends(0);
    assert_eq!(same.json()["changes"].as_array().unwrap().len(), 0);
    let none = bench
        .run(&["audit", shelf, "--between", "dock-leaf.r1", "dock-leaf.r9"])
        .ends(2);
    assert!(none.err.contains("dock-leaf.r9"), "{}", none.err);
}
