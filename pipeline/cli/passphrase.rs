//! A passphrase: from a file, or asked for on the terminal; never from the command line, where anybody
//! could read it.

use crate::disk;
use std::io::IsTerminal;
use std::path::Path;

/// Octets that a passphrase's file may have.
const LARGEST: u64 = 4096;

/// The first line of the file, which nobody else may read.
pub(super) fn from_file(path: &Path) -> Result<String, String> {
    let text = disk::read_private_limited(path, LARGEST).map_err(|e| e.to_string())?;
    match text.lines().next() {
        Some(line) if !line.is_empty() => Ok(line.to_string()),
        _ => Err(format!(
            "{}: the passphrase is its first line, and that is empty",
            path.display()
        )),
    }
}

/// From the file, or from the terminal; nothing where there is neither.
pub(super) fn given(file: Option<&Path>, what: &str) -> Result<Option<String>, String> {
    if let Some(path) = file {
        return from_file(path).map(Some);
    }
    if !std::io::stdin().is_terminal() {
        return Ok(None);
    }
    let asked = rpassword::prompt_password(format!("{what}: "));
    asked
        .map(Some)
        .map_err(|e| format!("the passphrase could not be read: {e}"))
}

/// A new one, twice the same.
pub(super) fn new(file: Option<&Path>) -> Result<Option<String>, String> {
    let first = given(file, "new passphrase for the key")?;
    if file.is_none() && first.is_some() {
        let again = given(None, "the same once more")?;
        if again != first {
            return Err("the two passphrases differ; nothing was made".to_string());
        }
    }
    Ok(first)
}
