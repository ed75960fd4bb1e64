//! The papers by name: the file each is written to, whose eyes it is for, and who asked for it. What
//! stands on a paper is decided where the paper is made.

/// The circle a paper is made for; it can not see beyond it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Circle {
    /// Anybody.
    Public,
    /// The piece's owner: private ownership and price besides.
    Owner,
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
    /// For whoever puts it on the wall.
    HangingSheet,
    /// For whoever packs and carries it.
    PackingSheet,
    /// For whoever receives, lends and returns it.
    ConditionSheet,
}

impl Paper {
    /// Every paper, in the order in which they are set.
    pub const ALL: &'static [Paper] = &[
        Paper::CareLabel,
        Paper::Certificate,
        Paper::CataloguePage,
        Paper::HangingSheet,
        Paper::PackingSheet,
        Paper::ConditionSheet,
    ];

    /// Its name on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Paper::CareLabel => "care-label",
            Paper::Certificate => "certificate",
            Paper::CataloguePage => "catalogue-page",
            Paper::HangingSheet => "hanging-sheet",
            Paper::PackingSheet => "packing-sheet",
            Paper::ConditionSheet => "condition-sheet",
        }
    }

    /// Its files in the piece's output folder. The label comes as a sheet of several, and as one alone.
    pub fn files(self) -> &'static [&'static str] {
        match self {
            Paper::CareLabel => &["care-label.pdf", "care-label-single.pdf"],
            Paper::Certificate => &["certificate.pdf"],
            Paper::CataloguePage => &["catalogue-page.pdf"],
            Paper::HangingSheet => &["hanging-sheet.pdf"],
            Paper::PackingSheet => &["packing-sheet.pdf"],
            Paper::ConditionSheet => &["condition-sheet.pdf"],
        }
    }

    /// The circle it is made for.
    pub fn circle(self) -> Circle {
        match self {
            Paper::CareLabel | Paper::CataloguePage | Paper::HangingSheet | Paper::PackingSheet => {
                Circle::Public
            }
            Paper::Certificate | Paper::ConditionSheet => Circle::Owner,
        }
    }

    /// Who reads it.
    pub fn reader(self) -> &'static str {
        match self {
            Paper::CareLabel => "whoever cleans the piece",
            Paper::Certificate => "the owner",
            Paper::CataloguePage => "visitors",
            Paper::HangingSheet => "whoever hangs the piece",
            Paper::PackingSheet => "whoever packs and carries it",
            Paper::ConditionSheet => "the registrar",
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
    }
}
