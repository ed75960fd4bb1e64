//! The log of audits: what is due, and a log that somebody changed.

mod bundle_kit;

use std::fs;
use std::path::PathBuf;

use bundle_kit::sound_bundle;
use offloom::audit::{Age, AuditLog, Instant, LOG_FILE, Outside, judge};
use offloom::disk::{Lock, Sha256Digest};
use tempfile::TempDir;

const OUTSIDE: Outside = Outside {
    octets: 4711,
    written: 1_767_225_600,
};

fn at(day: &str) -> Instant {
    day.parse().unwrap()
}

fn age(text: &str) -> Age {
    text.parse().unwrap()
}

/// A folder with a shelf and a sound bundle on it, seen whole on three days.
fn seen_thrice() -> (TempDir, PathBuf) {
    let (folder, bundle) = sound_bundle();
    let lock = Lock::take(folder.path(), &mut || {}, &|| false).unwrap();
    let verdict = judge(&bundle);
    for day in ["2026-01-05", "2026-02-05", "2026-03-05"] {
        let mut log = AuditLog::read(&folder.path().join(LOG_FILE)).unwrap();
        assert!(log.faults.is_empty(), "{:?}", log.faults);
        log.append(&lock, at(day), &[(&verdict, OUTSIDE)]).unwrap();
    }
    (folder, bundle)
}

#[test]
fn a_bundle_is_due_when_it_was_not_seen_whole_for_long_or_was_written_since() {
    let (folder, bundle) = seen_thrice();
    let log = AuditLog::read(&folder.path().join(LOG_FILE)).unwrap();
    assert_eq!(log.last_seen_whole(&bundle), Some(at("2026-03-05")));
    let due = |outside, now| log.is_due(&bundle, outside, age("90d"), at(now));
    assert!(!due(OUTSIDE, "2026-03-06"));
    assert!(!due(OUTSIDE, "2026-06-02"));
    assert!(due(OUTSIDE, "2026-06-03"));
    assert!(due(
        Outside {
            octets: 4712,
            ..OUTSIDE
        },
        "2026-03-06"
    ));
    assert!(due(
        Outside {
            written: 0,
            ..OUTSIDE
        },
        "2026-03-06"
    ));
    assert!(log.is_due(
        &bundle.with_file_name("other.r1.zip"),
        OUTSIDE,
        age("90d"),
        at("2026-03-06")
    ));
    // A clock that was set back: what the log says of the future does not count.
    assert!(due(OUTSIDE, "2025-12-31"));
    assert!(log.is_ahead_of(at("2025-12-31")));
    assert!(!log.is_ahead_of(at("2026-03-06")));
}

#[test]
fn a_changed_line_and_a_line_taken_out_are_noticed() {
    let (folder, _) = seen_thrice();
    let path = folder.path().join(LOG_FILE);
    let text = fs::read_to_string(&path).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    fs::write(&path, text.replacen("2026-01-05", "2026-01-06", 1)).unwrap();
    assert_eq!(
        AuditLog::read(&path)
            .unwrap()
            .faults
            .iter()
            .map(|f| f.0)
            .collect::<Vec<_>>(),
        [2]
    );
    fs::write(&path, format!("{}\n{}\n", lines[0], lines[2])).unwrap();
    assert_eq!(
        AuditLog::read(&path)
            .unwrap()
            .faults
            .iter()
            .map(|f| f.0)
            .collect::<Vec<_>>(),
        [2]
    );
    // The chain can be followed with sha256sum: each line holds the checksum of the one before it.
    let first = Sha256Digest::of(lines[0].as_bytes()).to_string();
    assert!(
        lines[1].contains(&format!("\"former\":\"{first}\"")),
        "{}",
        lines[1]
    );
}

#[test]
fn a_line_that_a_power_cut_left_half_written_does_no_harm() {
    let (folder, bundle) = seen_thrice();
    let path = folder.path().join(LOG_FILE);
    let text = fs::read_to_string(&path).unwrap();
    let third = text.lines().nth(2).unwrap().len() + 1;
    for cut in 1..third {
        fs::write(&path, &text[..text.len() - cut]).unwrap();
        let mut log = AuditLog::read(&path).unwrap();
        let seen = if cut == 1 { "2026-03-05" } else { "2026-02-05" };
        assert_eq!(log.last_seen_whole(&bundle), Some(at(seen)), "cut by {cut}");
        let lock = Lock::take(folder.path(), &mut || {}, &|| false).unwrap();
        log.append(&lock, at("2026-04-05"), &[(&judge(&bundle), OUTSIDE)])
            .unwrap();
        let again = AuditLog::read(&path).unwrap();
        assert_eq!(
            again.last_seen_whole(&bundle),
            Some(at("2026-04-05")),
            "cut by {cut}"
        );
        let torn = usize::from(cut > 1);
        assert_eq!(again.faults.len(), torn, "cut by {cut}: {:?}", again.faults);
    }
}
