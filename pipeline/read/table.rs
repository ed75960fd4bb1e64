//! Tables as spreadsheets save them: commas, semicolons or tabs between the cells, quotes around some, any ending of
//! lines (RFC 4180, and what is written in spite of it). Every cell keeps its place.

use super::kinds;
use super::values::Desk;
use crate::record::{At, FindingKind, Place};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A cell's text without blanks around it, and its place.
pub(super) type Cell = At<String>;

/// The rows of a table, those without any cell left out.
pub(super) fn rows(desk: &Desk, file: &Arc<str>, text: &str) -> Vec<Vec<Cell>> {
    let (text, told, first) = told_mark(text);
    let mark = told.unwrap_or_else(|| mark_of(text));
    let mut reader = Reader {
        file,
        mark,
        line: first,
        column: 1,
        rows: Vec::new(),
        row: Vec::new(),
    };
    reader.read(desk, text);
    reader.rows
}

/// `sep=;` on the first line, which some spreadsheets write and others hide.
fn told_mark(text: &str) -> (&str, Option<char>, u32) {
    let rest = text
        .strip_prefix("sep=")
        .or_else(|| text.strip_prefix("\"sep="));
    let mark = rest.and_then(|rest| rest.chars().next());
    match (mark, text.split_once('\n')) {
        (Some(mark @ (',' | ';' | '\t')), Some((_, below))) => (below, Some(mark), 2),
        _ => (text, None, 1),
    }
}

/// Lines that are looked at to find the mark.
const LOOKED_AT: usize = 20;

/// What parts the cells: the mark that stands in the first line, and as often in most of the next ones, outside quotes.
fn mark_of(text: &str) -> char {
    let lines = text.split(['\n', '\r']).filter(|l| !l.trim().is_empty());
    let lines: Vec<&str> = lines.take(LOOKED_AT).collect();
    let times = |line: &str, mark: char| {
        let mut quoted = false;
        let counted = line.chars().filter(|c| {
            quoted ^= *c == '"';
            *c == mark && !quoted
        });
        counted.count()
    };
    let score = |mark: char| {
        let first = lines.first().map_or(0, |l| times(l, mark));
        let alike = lines.iter().filter(|l| times(l, mark) == first).count();
        (if first > 0 { alike } else { 0 }, first)
    };
    // The last of equals is a comma.
    let marks = ['\t', ';', ','];
    marks.into_iter().max_by_key(|m| score(*m)).unwrap_or(',')
}

struct Reader<'a> {
    file: &'a Arc<str>,
    mark: char,
    line: u32,
    column: u32,
    rows: Vec<Vec<Cell>>,
    row: Vec<Cell>,
}

impl Reader<'_> {
    fn read(&mut self, desk: &Desk, text: &str) {
        let mut chars = text.chars().peekable();
        let mut cell = String::new();
        let mut begun = (self.line, 1);
        let mut quoted = false;
        while let Some(c) = chars.next() {
            self.column += 1;
            match c {
                '"' if quoted && chars.peek() == Some(&'"') => {
                    chars.next();
                    self.column += 1;
                    cell.push('"');
                }
                '"' if quoted => quoted = false,
                '"' if cell.trim().is_empty() => {
                    quoted = true;
                    begun = (self.line, self.column - 1);
                    cell.clear();
                }
                '\r' | '\n' => {
                    if c == '\r' && chars.peek() == Some(&'\n') {
                        chars.next();
                    }
                    if quoted {
                        cell.push(' ');
                    } else {
                        self.cell(&mut cell, begun);
                        self.end_row();
                    }
                    self.line += 1;
                    self.column = 1;
                    if !quoted {
                        begun = (self.line, 1);
                    }
                }
                c if c == self.mark && !quoted => {
                    self.cell(&mut cell, begun);
                    begun = (self.line, self.column);
                }
                c => {
                    if cell.is_empty() && !quoted && c.is_whitespace() {
                        begun = (self.line, self.column);
                        continue;
                    }
                    cell.push(c);
                }
            }
        }
        if quoted {
            desk.add(kinds::UNREADABLE_VALUE.at(
                &self.place(begun, 1),
                "a quotation mark opens a cell here, and none closes it",
                "close it, or take it away; inside a cell in quotation marks each one is written twice",
            ));
        }
        if !cell.is_empty() || !self.row.is_empty() {
            self.cell(&mut cell, begun);
        }
        self.end_row();
    }

    fn place(&self, (line, column): (u32, u32), length: usize) -> Place {
        Place {
            file: self.file.clone(),
            line,
            column,
            length: u32::try_from(length).unwrap_or(1).max(1),
        }
    }

    fn cell(&mut self, text: &mut String, begun: (u32, u32)) {
        let value = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let place = self.place(begun, value.chars().count());
        self.row.push(At { value, place });
        text.clear();
    }

    fn end_row(&mut self) {
        let row = std::mem::take(&mut self.row);
        if row.len() > 1 || row.iter().any(|cell| !cell.is_empty()) {
            self.rows.push(row);
        }
    }
}

