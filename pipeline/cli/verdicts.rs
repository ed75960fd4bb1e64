//! Showing what an audit found.

use super::show::{Screen, safe};
use crate::audit::{Fault, Instant, Rank, SealSeen, SealStanding, Verdict};

/// Tells one verdict; of a bag that is not whole also when it last was.
pub(super) fn tell(screen: &Screen, verdict: &Verdict, last_whole: Option<Instant>) {
    let path = screen.strong(&verdict.path.display().to_string());
    let how = match verdict.algorithms.as_slice() {
        [] => "no checksum could be read".to_string(),
        all => format!("checked with {}", all.join(" and ")),
    };
    let standing = format!(
        "{path}: {}, {} files, {how}",
        verdict.standing, verdict.payload_files
    );
    if verdict.is_valid() {
        screen.tell(&standing);
    } else {
        screen.say(&standing);
        if let Some(last) = last_whole {
            screen.say(&format!("    last seen whole on {}", last.day()));
        }
    }
    if let Some(seal) = &verdict.seal
        && let Some(words) = seal_line(seal)
    {
        screen.tell(&words);
    }
    if let Some(at) = verdict.time_stamp {
        screen.tell(&format!(
            "    its record is time-stamped {at}; that an authority says so, openssl ts -verify proves"
        ));
    }
    for fault in &verdict.faults {
        screen.say(&line(fault));
    }
}

/// What is known of a seal that fits; one that does not is a fault, and told there.
fn seal_line(seal: &SealSeen) -> Option<String> {
    let key = seal.fingerprint.as_deref()?;
    let who = safe(&seal.principals.join(", "));
    let time = match (&seal.since, &seal.until) {
        (Some(since), Some(until)) => format!(", whose key it was from {since} to {until}"),
        (Some(since), None) => format!(", whose key it is since {since}"),
        _ => String::new(),
    };
    let day = match &seal.said_day {
        Some(day) => format!("; dated {day} by itself, which nothing proves"),
        None => "; without a date".to_string(),
    };
    let whose = match seal.standing {
        SealStanding::Known => format!("sealed by {who}{time}: {key}"),
        SealStanding::SaysOfItself => format!(
            "sealed with the key {key}, by its own list of {who}{time}; compare the key with the certificate, or give --signers"
        ),
        _ => return None,
    };
    Some(format!("    {}{}", whose, safe(&day)))
}

fn line(fault: &Fault) -> String {
    let rank = match fault.rank {
        Rank::Error => "error",
        Rank::Warning => "warning",
    };
    let at = fault.line.map_or(String::new(), |l| format!(":{l}"));
    let mut told = format!(
        "    {rank}: {}{at}: {} ({})\n        {}",
        safe(&fault.file),
        safe(&fault.message),
        fault.rule,
        safe(&fault.remedy)
    );
    if let Some(likely) = &fault.likely {
        told.push_str(&format!("\n        Most likely {}.", safe(&likely.words())));
    }
    for good in &fault.elsewhere {
        let bag = safe(&good.bag.display().to_string());
        told.push_str(&format!("\n        Good in {bag}: {}", safe(&good.file)));
    }
    told
}
