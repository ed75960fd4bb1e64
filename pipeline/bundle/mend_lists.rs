//! What a damaged bundle ought to hold, by the lists that can still be relied on.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use crate::audit::{Fault, OpenBag, SealStanding, Verdict, listed_in};
use crate::bag::{
    Algorithm, DECLARATION_FILE, INFO_FILE, ManifestKind, PAYLOAD, check_path, lines,
    manifest_kind, parse_manifest_line, print_manifest,
};
use crate::disk::Digests;
use crate::seal::{SEALED_FILE, SIGNATURE_FILE, verify};

/// Octets a list may have.
const LARGEST: u64 = 256 * 1024 * 1024;

/// A file that belongs into the bundle.
#[derive(Debug)]
pub(super) struct Need {
    /// Its path in the bag.
    pub(super) path: String,
    /// The checksums it must have.
    pub(super) wanted: BTreeSet<(Algorithm, String)>,
}

/// The lists of a bundle.
pub(super) struct Lists {
    needs: Vec<Need>,
    /// The folder that everything lies in.
    top: String,
    /// The tag manifest that is relied on.
    tag_manifest: (String, Vec<u8>),
    /// The signatures that the copies have.
    signatures: Vec<Vec<u8>>,
}

type Listed = BTreeMap<String, BTreeSet<(Algorithm, String)>>;

impl Lists {
    /// Chooses the tag manifest to rely on: a sealed one first, and otherwise the one most of whose lines some
    /// copy bears out; nothing when there is none.
    pub(super) fn choose(
        damaged: &Verdict,
        judged: &[Verdict],
        bags: &[PathBuf],
        own: &OpenBag,
    ) -> Option<Self> {
        let said = whatever_is_listed(own);
        // Two studios may have given one name to two bundles, so most of what it lists must be listed here too.
        let is_same = |lists: &Self| {
            let all = lists.needs.iter().flat_map(|need| &need.wanted);
            let shared = all.clone().filter(|wanted| said.contains(wanted)).count();
            said.is_empty() || shared * 2 >= all.count()
        };
        let is_copy = |bag: &OpenBag, path: &Path| {
            bag.top() == own.top() || path.file_name() == damaged.path.file_name()
        };
        let mut best: Option<((bool, bool, usize, bool), Self)> = None;
        let copies =
            std::iter::once(damaged).chain(judged.iter().filter(|v| v.path != damaged.path));
        for copy in copies {
            let Ok(bag) = OpenBag::open(&copy.path) else {
                continue;
            };
            if !is_copy(&bag, &copy.path) {
                continue;
            }
            let sealed = copy.seal.as_ref().is_some_and(|seal| {
                !matches!(seal.standing, SealStanding::Broken | SealStanding::Gone)
            });
            for root in bag.files().filter(|file| is_tag_manifest(file)) {
                let sealed = sealed && root == SEALED_FILE;
                let Some((lists, borne_out)) = Self::from_root(&bag, root, bags) else {
                    continue;
                };
                let unharmed = !copy.errors().any(|f: &Fault| f.file == root);
                let sure = copy.path == damaged.path && (sealed || unharmed);
                if !is_same(&lists) {
                    continue;
                }
                let rank = (sure, sealed, borne_out, unharmed);
                if best.as_ref().is_none_or(|(before, _)| rank > *before) {
                    best = Some((rank, lists));
                }
            }
        }
        let (_, mut lists) = best?;
        let copies = std::iter::once(damaged)
            .chain(judged)
            .filter_map(|v| Some((OpenBag::open(&v.path).ok()?, &v.path)));
        lists.signatures = copies
            .filter(|(bag, path)| is_copy(bag, path))
            .filter_map(|(bag, _)| bag.small(SIGNATURE_FILE, LARGEST))
            .collect();
        Some(lists)
    }

    fn from_root(bag: &OpenBag, root: &str, bags: &[PathBuf]) -> Option<(Self, usize)> {
        let text = bag.small(root, LARGEST)?;
        let mut listed = Listed::new();
        read(root, &text, &mut listed)?;
        let wanted: BTreeSet<_> = listed.values().flatten().cloned().collect();
        let places = listed_in(bags, &wanted);
        let mut borne_out = places.values().filter(|places| !places.is_empty()).count();
        // The payload manifests, from whichever copy has the right one.
        for (path, checksums) in listed.clone() {
            if !matches!(manifest_kind(&path), Some(ManifestKind::Payload(_))) {
                continue;
            }
            let own = crate::audit::Elsewhere {
                bag: PathBuf::new(),
                file: path.clone(),
            };
            let others = checksums.iter().filter_map(|wanted| places.get(wanted));
            let text = std::iter::once(&own)
                .chain(others.flatten())
                .filter_map(|place| {
                    if place.bag.as_os_str().is_empty() {
                        bag.small(&path, LARGEST)
                    } else {
                        OpenBag::open(&place.bag).ok()?.small(&place.file, LARGEST)
                    }
                })
                .find(|octets| has_checksums(octets, &checksums));
            if let Some(text) = text {
                read(&path, &text, &mut listed)?;
                borne_out += 1;
            }
        }
        if !listed.keys().any(|path| path.starts_with(PAYLOAD)) {
            return None;
        }
        let mut needs: Vec<Need> = listed
            .into_iter()
            .map(|(path, wanted)| Need { path, wanted })
            .collect();
        needs.sort_by(|a, b| order(&a.path).cmp(&order(&b.path)));
        let lists = Self {
            needs,
            top: bag.top().to_owned(),
            tag_manifest: (root.to_owned(), text),
            signatures: Vec::new(),
        };
        Some((lists, borne_out))
    }

