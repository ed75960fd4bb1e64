//! The names of bundles: `<slug>.r<N>.zip` and `<slug>.r<N>.owner.zip`.

use std::fmt;

use crate::bag::{check_path, unportable};

/// For whom a bundle is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edition {
    /// The studio's own: everything.
    Studio,
    /// The owner's: without the studio's private facts.
    Owner,
}

/// A name that no bundle can have.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("`{name}` can't be the name of a bundle: it {why}. Give the piece's folder another name.")]
pub struct BadName {
    name: String,
    why: String,
}

/// Which bundle: of which piece, which revision, for whom.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct BundleName {
    slug: String,
    revision: u32,
    edition: Edition,
}

impl BundleName {
    /// The name of a revision, counted from 1, of the piece in the folder `slug`.
    pub fn new(slug: &str, revision: u32, edition: Edition) -> Result<Self, BadName> {
        let bad = |why: &str| BadName {
            name: slug.to_owned(),
            why: why.to_owned(),
        };
        if let Err(danger) = check_path(slug) {
            return Err(bad(&danger.to_string()));
        }
        if slug.contains('/') {
            return Err(bad("holds a slash"));
        }
        let name = Self {
            slug: slug.to_owned(),
            revision,
            edition,
        };
        if let Some(why) = unportable(slug).or_else(|| unportable(&name.file_name())) {
            return Err(bad(why));
        }
        if slug.starts_with('.') {
            return Err(bad("begins with a dot, so that it would be hidden"));
        }
        if revision == 0 {
            return Err(bad("has the revision 0, and revisions are counted from 1"));
        }
        Ok(name)
    }

    /// The name that a file name stands for; nothing when it is none of a bundle's.
    pub fn from_file_name(file_name: &str) -> Option<Self> {
        let stem = file_name.strip_suffix(".zip")?;
        let (stem, edition) = match stem.strip_suffix(".owner") {
            Some(stem) => (stem, Edition::Owner),
            None => (stem, Edition::Studio),
        };
        let (slug, revision) = stem.rsplit_once(".r")?;
        let plain = !revision.starts_with('0') && revision.bytes().all(|o| o.is_ascii_digit());
        if !plain {
            return None;
        }
        Self::new(slug, revision.parse().ok()?, edition).ok()
    }

    /// The piece's folder name.
    pub fn slug(&self) -> &str {
        &self.slug
    }

    /// Counted from 1.
    pub fn revision(&self) -> u32 {
        self.revision
    }

    /// For whom.
    pub fn edition(&self) -> Edition {
        self.edition
    }

    /// The file's name.
    pub fn file_name(&self) -> String {
        format!("{self}.zip")
    }
}

/// The file's name without `.zip`, which is also the one folder at the top of the zip.
impl fmt::Display for BundleName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.r{}", self.slug, self.revision)?;
        match self.edition {
            Edition::Studio => Ok(()),
            Edition::Owner => f.write_str(".owner"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bundle_is_known_by_its_file_name() {
        for (file, slug, revision, edition) in [
            ("tide-tables.r1.zip", "tide-tables", 1, Edition::Studio),
            (
                "tide-tables.r12.owner.zip",
                "tide-tables",
                12,
                Edition::Owner,
            ),
            ("a.r1.r2.zip", "a.r1", 2, Edition::Studio),
            ("a.owner.r2.zip", "a.owner", 2, Edition::Studio),
            (
                "Ebbe und Flöte.r3.zip",
                "Ebbe und Flöte",
                3,
                Edition::Studio,
            ),
        ] {
            let name = BundleName::from_file_name(file).unwrap();
            assert_eq!(
                (name.slug(), name.revision(), name.edition()),
                (slug, revision, edition)
            );
            assert_eq!(name.file_name(), file);
        }
        for file in [
            "tide.zip",
            "tide.r0.zip",
            "tide.r01.zip",
            "tide.r.zip",
            "tide.r1",
            ".r1.zip",
        ] {
            assert_eq!(BundleName::from_file_name(file), None, "{file}");
        }
        for file in [
            "tide.r1.ZIP",
            "tide.r-1.zip",
            "tide.r99999999999.zip",
            "tide.r1.other.zip",
        ] {
            assert_eq!(BundleName::from_file_name(file), None, "{file}");
        }
    }

    #[test]
    fn a_slug_that_leads_out_of_the_folder_is_refused() {
        for slug in [
            "",
            "..",
            "../a",
            "a/b",
            "a\\b",
            "~a",
            ".a",
            "con:",
            "a\nb",
            &"x".repeat(250),
        ] {
            assert!(
                BundleName::new(slug, 1, Edition::Studio).is_err(),
                "{slug:?}"
            );
        }
        assert!(BundleName::new("a", 0, Edition::Studio).is_err());
    }
}
