//! The time-stamp beside the record of a bundle: whether it is for this record, and when it says that was.

use super::log_day::Instant;
use super::rules::{Case, LARGEST_TAG};
use super::verdict::Kind;
use crate::seal::{LARGEST_TIME_STAMP, TIME_STAMP_FILE, TimeStamp};

/// What a bundle's stamp is for.
const RECORD: &str = "data/record.json";

/// Looks at the stamp; nothing where there is none, or it does not fit.
pub(super) fn look(case: &mut Case) -> Option<Instant> {
    let file = format!("data/{TIME_STAMP_FILE}");
    let stamp = case.holder.find(&file)?;
    let record = case.holder.find(RECORD)?;
    let octets = case.holder.read_small(stamp, LARGEST_TIME_STAMP);
    let record = case.holder.read_small(record, LARGEST_TAG)?;
    let why = match TimeStamp::read(&octets.unwrap_or_default()) {
        Ok(stamp) => match stamp.is_for(&record) {
            Some(true) => return Instant::from_seconds(i64::try_from(stamp.seconds).ok()?),
            Some(false) => format!("is a time-stamp, but not for {RECORD}."),
            None => "rests on a digest that is not known here.".to_owned(),
        },
        Err(error) => format!("{error}."),
    };
    let remedy = "The rest of the bag is not touched by it; it proves no time.";
    case.warning(Kind::TimeStampUnfit, &file, why, remedy);
    None
}