    /// The name of the bundle's folder.
    pub(super) fn top(&self) -> &str {
        &self.top
    }

    /// Every file but the tag manifests, in the order in which a bundle holds them.
    pub(super) fn files(&self) -> &[Need] {
        &self.needs
    }

    /// Every checksum that is needed.
    pub(super) fn wanted(&self) -> BTreeSet<(Algorithm, String)> {
        let all = self.needs.iter().flat_map(|need| &need.wanted);
        all.cloned().collect()
    }

    /// Whether a lost payload manifest can be made from the payload. That it came out right is seen when the
    /// new bundle is judged: the tag manifest has its checksum.
    pub(super) fn can_be_made(&self, need: &Need) -> bool {
        matches!(
            need.path.as_str(),
            "manifest-sha256.txt" | "manifest-sha512.txt"
        )
    }

    /// The tag manifests for the files that were written: in a bundle of this program all of them, made anew (the
    /// one relied on comes out as it is), and else the one relied on.
    pub(super) fn tag_manifests(&self, written: &[(Digests, String)]) -> Vec<(String, Vec<u8>)> {
        let mut tags: Vec<&(Digests, String)> = written
            .iter()
            .filter(|(_, path)| !path.starts_with(PAYLOAD))
            .collect();
        tags.sort_by(|a, b| a.1.as_bytes().cmp(b.1.as_bytes()));
        let made = |name: &str| {
            let hex: fn(&Digests) -> String = match name {
                "tagmanifest-sha256.txt" => |d| d.sha256.to_string(),
                "tagmanifest-sha512.txt" => |d| d.sha512.to_string(),
                _ => return None,
            };
            let lines = tags.iter().map(|(d, path)| (hex(d), path.as_str()));
            Some(print_manifest(lines).into_bytes())
        };
        let (root, text) = &self.tag_manifest;
        let ours = made(root).as_ref() == Some(text);
        if !ours {
            return vec![(root.clone(), text.clone())];
        }
        // This program gives each payload manifest a tag manifest of its kind.
        let payload = tags
            .iter()
            .filter_map(|(_, path)| match manifest_kind(path) {
                Some(ManifestKind::Payload(_)) => Some(format!("tag{path}")),
                _ => None,
            });
        let mut all: Vec<(String, Vec<u8>)> = payload
            .filter_map(|name| made(&name).map(|made| (name, made)))
            .collect();
        all.sort();
        all
    }

    /// The signature that fits the tag manifests; nothing where no copy has one, an error where none fits.
    pub(super) fn signature(
        &self,
        tag_manifests: &[(String, Vec<u8>)],
    ) -> Result<Option<&[u8]>, ()> {
        if self.signatures.is_empty() {
            return Ok(None);
        }
        let sealed = tag_manifests.iter().find(|(name, _)| name == SEALED_FILE);
        let (_, sealed) = sealed.ok_or(())?;
        let fits = |signature: &&Vec<u8>| {
            std::str::from_utf8(signature).is_ok_and(|text| verify(text, sealed).is_ok())
        };
        let fitting = self.signatures.iter().find(fits).ok_or(())?;
        Ok(Some(fitting))
    }
}

/// Every checksum that some list of a bag names, whatever state the list is in.
fn whatever_is_listed(bag: &OpenBag) -> BTreeSet<(Algorithm, String)> {
    let mut said = BTreeSet::new();
    for file in bag.files() {
        let Some(algorithm) = manifest_kind(file).and_then(|kind| kind.algorithm()) else {
            continue;
        };
        let text = bag.small(file, LARGEST).unwrap_or_default();
        for (_, line) in lines(&String::from_utf8_lossy(&text)) {
            if let Ok(read) = parse_manifest_line(line, Some(algorithm.hex_digits())) {
                said.insert((algorithm, read.checksum.to_lowercase()));
            }
        }
    }
    said
}

/// Adds the lines of a manifest; nothing when it has a line that is none, or a path that leads out.
fn read(name: &str, text: &[u8], listed: &mut Listed) -> Option<()> {
    let algorithm = manifest_kind(name)?.algorithm()?;
    let text = std::str::from_utf8(text).ok()?;
    for (_, line) in lines(text) {
        let read = parse_manifest_line(line, Some(algorithm.hex_digits())).ok()?;
        check_path(&read.path).ok()?;
        let checksum = (algorithm, read.checksum.to_lowercase());
        listed.entry(read.path).or_default().insert(checksum);
    }
    Some(())
}

fn has_checksums(octets: &[u8], checksums: &BTreeSet<(Algorithm, String)>) -> bool {
    let algorithms = checksums.iter().map(|(algorithm, _)| *algorithm).collect();
    let mut hashes = crate::bag::Hashes::new(&algorithms);
    hashes.update(octets);
    let found = hashes.finish();
    checksums
        .iter()
        .all(|(algorithm, checksum)| found.get(algorithm) == Some(checksum))
}

fn is_tag_manifest(file: &str) -> bool {
    matches!(manifest_kind(file), Some(ManifestKind::Tag(_)))
}

/// Where a file stands in a bundle: declaration, metadata, other tags, payload, manifests.
fn order(path: &str) -> (u8, &str) {
    let group = match path {
        DECLARATION_FILE => 0,
        INFO_FILE => 1,
        _ if manifest_kind(path).is_some() => 4,
        _ if path.starts_with(PAYLOAD) => 3,
        _ => 2,
    };
    (group, path)
}
