//! `offloom finish`: the main job, with a line for each piece.

use super::Exit;
use super::args::Finish;
use super::show::{Screen, as_json, count, safe};
use super::stop::Stop;
use super::{key, progress, unknown_pieces};
use crate::check::has_error;
use crate::finish::{
    BundleState, Finished, Letters, Order, Outcome, PROOF, State, Watcher, finish,
};
use crate::read::Archive;
use crate::record::Paper;
use indicatif::ProgressBar;
use serde_json::{Value, json};

struct Eyes<'a> {
    bar: ProgressBar,
    stop: &'a Stop,
    screen: &'a Screen,
}

impl Watcher for Eyes<'_> {
    fn done(&self, slug: &str) {
        self.bar.set_message(safe(slug));
        self.bar.inc(1);
    }
    fn stop(&self) -> bool {
        self.stop.asked()
    }
    fn waiting(&self) {
        if !self.screen.quiet {
            eprintln!("offloom: another run is working in this folder; waiting for it");
        }
    }
}

pub(super) fn run(screen: &Screen, asked: &Finish, stop: &Stop) -> Exit {
    if let Some(threads) = asked.threads {
        // Only fails if a pool is there already, and then that one serves.
        let _ = rayon::ThreadPoolBuilder::new()
            .num_threads(usize::from(threads))
            .build_global();
    }
    let archive = match Archive::read(&asked.archive) {
        Ok(archive) => archive,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    let named: Vec<String> = asked.piece.iter().chain(&asked.reissue).cloned().collect();
    if let Some(message) = unknown_pieces(&archive, &named) {
        screen.refuse(&message);
        return Exit::Failed;
    }
    let named = |p: &Paper| asked.only.iter().any(|name| name == p.name());
    let papers: Vec<Paper> = Paper::ALL.iter().copied().filter(named).collect();
    if let Some(figure) = &asked.explain {
        return super::figures::run(screen, &archive, &asked.piece, figure);
    }
    let sealing = if asked.no_seal || !papers.is_empty() {
        Ok(None)
    } else {
        key::open(
            &asked.archive,
            asked.key.as_deref(),
            asked.passphrase_file.as_deref(),
        )
    };
    let (sealing, seal_key) = match (sealing, key::present(&asked.archive)) {
        (Ok(sealing), Ok(present)) => (sealing, present.filter(|_| !asked.no_seal)),
        (Err(why), _) | (_, Err(why)) => {
            screen.refuse(&why);
            return Exit::Failed;
        }
    };
    let out = asked
        .out
        .clone()
        .unwrap_or_else(|| asked.archive.join("finished"));
    let ours = |slug: &str| asked.part.is_none_or(|part| part.holds(slug));
    let steps = if asked.piece.is_empty() {
        archive.pieces.iter().filter(|p| ours(&p.slug)).count()
    } else {
        asked.piece.len()
    };
    let eyes = Eyes {
        bar: progress::bar(screen, steps as u64, "finishing"),
        stop,
        screen,
    };
    let fonts = asked.fonts.clone().map(Letters::from);
    let order = Order {
        fonts: fonts.as_ref(),
        out: &out,
        only: &asked.piece,
        part: asked.part,
        reissue: &asked.reissue,
        papers: &papers,
        proof: asked.proof,
        sealing: sealing.as_ref(),
        seal_key: seal_key.as_deref(),
    };
    let outcome = finish(&archive, &order, &eyes);
    eyes.bar.finish_and_clear();
    let outcome = match outcome {
        Ok(outcome) => outcome,
        Err(_) if stop.asked() => return Exit::Stopped,
        Err(error) => {
            screen.refuse(&error.to_string());
            return Exit::Failed;
        }
    };
    if screen.json {
        screen.document(&document(&outcome, &out));
    } else {
        let mut sources = archive.sources.clone();
        sources.extend(outcome.texts.clone());
        screen.findings(&outcome.findings, &sources);
        for piece in &outcome.pieces {
            screen.tell(&line(screen, piece));
        }
        if let Some(Ok(pages)) = outcome.proof {
            screen.tell(&format!("{PROOF}: {pages} pages on one contact sheet"));
        }
        screen.tell(&format!(
            "in {}; findings: {}",
            safe(&out.display().to_string()),
            count(&outcome.findings)
        ));
    }
    let mut failed = false;
    if let Some(Err(why)) = &outcome.proof {
        failed = true;
        screen.fail(why);
    }
    for piece in &outcome.pieces {
        if let State::Failed(why) = &piece.state {
            failed = true;
            screen.fail(&format!("{}: {why}", piece.slug));
        }
    }
    if failed {
        Exit::Failed
    } else if has_error(&outcome.findings) {
        Exit::Findings
    } else {
        Exit::Done
    }
}

/// What was made for a piece, and what is missing, in two lines at most.
fn line(screen: &Screen, piece: &Finished) -> String {
    let name = screen.strong(&piece.slug);
    let what = match &piece.state {
        State::NeedsMending => return format!("{name}: not made; mend the errors above first"),
        State::Failed(_) => return format!("{name}: not made"),
        State::Stopped => return format!("{name}: stopped before it was done"),
        State::Unchanged => "unchanged".to_string(),
        State::Made => made(&piece.files),
    };
    let bundle = match &piece.bundle {
        Some(BundleState::Issued { file, size, .. }) => {
            format!("; bundle {file} ({})", octets(*size))
        }
        Some(BundleState::Kept { file, .. }) => format!("; bundle {file} as it was"),
        None => String::new(),
    };
    let owner = match &piece.owner_bundle {
        Some(BundleState::Issued { file, size, .. }) => {
            format!(", for its owner {file} ({})", octets(*size))
        }
        _ => String::new(),
    };
    let mut line = format!("{name}: {what}{}{}", safe(&bundle), safe(&owner));
    if !piece.wanting.is_empty() && piece.state == State::Made {
        line.push_str(&format!(
            "\n    the papers leave out what the record does not say: {}",
            safe(&piece.wanting.join(", "))
        ));
    }
    line
}

fn made(files: &[String]) -> String {
    let made = |p: &&Paper| files.iter().any(|f| p.files().contains(&f.as_str()));
    let papers: Vec<String> = (Paper::ALL.iter().filter(made))
        .map(|p| p.name().replace('-', " "))
        .collect();
    let papers = if papers.len() == Paper::ALL.len() {
        format!("all {} papers", papers.len())
    } else {
        papers.join(", ")
    };
    let plates = files.iter().filter(|f| f.ends_with(".jpg")).count();
    let plates = match plates {
        0 => "no plates".to_string(),
        n => format!("{n} plates"),
    };
    format!("{papers}, {plates}")
}

fn octets(size: u64) -> String {
    match size {
        0..1_000_000 => format!("{} kB", size.div_ceil(1000)),
        1_000_000..1_000_000_000 => format!("{:.1} MB", size as f64 / 1e6),
        _ => format!("{:.1} GB", size as f64 / 1e9),
    }
}

fn bundle(b: &BundleState) -> Value {
    json!({ "file": b.file(), "revision": b.revision(), "new": matches!(b, BundleState::Issued { .. }) })
}

fn document(outcome: &Outcome, out: &std::path::Path) -> Value {
    let pieces: Vec<Value> = outcome
        .pieces
        .iter()
        .map(|p| {
            let (state, why) = match &p.state {
                State::Made => ("made", None),
                State::Unchanged => ("unchanged", None),
                State::NeedsMending => ("needs-mending", None),
                State::Failed(why) => ("failed", Some(why)),
                State::Stopped => ("stopped", None),
            };
            json!({
                "piece": p.slug, "title": p.title, "state": state, "why": why,
                "files": p.files, "record_number": p.record_number, "wanting": p.wanting,
                "bundle": p.bundle.as_ref().map(bundle), "owner_bundle": p.owner_bundle.as_ref().map(bundle),
            })
        })
        .collect();
    let findings: Vec<Value> = outcome.findings.iter().map(as_json).collect();
    let proof = outcome.proof.as_ref().map(|proof| match proof {
        Ok(pages) => json!({ "file": PROOF, "pages": pages }),
        Err(why) => json!({ "file": null, "why": why }),
    });
    json!({ "out": out.display().to_string(), "pieces": pieces, "findings": findings, "proof": proof })
}
