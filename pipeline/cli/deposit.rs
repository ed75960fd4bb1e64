//! `offloom deposit`: copies of the bundles in a second place.

use super::Exit;
use super::args::Deposit;
use super::progress;
use super::show::Screen;
use super::stop::Stop;
use crate::audit::find_bags;
use crate::bundle::BundleName;
use crate::deposit::{
    Address, Credentials, DepositError, Manner, Outcome, WEBDAV_PASSWORD, WEBDAV_USER, Watch,
    deposit,
};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

pub(super) fn run(screen: &Screen, asked: &Deposit, stop: &Stop) -> Exit {
    let finished = asked
        .out
        .clone()
        .unwrap_or_else(|| asked.archive.join("finished"));
    let address = match Address::parse(&asked.place) {
        Ok(address) => address,
        Err(error) => return refuse(screen, &error),
    };
    let bundles = match bundles(&finished.join("bundles"), &asked.piece) {
        Ok(bundles) => bundles,
        Err(why) => {
            screen.refuse(&why);
            return Exit::Failed;
        }
    };
    if let Address::Folder(folder) = &address
        && is_same_folder(folder, &finished.join("bundles"))
    {
        screen.refuse(&format!(
            "{address}: that is where the bundles lie already; name a second place"
        ));
        return Exit::Failed;
    }
    let sizes: u64 = bundles
        .iter()
        .filter_map(|b| std::fs::metadata(b).ok())
        .map(|m| m.len())
        .sum();
    let bar = progress::bar(screen, sizes, "depositing");
    let mut told = Told::default();
    let done = deposit(
        &bundles,
        &address,
        &credentials(),
        &finished,
        Manner {
            dry: asked.dry_run,
            reread: asked.reread,
        },
        Watch {
            progress: &|octets| bar.inc(octets),
            cancelled: &|| stop.asked(),
        },
        &mut |path, outcome| bar.suspend(|| told.hear(screen, path, outcome)),
    );
    bar.finish_and_clear();
    told.end(screen, &address, done)
}

fn refuse(screen: &Screen, error: &DepositError) -> Exit {
    screen.refuse(&error.to_string());
    Exit::Failed
}

/// The issued bundles on the shelf, of the pieces asked for.
fn bundles(shelf: &Path, pieces: &[String]) -> Result<Vec<PathBuf>, String> {
    let named = |path: &PathBuf| BundleName::from_file_name(path.file_name()?.to_str()?);
    let all: Vec<PathBuf> = find_bags(shelf)
        .map_err(|_| {
            let shelf = shelf.display();
            format!("{shelf}: there are no bundles yet; `offloom finish` makes them")
        })?
        .into_iter()
        .filter(|path| path.parent() == Some(shelf) && named(path).is_some())
        .collect();
    let slugs: BTreeSet<String> = all
        .iter()
        .filter_map(named)
        .map(|n| n.slug().to_owned())
        .collect();
    let lost: Vec<String> = pieces
        .iter()
        .filter(|piece| !slugs.contains(*piece))
        .map(
            |piece| match crate::read::nearest(piece, slugs.iter().map(String::as_str)) {
                Some(near) => format!("there is no bundle of `{piece}`; did you mean `{near}`?"),
                None => format!("there is no bundle of `{piece}`; `offloom finish` makes it"),
            },
        )
        .collect();
    if !lost.is_empty() {
        return Err(lost.join("\n"));
    }
    if all.is_empty() {
        return Err(format!(
            "{}: there are no bundles yet; `offloom finish` makes them",
            shelf.display()
        ));
    }
    let wanted = |path: &PathBuf| {
        pieces.is_empty() || named(path).is_some_and(|n| pieces.iter().any(|p| p == n.slug()))
    };
    Ok(all.into_iter().filter(wanted).collect())
}

fn is_same_folder(one: &Path, other: &Path) -> bool {
    matches!((one.canonicalize(), other.canonicalize()), (Ok(one), Ok(other)) if one == other)
}

/// What the environment says of the stores. Values that are no text are none of ours.
#[allow(clippy::disallowed_methods)] // The command line is where the environment is read.
fn credentials() -> Credentials {
    std::env::vars_os()
        .filter_map(|(name, value)| Some((name.into_string().ok()?, value.into_string().ok()?)))
        .filter(|(name, value)| {
            let ours = name.starts_with("AWS_") || name == WEBDAV_USER || name == WEBDAV_PASSWORD;
            ours && !value.is_empty()
        })
        .collect()
}

/// What was told of each bundle, for the end.
#[derive(Default)]
struct Told {
    sent: usize,
    there: usize,
    would: usize,
    failed: usize,
    each: Vec<Value>,
}

impl Told {
    fn hear(&mut self, screen: &Screen, path: &Path, outcome: Outcome) {
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let (word, words) = match outcome {
            Outcome::Sent => {
                self.sent += 1;
                ("sent", Some(format!("{name}: sent and read back")))
            }
            Outcome::There { read_back } => {
                self.there += 1;
                let words = read_back.then(|| format!("{name}: is there, read back"));
                (
                    if read_back {
                        "there-read-back"
                    } else {
                        "there"
                    },
                    words,
                )
            }
            Outcome::WouldSend => {
                self.would += 1;
                ("would-send", Some(format!("{name}: would be sent")))
            }
            Outcome::Failed(error) => {
                self.failed += 1;
                self.each.push(
                    json!({ "bundle": name, "outcome": "failed", "error": error.to_string() }),
                );
                screen.fail(&error.to_string());
                return;
            }
        };
        self.each.push(json!({ "bundle": name, "outcome": word }));
        if let Some(words) = words {
            screen.tell(&words);
        }
    }

    fn end(self, screen: &Screen, address: &Address, done: Result<(), DepositError>) -> Exit {
        let stopped = matches!(done, Err(DepositError::Stopped));
        let mut document = json!({ "place": address.to_string(), "bundles": self.each });
        if let Err(error) = &done {
            document["error"] = error.to_string().into();
            if !stopped {
                screen.fail(&error.to_string());
            }
        }
        if screen.json {
            screen.document(&document);
        }
        let counted = [
            (self.sent, "sent"),
            (self.would, "would be sent"),
            (self.there, "there already"),
            (self.failed, "not deposited"),
        ];
        let counted: Vec<String> = counted
            .iter()
            .filter(|(n, _)| *n > 0)
            .map(|(n, what)| format!("{n} {what}"))
            .collect();
        if !counted.is_empty() {
            screen.tell(&format!("{address}: {}", counted.join(", ")));
        }
        match done {
            Err(_) if stopped => Exit::Stopped,
            Err(_) => Exit::Failed,
            Ok(()) if self.failed > 0 => Exit::Findings,
            Ok(()) => Exit::Done,
        }
    }
}
