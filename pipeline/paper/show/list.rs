//! A paper that is a list: heads, tables, sums, lines to sign on. Five of a show's papers are lists.

use super::ShowWords;
use super::{Pile, ShowView, named, term, under};
use crate::paper::common::Common;
use crate::paper::said::Said;
use crate::paper::words::Words;
use crate::paper::{PaperError, Press, Sheet};
use serde::Serialize;

/// A list.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct ListPaper {
    pub(in crate::paper) common: Common,
    pub(in crate::paper) name: Said,
    pub(in crate::paper) title: String,
    pub(in crate::paper) under: Vec<Said>,
    /// Whether the sheet lies on its side.
    pub(in crate::paper) wide: bool,
    /// Whether each section has a sheet of its own.
    pub(in crate::paper) apart: bool,
    pub(in crate::paper) cautions: Vec<Said>,
    pub(in crate::paper) sections: Vec<Section>,
    pub(in crate::paper) notes: Vec<Said>,
    /// What is written on a line that is signed: the name, the day.
    pub(in crate::paper) signing: (Said, Said),
}

/// A part of a list with a head of its own.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct Section {
    pub head: Option<Said>,
    pub table: Option<Table>,
    pub sums: Vec<Said>,
    /// What holds for this section.
    pub terms: Vec<Said>,
    /// What is signed: a line for a name and one for a day behind each.
    pub signed: Vec<Said>,
}

/// A table.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct Table {
    pub heads: Vec<Said>,
    /// Shares of the width; nothing for as wide as what stands in it.
    pub widths: Vec<f64>,
    /// Whether a column is set to the right.
    pub right: Vec<bool>,
    /// Cells of one line or several each.
    pub rows: Vec<Vec<Vec<Said>>>,
}

/// A column of a table: its head, its share of the width, whether it is set to the right.
pub(super) type Column<'a> = (&'a dyn Fn(&ShowWords) -> &String, f64, bool);

impl Table {
    /// A table without rows.
    pub fn with(tongues: &[&Words], columns: &[Column]) -> Table {
        Table {
            heads: columns.iter().map(|c| term(tongues, c.0)).collect(),
            widths: columns.iter().map(|c| c.1).collect(),
            right: columns.iter().map(|c| c.2).collect(),
            rows: Vec::new(),
        }
    }
}

/// What a list holds besides its head.
#[derive(Debug, Default)]
pub(super) struct Listed {
    pub wide: bool,
    pub apart: bool,
    pub cautions: Vec<Said>,
    pub sections: Vec<Section>,
    pub notes: Vec<Said>,
}

impl Press {
    /// Sets a list.
    pub(super) fn list_paper(
        &self,
        show: &ShowView,
        kind: &str,
        name: impl Fn(&ShowWords) -> &String,
        listed: Listed,
    ) -> Result<Sheet, PaperError> {
        let tongues = self.tongues(show);
        let data = ListPaper {
            common: Common::of_show(show, &tongues, &named(&tongues, &name)),
            name: term(&tongues, &name),
            title: show.title.clone(),
            under: under(show, &tongues),
            wide: listed.wide,
            apart: listed.apart,
            signing: (
                term(&tongues, |w| &w.lists.signed_name),
                term(&tongues, |w| &w.lists.signed_day),
            ),
            cautions: listed.cautions,
            sections: listed.sections,
            notes: listed.notes,
        };
        self.set_of_show(show, kind, "/show-list.typ", &data, Pile::default())
    }
}

/// The number and the title of a piece, with who made it where that is not the studio's weaver alone.
pub(super) fn numbered(number: usize) -> Vec<Said> {
    vec![Said::own(number.to_string())]
}
