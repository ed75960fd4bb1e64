//! The papers by name: the files each is written to, whose eyes it is for, and who reads it. What stands on
//! a paper is decided where the paper is made.

/// The circle a paper is made for; it can not see beyond it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Circle {
    /// Anybody.
    Public,
    /// The piece's owner: private ownership and price besides.
    Owner,
    /// The studio alone: costs, hours and notes besides.
    Studio,
}

/// A paper that can be made for a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// Sewn to the back.
    CareLabel,
    /// For the owner.
    Certificate,
    /// For visitors.
    CataloguePage,
    /// For the owner, to live with it.
    OwnerSheet,
    /// For whoever puts it on the wall.
    HangingSheet,
    /// For whoever packs and carries it.
    PackingSheet,
    /// For whoever receives, lends and returns it.
    ConditionSheet,
    /// For the studio alone.
    StudioSheet,
}

impl Paper {
    /// Every paper, in the order in which they are set.
    pub const ALL: &'static [Paper] = &[
        Paper::CareLabel,
        Paper::Certificate,
        Paper::CataloguePage,
        Paper::OwnerSheet,
        Paper::HangingSheet,
        Paper::PackingSheet,
        Paper::ConditionSheet,
        Paper::StudioSheet,
    ];

    /// How they are written in studio.yaml.
    pub const WORDS: &'static [(&'static str, Paper)] = &[
        ("care-label", Paper::CareLabel),
        ("certificate", Paper::Certificate),
        ("catalogue-page", Paper::CataloguePage),
        ("owner-sheet", Paper::OwnerSheet),
        ("hanging-sheet", Paper::HangingSheet),
        ("packing-sheet", Paper::PackingSheet),
        ("condition-sheet", Paper::ConditionSheet),
        ("studio-sheet", Paper::StudioSheet),
    ];

    /// Its name on the command line and in studio.yaml.
    pub fn name(self) -> &'static str {
        Paper::WORDS
            .iter()
            .find(|(_, p)| *p == self)
            .map_or("", |(w, _)| w)
    }

    /// Its files in the piece's output folder. The label comes as a sheet of several, and as one alone.
    pub fn files(self) -> &'static [&'static str] {
        match self {
            Paper::CareLabel => &["care-label.pdf", "care-label-single.pdf"],
            Paper::Certificate => &["certificate.pdf"],
            Paper::CataloguePage => &["catalogue-page.pdf"],
            Paper::OwnerSheet => &["owner-sheet.pdf"],
            Paper::HangingSheet => &["hanging-sheet.pdf"],
            Paper::PackingSheet => &["packing-sheet.pdf"],
            Paper::ConditionSheet => &["condition-sheet.pdf"],
            Paper::StudioSheet => &["studio-sheet.pdf"],
        }
    }

    /// The circle it is made for.
    pub fn circle(self) -> Circle {
        match self {
            Paper::CareLabel | Paper::CataloguePage | Paper::HangingSheet | Paper::PackingSheet => {
                Circle::Public
            }
            Paper::Certificate | Paper::OwnerSheet | Paper::ConditionSheet => Circle::Owner,
            Paper::StudioSheet => Circle::Studio,
        }
    }

    /// Who reads it.
    pub fn reader(self) -> &'static str {
        match self {
            Paper::CareLabel => "whoever cleans the piece",
            Paper::Certificate => "the owner",
            Paper::CataloguePage => "visitors",
            Paper::OwnerSheet => "the owner, who lives with it",
            Paper::HangingSheet => "whoever hangs the piece",
            Paper::PackingSheet => "whoever packs and carries it",
            Paper::ConditionSheet => "the registrar",
            Paper::StudioSheet => "the studio alone",
        }
    }

    /// The paper of a name.
    pub fn named(name: &str) -> Option<Paper> {
        Paper::ALL.iter().copied().find(|p| p.name() == name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_paper_is_found_by_its_name_and_has_a_file_of_its_own() {
        for paper in Paper::ALL {
            assert_eq!(Paper::named(paper.name()), Some(*paper));
            assert_eq!(
                paper.files().first(),
                Some(&&*format!("{}.pdf", paper.name()))
            );
        }
        assert_eq!(Paper::named("certificat"), None);
        let listed: Vec<Paper> = Paper::WORDS.iter().map(|(_, p)| *p).collect();
        assert_eq!(listed, Paper::ALL);
    }
}
