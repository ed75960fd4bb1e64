//! Rows to drafts: each row's cells by the mapping, with every finding, and the files of the folder it becomes.

use super::fields::Field;
use super::head::plain;
use super::mapping::{Column, Mapping};
use super::page::{Line, NOTES, Page, as_yaml, short};
use super::slug::{folded, free, from_title};
use super::values::{self, Bad};
use crate::read::sheet::{Cell, Row, Table};
use crate::read::{kinds, piece_from};
use crate::record::{Finding, Place};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A finding in a cell.
#[derive(Debug, Clone, PartialEq)]
pub struct CellFinding {
    /// What is wrong; its place is row and column of the sheet.
    pub finding: Finding,
    /// The column's letters.
    pub letters: String,
    /// The column's head line.
    pub head: String,
    /// What stands in the cell, on one line.
    pub value: String,
}

/// One row as a piece folder to be.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// The row's number.
    pub row: u32,
    /// The folder's name.
    pub slug: String,
    /// The title, where there is one.
    pub title: Option<String>,
    /// Whether a folder of this name is there already.
    pub there: bool,
    /// The text of piece.yaml.
    pub piece: String,
    /// The text of notes.md.
    pub notes: String,
    /// Photographs named in the row.
    pub photos: Vec<String>,
    /// What is wrong in the row.
    pub findings: Vec<CellFinding>,
    /// What a piece needs and the row does not say.
    pub wanting: Vec<&'static str>,
    /// What reading the draft back found besides what is wanting.
    pub read_back: Vec<Finding>,
}

/// A row that makes no folder.
#[derive(Debug, Clone, PartialEq)]
pub struct Passed {
    /// Its number.
    pub row: u32,
    /// What stands in it.
    pub text: String,
    /// Why.
    pub finding: Finding,
}

/// Every row of a table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Intake {
    /// Rows that make folders, from top to bottom.
    pub drafts: Vec<Draft>,
    /// Rows that do not.
    pub passed: Vec<Passed>,
}

/// Makes a draft of each row below the head lines. `file` is the name of the file for findings, `there` the names of the
/// folders that are there already.
pub fn drafts(table: &Table, mapping: &Mapping, file: &str, there: &BTreeSet<String>) -> Intake {
    let label: Arc<str> = match &mapping.sheet {
        Some(sheet) => format!("{file}, sheet {sheet}").into(),
        None => file.into(),
    };
    let there: BTreeSet<String> = there.iter().map(|name| folded(name)).collect();
    let mut taken = BTreeSet::new();
    let mut out = Intake::default();
    for row in table
        .rows
        .iter()
        .filter(|row| row.number > mapping.head_row)
    {
        let mut desk = Desk::new(&label, row, mapping);
        desk.read();
        if !desk.identified || desk.is_sum() {
            let finding = kinds::MISSING_FIELD.at(
                &desk.place(0),
                "the row has neither title, date nor size, or is a sum: no folder is made of it",
                "give it a title if it is a work; leave it if it is a sum or a remark",
            );
            let text: Vec<String> = row
                .cells
                .iter()
                .map(Cell::text)
                .filter(|t| !t.is_empty())
                .collect();
            out.passed.push(Passed {
                row: row.number,
                text: short(&text.join(" · ")).0,
                finding,
            });
            continue;
        }
        out.drafts.push(desk.draft(&there, &mut taken));
    }
    out
}

/// One row while it is read.
pub(super) struct Desk<'a> {
    label: &'a Arc<str>,
    row: &'a Row,
    pub(super) mapping: &'a Mapping,
    pub(super) page: Page,
    pub(super) kept: Vec<(String, String)>,
    findings: Vec<CellFinding>,
    pub(super) title: Option<String>,
    pub(super) folder: Option<String>,
    pub(super) photos: Vec<String>,
    /// Whether the row says at least what a work is called, when it was made, or how large it is.
    pub(super) identified: bool,
}

