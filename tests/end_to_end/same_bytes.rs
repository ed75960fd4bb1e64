//! The same input gives the same bytes: in another folder, with other threads, on another day, in
//! another locale and time zone.

use crate::bench::{Bench, said};

const PIECES: &[&str] = &["dock-leaf", "slack-water-2-or-3", "thirteen-moons"];

#[test]
fn thread_count_folder_locale_and_time_zone_change_nothing() {
    let one = Bench::sample_pieces(PIECES);
    said(one.program().args(["finish", "studio", "--threads", "1"])).ends(0);
    let two = Bench::sample_pieces(PIECES);
    said(
        two.program()
            .env("TZ", "Pacific/Kiritimati")
            .env("LANG", "tr_TR.UTF-8")
            .env("LC_ALL", "tr_TR.UTF-8")
            .env("HOME", "/nonexistent")
            .env("SOURCE_DATE_EPOCH", "86400")
            .args(["finish", "studio", "--threads", "2"]),
    )
    .ends(0);
    let (one, two) = (one.files("finished"), two.files("finished"));
    assert_eq!(
        one.keys().collect::<Vec<_>>(),
        two.keys().collect::<Vec<_>>()
    );
    for (name, bytes) in &one {
        assert!(two[name] == *bytes, "{name} differs");
    }
}

#[test]
fn file_times_and_the_day_change_nothing() {
    let one = Bench::sample_pieces(&["dock-leaf"]);
    one.run(&["finish", "studio"]).ends(0);
    let two = Bench::sample_pieces(&["dock-leaf"]);
    let long_ago =
        std::time::SystemTime::UNIX_EPOCH + std::time::Duration::from_secs(1_000_000_000);
    for name in two.files("").into_keys() {
        let file = std::fs::File::options()
            .write(true)
            .open(two.path(&name))
            .unwrap();
        file.set_modified(long_ago).unwrap();
    }
    two.run(&["finish", "studio"]).ends(0);
    assert!(one.files("finished") == two.files("finished"));
}

#[test]
fn order_of_finishing_changes_nothing() {
    let all = Bench::sample_pieces(&["dock-leaf", "glebe-fields"]);
    all.run(&["finish", "studio"]).ends(0);
    let apart = Bench::sample_pieces(&["dock-leaf", "glebe-fields"]);
    apart
        .run(&["finish", "studio", "--piece", "glebe-fields"])
        .ends(0);
    apart
        .run(&["finish", "studio", "--piece", "dock-leaf"])
        .ends(0);
    assert!(all.files("finished") == apart.files("finished"));
}
