//! The seal of a bag: whether it fits, whose it is, and whether that key's time was then.
//!
//! That a signature fits tells that nothing has changed since somebody signed. Who that was, only a list of
//! signers from elsewhere can tell; a list that lies in the bag is what the bag says of itself. The day of
//! signing is what the bag says, too: no authority has stamped it.

use serde::Serialize;

use super::rules::{Case, LARGEST_TAG};
use super::verdict::Kind;
use crate::seal::{
    Moment, PUBLIC_KEY_FILE, PublicKey, SEALED_FILE, SIGNATURE_FILE, SIGNERS_FILE, Signers, verify,
};

/// Octets that a signature or a list of signers may have.
const LARGEST: u64 = 1024 * 1024;

/// What is known of a seal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SealStanding {
    /// It fits, and its key stands on the list that was given, in its time.
    Known,
    /// It fits, and its key stands on the bag's own list; no other list was given.
    SaysOfItself,
    /// It fits, but its key is on no list.
    Stranger,
    /// It fits, but it was not the key's time.
    OutOfTime,
    /// It does not fit, or can not be read.
    Broken,
    /// There are its keys, but no signature.
    Gone,
}

/// The seal of a bag.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SealSeen {
    /// What is known of it.
    pub standing: SealStanding,
    /// The key that signed, as `ssh-keygen -l` shows it.
    pub fingerprint: Option<String>,
    /// Who that is, by the list.
    pub principals: Vec<String>,
    /// The first day of the key's time, by the list.
    pub since: Option<String>,
    /// The last day of the key's time, by the list.
    pub until: Option<String>,
    /// The day of signing, as the bag says; nothing proves it.
    pub said_day: Option<String>,
}

/// Looks at the seal; nothing where there is none.
pub(super) fn look(
    case: &mut Case,
    info: &[(String, String)],
    trusted: Option<&Signers>,
) -> Option<SealSeen> {
    let has = |case: &Case, name: &str| case.holder.find(name).is_some();
    let said_day = info
        .iter()
        .find(|(label, _)| label.eq_ignore_ascii_case("Bagging-Date"))
        .map(|(_, value)| value.clone());
    let mut seen = SealSeen {
        standing: SealStanding::Gone,
        fingerprint: None,
        principals: Vec::new(),
        since: None,
        until: None,
        said_day,
    };
    if !has(case, SIGNATURE_FILE) {
        let keys = has(case, PUBLIC_KEY_FILE) || has(case, SIGNERS_FILE);
        if keys || trusted.is_some() {
            let message = if keys {
                "is missing, though the keys to prove it are there."
            } else {
                "is missing: nobody has sealed this bag."
            };
            let remedy = "Compare the digests with a copy whose seal is there.";
            case.error(Kind::SealGone, SIGNATURE_FILE, message, remedy);
        }
        return keys.then_some(seen);
    }
    let signer = match signed(case) {
        Ok(signer) => signer,
        Err(why) => {
            seen.standing = SealStanding::Broken;
            let remedy = "Something has been changed since it was sealed; take another copy.";
            case.error(Kind::SealBroken, SIGNATURE_FILE, format!("{why}."), remedy);
            return Some(seen);
        }
    };
    seen.fingerprint = Some(signer.fingerprint());
    let own = own_list(case);
    let list = trusted.or(own.as_ref());
    seen.standing = standing(list, &signer, trusted.is_some(), &mut seen);
    let whose = signer.fingerprint();
    match seen.standing {
        SealStanding::Stranger => {
            let message = format!("is by the key {whose}, which is not on the list of signers.");
            let remedy = "Compare the key with the one on the certificate, or give the right list.";
            case.error(Kind::SealStranger, SIGNATURE_FILE, message, remedy);
        }
        SealStanding::OutOfTime => {
            let day = seen.said_day.clone().unwrap_or_default();
            let message = format!("is by the key {whose}, whose time {day} was not.");
            let remedy = "Look whether the key was lost or given up before that day.";
            case.error(Kind::SealOutOfTime, SIGNATURE_FILE, message, remedy);
        }
        _ => {}
    }
    Some(seen)
}

/// The key that signed the tag manifest.
fn signed(case: &Case) -> Result<PublicKey, String> {
    let read = |name: &str, most: u64| {
        let member = case
            .holder
            .find(name)
            .ok_or(format!("there is no {name}"))?;
        let octets = case.holder.read_small(member, most);
        octets.ok_or(format!("{name} can't be read"))
    };
    let signature = String::from_utf8(read(SIGNATURE_FILE, LARGEST)?);
    let signature = signature.map_err(|_| "is no text".to_owned())?;
    verify(&signature, &read(SEALED_FILE, LARGEST_TAG)?).map_err(|e| e.to_string())
}

fn own_list(case: &Case) -> Option<Signers> {
    let octets = case
        .holder
        .read_small(case.holder.find(SIGNERS_FILE)?, LARGEST)?;
    Some(Signers::parse(&String::from_utf8(octets).ok()?).0)
}

fn standing(
    list: Option<&Signers>,
    signer: &PublicKey,
    from_elsewhere: bool,
    seen: &mut SealSeen,
) -> SealStanding {
    let entries: Vec<_> = list.map(|l| l.of(signer).collect()).unwrap_or_default();
    let day = seen.said_day.as_deref().and_then(Moment::of_day);
    // A bag without a day can not be out of time.
    let in_time = entries
        .iter()
        .find(|s| day.is_none_or(|day| s.counts_on(day)));
    let Some(entry) = in_time.or(entries.first()) else {
        return SealStanding::Stranger;
    };
    seen.principals.clone_from(&entry.principals);
    seen.since = entry.after.map(|m| m.to_string());
    seen.until = entry.before.map(|m| m.to_string());
    match (in_time, from_elsewhere) {
        (None, _) => SealStanding::OutOfTime,
        (Some(_), true) => SealStanding::Known,
        (Some(_), false) => SealStanding::SaysOfItself,
    }
}