/// Slips of one sort in one column, told once with all their lines: a table of hundreds of lines has the same slip in
/// hundreds of places.
#[derive(Default)]
pub(super) struct Slips(BTreeMap<String, Slip>);

struct Slip {
    kind: FindingKind,
    place: Place,
    message: String,
    remedy: String,
    lines: Vec<u32>,
}

/// Lines that are named one by one.
const MOST_LINES: usize = 12;

impl Slips {
    /// Adds a slip of a sort; the first of each sort is told in full.
    pub fn add(
        &mut self,
        sort: &str,
        kind: FindingKind,
        place: &Place,
        message: String,
        remedy: &str,
    ) {
        let slip = self.0.entry(sort.to_string()).or_insert_with(|| Slip {
            kind,
            place: place.clone(),
            message,
            remedy: remedy.to_string(),
            lines: Vec::new(),
        });
        slip.lines.push(place.line);
    }

    /// Tells them all.
    pub fn tell(self, desk: &Desk) {
        for slip in self.0.into_values() {
            let more = slip.lines.get(1..).unwrap_or_default();
            let message = match more.len() {
                0 => slip.message,
                n => {
                    let named: Vec<String> =
                        more.iter().take(MOST_LINES).map(u32::to_string).collect();
                    let rest = if n > MOST_LINES { ", …" } else { "" };
                    let lines = if n == 1 { "line" } else { "lines" };
                    format!(
                        "{}; likewise in {lines} {}{rest} ({n} more)",
                        slip.message,
                        named.join(", ")
                    )
                }
            };
            desk.add(slip.kind.at(&slip.place, message, slip.remedy));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Vec<Vec<String>> {
        let desk = Desk::default();
        let rows = rows(&desk, &"t.csv".into(), text);
        rows.iter()
            .map(|r| r.iter().map(|c| c.value.clone()).collect())
            .collect()
    }

    #[test]
    fn a_table_is_read_as_a_csv_reader_reads_it() {
        let text = "row,column,maker\r\n1,1,\"Quill, Ada\"\r\n1,2,\"a \"\"b\"\" c\"\n2,1,\n";
        // Source, reference library: the crate csv.
        let wanted: Vec<Vec<String>> = csv::ReaderBuilder::new()
            .has_headers(false)
            .from_reader(text.as_bytes())
            .records()
            .map(|r| r.unwrap().iter().map(str::to_string).collect())
            .collect();
        assert_eq!(read(text), wanted);
    }

    #[test]
    fn semicolons_tabs_and_lone_carriage_returns_are_understood() {
        let wanted = vec![
            vec!["a".to_string(), "b,c".into()],
            vec!["1".into(), "2".into()],
        ];
        assert_eq!(read("a;b,c\r\n1;2\r\n"), wanted);
        assert_eq!(read("a\tb,c\n1\t2"), wanted);
        assert_eq!(read("sep=;\na;b,c\n\n1;2\n"), wanted);
        assert_eq!(read("a;b,c\r1;2\r"), wanted);
    }

    #[test]
    fn every_cell_knows_its_place() {
        let desk = Desk::default();
        let rows = rows(&desk, &"t.csv".into(), "row, column\n1,  2\n");
        let place = |r: usize, c: usize| (rows[r][c].place.line, rows[r][c].place.column);
        assert_eq!(
            (place(0, 1), place(1, 0), place(1, 1)),
            ((1, 6), (2, 1), (2, 5))
        );
    }

    #[test]
    fn a_quotation_mark_that_is_not_closed_is_told() {
        let desk = Desk::default();
        rows(&desk, &"t.csv".into(), "name\n\"Ada\nBen\n");
        let found = desk.into_findings();
        assert_eq!((found.len(), found[0].place.line), (1, 2));
    }
}
