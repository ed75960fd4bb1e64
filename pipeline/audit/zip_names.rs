//! What one entry of a zip may be called and may be: names that lead out, links, encryption, unknown
//! compression, and sizes beyond measure.

use super::verdict::{Fault, Kind};
use super::zip_layout::EntryKind;
use super::zip_records::{
    Central, Common, FLAG_DESCRIPTOR, FLAG_UTF8, FLAGS_ENCRYPTED, FLAGS_KNOWN, extra_field,
    extra_is_whole,
};
use crate::bag::check_path;

/// Stored as it is.
pub(super) const STORED: u16 = 0;
/// Compressed with Deflate.
pub(super) const DEFLATED: u16 = 8;

/// The extra field that holds a second, UTF-8 name (Info-ZIP's Unicode path field).
const SECOND_NAME: u16 = 0x7075;

/// A file that swells to more than this many times its packed size …
const STEEPEST: u64 = 200;
/// … and to more octets than this is not unpacked. Photographs and papers come nowhere near.
const SWOLLEN: u64 = 64 * 1024 * 1024;

const KIND_BITS: u32 = 0o170_000;
const OUT: &str = "Do not unpack this zip; ask for a clean copy.";

/// The name of an entry without a closing `/`, with faults about it.
pub(super) fn entry_name(common: &Common, faults: &mut Vec<Fault>) -> String {
    let lossy = String::from_utf8_lossy(&common.name).into_owned();
    let name = lossy.strip_suffix('/').unwrap_or(&lossy).to_owned();
    let mut bad = |message: String| {
        faults.push(Fault::error(Kind::ZipName, printable(&name), message, OUT));
    };
    if let Err(danger) = check_path(&name) {
        bad(format!("is a name in the zip that {danger}."));
    } else if name.contains('\\') {
        bad("is a name in the zip with a backslash, which some systems take for a folder.".into());
    }
    match std::str::from_utf8(&common.name) {
        Err(_) => bad("is a name in the zip that is not UTF-8 text.".into()),
        Ok(text) if !text.is_ascii() && common.flags & FLAG_UTF8 == 0 => {
            let message = "is a name in the zip that is not marked as UTF-8.";
            let remedy = "Other programs may show the name with wrong letters.";
            faults.push(Fault::warning(Kind::ZipName, &name, message, remedy));
        }
        Ok(_) => {}
    }
    // Version and CRC of the other name come first: 5 octets.
    if let Some(second) = extra_field(&common.extra, SECOND_NAME).and_then(|field| field.get(5..))
        && second != common.name.as_slice()
    {
        let message = format!(
            "has a second name in the zip, `{}`.",
            printable(&String::from_utf8_lossy(second))
        );
        faults.push(Fault::error(Kind::ZipName, printable(&name), message, OUT));
    }
    name
}

/// A name that can be shown on a terminal.
fn printable(name: &str) -> String {
    name.chars()
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect()
}

/// Plain file, folder, link or something else.
pub(super) fn entry_kind(header: &Central) -> EntryKind {
    let unix = matches!(header.made_by >> 8, 3 | 19);
    let mode = header.external >> 16;
    match mode & KIND_BITS {
        0o120_000 if unix => EntryKind::Link,
        0o040_000 if unix => EntryKind::Folder,
        0 | 0o100_000 if header.common.name.ends_with(b"/") => EntryKind::Folder,
        0 | 0o100_000 => EntryKind::File,
        _ if unix => EntryKind::Special,
        _ => EntryKind::File,
    }
}

/// Looks at one entry by itself; false when it can't be read.
pub(super) fn look_at_entry(header: &Central, name: &str, faults: &mut Vec<Fault>) -> bool {
    let common = &header.common;
    let shown = printable(name);
    oddities(header, &shown, faults);
    if common.flags & FLAGS_ENCRYPTED != 0 {
        let message = "is encrypted in the zip.";
        let remedy = "An archive must be readable without a secret; ask for an open copy.";
        faults.push(Fault::error(Kind::ZipEncrypted, shown, message, remedy));
        return false;
    }
    let folder = common.name.ends_with(b"/");
    if folder && common.size > 0 {
        let message = "is a folder in the zip, and yet it holds octets.";
        faults.push(Fault::error(Kind::ZipRecord, &shown, message, OUT));
    }
    match common.method {
        STORED if common.size != common.compressed => {
            let message = "is stored in the zip with two sizes that differ.";
            faults.push(Fault::error(Kind::ZipRecord, shown, message, OUT));
            return false;
        }
        STORED | DEFLATED => {}
        other => {
            let message = format!("is compressed by method {other}, which is not read here.");
            let remedy = "Unpack it with another program and audit the folder.";
            faults.push(Fault::error(Kind::ZipMethod, shown, message, remedy));
            return false;
        }
    }
    if common.size > SWOLLEN && common.size / common.compressed.max(1) > STEEPEST {
        let message = format!(
            "would swell from {} to {} octets and has not been unpacked.",
            common.compressed, common.size
        );
        faults.push(Fault::error(Kind::ZipSwelling, shown, message, OUT));
        return false;
    }
    true
}

/// What no sound program writes. The octets of the file are not touched by it.
fn oddities(header: &Central, shown: &str, faults: &mut Vec<Fault>) {
    let common = &header.common;
    let mode = header.external >> 16;
    let attributes = header.external & 0xffff;
    let unix = matches!(header.made_by >> 8, 3 | 19);
    let mut odd = Vec::new();
    if common.flags & !(FLAGS_KNOWN | FLAGS_ENCRYPTED | FLAG_DESCRIPTOR) != 0 {
        odd.push("flags without a meaning");
    }
    if header.disk != 0 {
        odd.push("another disk");
    }
    if header.made_by >> 8 > 30 || header.made_by & 0xff > 99 || common.needed & 0xff > 99 {
        odd.push("a version or system that does not exist");
    }
    if header.internal & !3 != 0 || attributes & !0x3f != 0 {
        odd.push("attributes without a meaning");
    }
    if unix && mode & KIND_BITS == 0o100_000 && (mode & 0o7002 != 0 || mode & 0o400 == 0) {
        odd.push("permissions that let anyone change it, or its owner not read it");
    }
    if attributes & 0x10 != 0 && !common.name.ends_with(b"/") {
        odd.push("the mark of a folder");
    }
    if !extra_is_whole(&common.extra) {
        odd.push("a broken extra field");
    }
    if !odd.is_empty() {
        let message = format!("has in its zip header: {}.", odd.join(", "));
        let remedy = "The octets are not touched by it; compare with another copy all the same.";
        faults.push(Fault::warning(Kind::ZipRecord, shown, message, remedy));
    }
}
