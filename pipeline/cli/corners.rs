//! `offloom check --find-corners`: proposes the corners of the pieces in their front photographs, as lines to
//! paste into piece.yaml.

use super::args::Check;
use super::show::Screen;
use super::stop::Stop;
use super::{Exit, progress};
use crate::finish::{Proposal, propose};
use crate::picture::{FoundCorners, Sureness};
use crate::read::Archive;
use serde_json::{Value, json};

pub(super) fn run(screen: &Screen, archive: &Archive, asked: &Check, stop: &Stop) -> Exit {
    let bar = progress::bar(screen, archive.pieces.len() as u64, "looking for corners");
    let found = propose(
        archive,
        &asked.piece,
        &|slug| {
            bar.set_message(slug.to_string());
            bar.inc(1);
        },
        &|| stop.asked(),
    );
    bar.finish_and_clear();
    if stop.asked() {
        return Exit::Stopped;
    }
    if screen.json {
        let proposals: Vec<Value> = found.iter().map(as_json).collect();
        screen.document(&json!({ "corners": proposals }));
        return Exit::Done;
    }
    for proposal in &found {
        screen.say(&format!(
            "{}, {}",
            screen.strong(&proposal.slug),
            screen.strong(&format!("photos/{}", proposal.file))
        ));
        match &proposal.found {
            Ok(corners) => {
                screen.say(&format!("  {}", line(corners)));
                screen.say(&format!("  {}", how_sure(corners)));
            }
            Err(reason) => screen.say(&format!("  not found: {reason}")),
        }
        if let Some(apart) = proposal.from_written {
            screen.say(&format!(
                "  `corners` are written already; they lie within {apart:.0} pixels of these"
            ));
        }
    }
    screen.tell(
        "nothing was changed: look at the four points in the photograph, then paste the line into the photograph's entry in piece.yaml",
    );
    Exit::Done
}

/// The line to paste, in whole pixels.
fn line(found: &FoundCorners) -> String {
    let points = whole(found).map(|[x, y]| format!("[{x}, {y}]"));
    format!("corners: [{}]", points.join(", "))
}

/// A corner is hardly ever known to a part of a pixel.
fn whole(found: &FoundCorners) -> [[i64; 2]; 4] {
    found.corners.map(|p| p.map(|v| libm::round(v) as i64))
}

fn how_sure(found: &FoundCorners) -> String {
    let word = match found.sure {
        Sureness::Sure => "sure: every edge stands out from the wall and is straight",
        Sureness::Fair => {
            "fairly sure: the edges are not quite straight, or a part of one is not seen"
        }
        Sureness::Doubtful => {
            "doubtful: an edge is far from straight, or much of it is not seen; look closely"
        }
    };
    format!(
        "{word} ({:.0} % of the least clear edge seen; a corner is known to about {:.0} pixels)",
        found.seen * 100.0,
        libm::ceil(2.0 * found.within)
    )
}

fn as_json(proposal: &Proposal) -> Value {
    let (piece, photo) = (&proposal.slug, &proposal.file);
    match &proposal.found {
        Ok(found) => json!({
            "piece": piece,
            "photo": photo,
            "corners": whole(found),
            "sure": found.sure,
            "seen": found.seen,
            "within": found.within,
            "from_written": proposal.from_written,
        }),
        Err(reason) => json!({ "piece": piece, "photo": photo, "not_found": reason }),
    }
}