impl<'a> Desk<'a> {
    fn new(label: &'a Arc<str>, row: &'a Row, mapping: &'a Mapping) -> Desk<'a> {
        Desk {
            label,
            row,
            mapping,
            page: Page::default(),
            kept: Vec::new(),
            findings: Vec::new(),
            title: None,
            folder: None,
            photos: Vec::new(),
            identified: false,
        }
    }

    /// Whether this is the line of totals that many lists end with.
    fn is_sum(&self) -> bool {
        let sums = [
            "total", "totals", "sum", "summe", "gesamt", "somme", "suma", "yhteensa",
        ];
        let empty = [Line::Made, Line::Height, Line::Width, Line::Technique];
        let title = self.title.as_deref().map(plain).unwrap_or_default();
        sums.contains(&title.as_str()) && empty.iter().all(|line| !self.page.has(*line))
    }

    fn place(&self, column: usize) -> Place {
        Place {
            file: self.label.clone(),
            line: self.row.number,
            column: column as u32 + 1,
            length: 1,
        }
    }

    /// The cell's text; nothing where a dash or the like stands for nothing.
    pub(super) fn said(&self, column: &Column) -> Option<String> {
        let cell = self.row.cell(column.at);
        let text = cell.text();
        let nothing = matches!(text.as_str(), "" | "-" | "–" | "—" | "n/a" | "N/A" | "--");
        (!nothing).then_some(text)
    }

    fn find(&mut self, column: &Column, value: &str, bad: Bad) {
        let mut remedy = bad.remedy;
        if bad.kind == kinds::NO_UNIT {
            let name = column.field.map_or("", Field::name);
            let example = match column.field {
                Some(Field::Mass) => "kg",
                Some(Field::Sett) => "epi",
                Some(Field::Price | Field::Insured) => "GBP",
                _ => "cm",
            };
            let head = &column.head;
            remedy = format!(
                "write the unit into the head line, such as `{head} ({example})`, or say --map '{head}={name} ({example})'"
            );
        }
        let finding =
            crate::read::printable(bad.kind.at(&self.place(column.at), bad.message, remedy));
        self.findings.push(CellFinding {
            finding,
            letters: column.letters.clone(),
            head: column.head.clone(),
            value: short(value).0,
        });
    }

    /// A value that could not be taken: told, left beside its field, and kept whole where the remark can not hold it.
    pub(super) fn spoil(&mut self, column: &Column, at: Line, name: &str, value: &str, bad: Bad) {
        self.find(column, value, bad);
        self.page.remark(at, name, value);
        if !short(value).1 {
            self.kept.push((column.head.clone(), value.to_string()));
        }
    }

    /// The first column of a field that says something.
    pub(super) fn one(&self, field: Field) -> Option<(Column, String)> {
        let mut all = self.mapping.of(field);
        all.find_map(|column| Some((column.clone(), self.said(column)?)))
    }

    /// The field's value by `parse`; a bad one is told and left as a remark.
    pub(super) fn take(
        &mut self,
        field: Field,
        at: Line,
        parse: impl Fn(&str, &Column) -> Result<String, Bad>,
    ) -> Option<String> {
        let (column, text) = self.one(field)?;
        self.identified |= matches!(
            field,
            Field::Title | Field::Made | Field::Height | Field::Width
        );
        if let Cell::Fault(what) = self.row.cell(column.at) {
            let bad = Bad::unreadable(format!("the cell holds {what}"), "write the value itself");
            self.spoil(&column, at, field.name(), &text, bad);
            return None;
        }
        match parse(&text, &column) {
            Ok(value) => Some(value),
            Err(bad) => {
                self.spoil(&column, at, field.name(), &text, bad);
                None
            }
        }
    }

    pub(super) fn line(&mut self, field: Field, at: Line, indent: &str, name: &str) -> bool {
        let value = self.take(field, at, |text, _| values::text(text));
        let found = value.is_some();
        if let Some(value) = value {
            self.page
                .put(at, format!("{indent}{name}: {}", as_yaml(&value)));
        }
        found
    }

    fn draft(mut self, there: &BTreeSet<String>, taken: &mut BTreeSet<String>) -> Draft {
        let row = self.row.number;
        if self.title.is_none() {
            let column = self.mapping.of(Field::Title).next().cloned();
            let untold = self
                .findings
                .iter()
                .all(|f| Some(&f.letters) != column.as_ref().map(|c| &c.letters));
            if let Some(column) = column.filter(|_| untold) {
                self.find(
                    &column,
                    "",
                    Bad {
                        kind: kinds::MISSING_FIELD,
                        message: "the row has no title".to_string(),
                        remedy: "write one into its piece.yaml; the folder is named after the row"
                            .to_string(),
                    },
                );
            }
        }
        let name = self.folder.clone();
        let name = name.or_else(|| from_title(self.title.as_deref()?));
        let slug = free(&name.unwrap_or_else(|| format!("row-{row}")), taken);
        let wanting = [
            (Line::Title, "title"),
            (Line::Made, "made"),
            (Line::WarpFibre, "warp fibre"),
            (Line::WeftFibre, "weft fibre"),
            (Line::Height, "height"),
            (Line::Width, "width"),
        ];
        let wanting = wanting.iter().filter(|(line, _)| !self.page.has(*line));
        let wanting = wanting.map(|(_, name)| *name).collect();
        let piece = self.page.render();
        let file: Arc<str> = format!("pieces/{slug}/piece.yaml").into();
        let (_, mut read_back) = piece_from(&slug, &file, &piece);
        read_back.retain(|f| f.kind != kinds::MISSING_FIELD);
        Draft {
            row,
            there: there.contains(&folded(&slug)),
            title: self.title,
            piece,
            notes: notes(self.label, row, &self.kept),
            photos: self.photos,
            findings: self.findings,
            wanting,
            read_back,
            slug,
        }
    }
}

/// The text of notes.md: what no field holds stands quoted, so that nothing in it is taken for a day's entry.
fn notes(label: &str, row: u32, kept: &[(String, String)]) -> String {
    if kept.is_empty() {
        return NOTES.to_string();
    }
    let mut out = format!("{}\n## From {label}, row {row}\n\n", NOTES.trim_end());
    for (at, (head, text)) in kept.iter().enumerate() {
        if at > 0 {
            out.push_str(">\n");
        }
        let mut lines = text.lines();
        out.push_str(&format!(
            "> {head}: {}\n",
            lines.next().unwrap_or("").trim()
        ));
        for line in lines {
            out.push_str(format!("> {}", line.trim_end()).trim_end());
            out.push('\n');
        }
    }
    out
}
