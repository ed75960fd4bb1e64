//! How fast reckoning and slip search are. Run by hand:
//!
//!     cargo test --release --test slips -- --ignored --nocapture
//!
//! What is said of speed is a ratio against a general-purpose tool in the same run: here PyYAML, which
//! only parses the same files.

use crate::piece::{Dice, Written};
use offloom::read::{notes_from, piece_from, studio_from};
use offloom::reckon::{Reckoning, slip::contradictions};
use std::time::Instant;

#[test]
#[ignore = "a measurement, not a check"]
#[allow(clippy::disallowed_methods)] // A measurement needs a clock.
fn ten_thousand_pieces() {
    let (studio, _) = studio_from(
        &"studio.yaml".into(),
        "studio: A\nweaver: B\nrules: [EU, US, CA, UK]\n",
    );
    let studio = studio.unwrap();
    let texts: Vec<(String, String)> = (0..10_000)
        .map(|seed| {
            let written = Written::true_piece(&mut Dice::new(seed));
            (written.yaml(), written.notes_md())
        })
        .collect();
    let run = |texts: &[(String, String)]| {
        let began = Instant::now();
        let (mut slowest, mut figures) = (0.0_f64, 0);
        for (yaml, notes) in texts {
            let one = Instant::now();
            let (piece, _) = piece_from("p", &"piece.yaml".into(), yaml);
            let mut piece = piece.unwrap();
            piece.notes = notes_from(&"notes.md".into(), notes).0;
            let reckoning = Reckoning::of(&studio, &piece);
            figures += reckoning.entries().len() + contradictions(&piece, None).len();
            slowest = slowest.max(one.elapsed().as_secs_f64());
        }
        (began.elapsed().as_secs_f64(), slowest, figures)
    };
    let (thousand, _, _) = run(&texts[..1000]);
    let (all, slowest, figures) = run(&texts);
    println!(
        "1 000 pieces: {thousand:.2} s; 10 000 pieces: {all:.2} s, {figures} figures; the slowest piece {:.2} ms",
        1000.0 * slowest
    );

    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("all.yaml");
    let stream: String = texts[..1000]
        .iter()
        .map(|(y, _)| format!("---\n{y}"))
        .collect();
    std::fs::write(&path, stream).unwrap();
    let program = "import sys,time,yaml\nt=time.time()\nn=sum(1 for _ in yaml.safe_load_all(open(sys.argv[1])))\nprint(n, time.time()-t)";
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_string());
    let done = std::process::Command::new(python)
        .args(["-c", program])
        .arg(&path)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&done.stdout);
    if let Some(seconds) = said
        .split_whitespace()
        .nth(1)
        .and_then(|s| s.parse::<f64>().ok())
    {
        println!(
            "PyYAML parses the piece.yaml of 1 000 pieces in {seconds:.2} s: {:.1} times as long as reading, reckoning and slip search",
            seconds / thousand
        );
    } else {
        println!(
            "PyYAML could not run: {}",
            String::from_utf8_lossy(&done.stderr)
        );
    }
}
