//! Tables from spreadsheets: rows of cells as they were written, from delimited text and from workbooks. What a
//! column means is not decided here.

mod book;
mod delimited;
mod encoding;

use crate::disk::{self, DiskError};
use std::path::Path;

/// The largest file that is read. A list of 10,000 works with long texts is under a tenth of it.
const LARGEST_SHEET: u64 = 64 * 1024 * 1024;
/// Rows beyond which a table is no list of works.
const MOST_ROWS: usize = 50_000;
/// Columns beyond which a table is no list of works.
const MOST_COLUMNS: usize = 500;

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Cell {
    /// Nothing.
    #[default]
    Empty,
    /// Text, trimmed, its line ends as `\n`, without other control characters.
    Text(String),
    /// A number, from a workbook.
    Number(f64),
    /// A day, from a workbook's date cell: year, month, day.
    Day(i32, u8, u8),
    /// A month, from a date cell that shows no day: year, month.
    Month(i32, u8),
    /// A year, from a date cell that shows neither.
    Year(i32),
    /// Something without a value, and what it is.
    Fault(&'static str),
}

impl Cell {
    /// A cell of text; blanks alone are nothing.
    pub fn of_text(text: &str) -> Cell {
        match cleaned(text) {
            text if text.is_empty() => Cell::Empty,
            text => Cell::Text(text),
        }
    }

    /// What stands there, as text. Numbers have at most six decimals: what a formula leaves behind them is no
    /// measure of anything.
    pub fn text(&self) -> String {
        match self {
            Cell::Empty => String::new(),
            Cell::Text(text) => text.clone(),
            Cell::Number(number) => {
                let text = format!("{number:.6}");
                match text.trim_end_matches('0').trim_end_matches('.') {
                    "-0" => "0".to_string(),
                    text => text.to_string(),
                }
            }
            Cell::Day(year, month, day) => format!("{year:04}-{month:02}-{day:02}"),
            Cell::Month(year, month) => format!("{year:04}-{month:02}"),
            Cell::Year(year) => format!("{year:04}"),
            Cell::Fault(what) => format!("({what})"),
        }
    }

    /// Whether there is nothing.
    pub fn is_empty(&self) -> bool {
        matches!(self, Cell::Empty)
    }
}

/// One row.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Row {
    /// Its number as a spreadsheet program counts, from 1.
    pub number: u32,
    /// Its cells from column A on; what is missing at the end is empty.
    pub cells: Vec<Cell>,
}

impl Row {
    /// The cell of a column, counted from 0.
    pub fn cell(&self, column: usize) -> &Cell {
        self.cells.get(column).unwrap_or(&Cell::Empty)
    }
}

/// One table with every row that holds something.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// The sheet's name, in a workbook.
    pub sheet: Option<String>,
    /// The rows from top to bottom.
    pub rows: Vec<Row>,
}

/// A file of tables.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tables {
    /// How it was read, in words: `semicolons between the columns, Windows-1252`.
    pub how: String,
    /// Its tables in the order of the sheets; hidden ones are left out.
    pub tables: Vec<Table>,
}

/// Why a file of tables can not be read.
#[derive(Debug, thiserror::Error)]
pub enum SheetError {
    /// The disk's word.
    #[error("{0}")]
    Disk(#[from] DiskError),
    /// It is not a table that is read here.
    #[error("{0}")]
    NotRead(String),
}

/// Reads a file of tables: a workbook (xlsx, ods) by its content, anything else as delimited text.
pub fn read_tables(path: &Path) -> Result<Tables, SheetError> {
    let octets = disk::read_limited(path, LARGEST_SHEET)?;
    tables_from(&octets).map_err(|why| SheetError::NotRead(format!("{}: {why}", path.display())))
}

/// As [`read_tables`], of octets; in the error, why not.
pub fn tables_from(octets: &[u8]) -> Result<Tables, String> {
    let mut tables = match octets {
        [b'P', b'K', 3, 4, ..] => book::read(octets)?,
        [0xD0, 0xCF, 0x11, 0xE0, ..] => {
            return Err(
                "this is an old workbook (xls): save it as xlsx, ods or csv and name that file"
                    .to_string(),
            );
        }
        [b'%', b'P', b'D', b'F', ..] => {
            return Err("this is a PDF: save the sheet itself as xlsx, ods or csv".to_string());
        }
        _ => delimited::read(octets)?,
    };
    for table in &mut tables.tables {
        for row in &mut table.rows {
            while row.cells.last().is_some_and(Cell::is_empty) {
                row.cells.pop();
            }
        }
        table.rows.retain(|row| !row.cells.is_empty());
        check_extent(table)?;
    }
    tables.tables.retain(|table| !table.rows.is_empty());
    Ok(tables)
}

fn check_extent(table: &Table) -> Result<(), String> {
    if table.rows.len() > MOST_ROWS {
        return Err(format!(
            "there are more than {MOST_ROWS} rows: part the sheet"
        ));
    }
    let widest = table.rows.iter().max_by_key(|row| row.cells.len());
    match widest {
        Some(row) if row.cells.len() > MOST_COLUMNS => Err(format!(
            "row {} has more than {MOST_COLUMNS} columns: is this a list of works, with other marks between its columns?",
            row.number
        )),
        _ => Ok(()),
    }
}

/// A column's letters as a spreadsheet program shows them: 0 is A, 26 is AA.
pub fn letters(column: usize) -> String {
    let mut left = column + 1;
    let mut out = Vec::new();
    while left > 0 {
        left -= 1;
        out.push(char::from(b'A' + (left % 26) as u8));
        left /= 26;
    }
    out.iter().rev().collect()
}

/// Text as it is kept: line ends as `\n`, no other control characters and none of the marks that turn the direction
/// of writing around, no blanks at the ends.
fn cleaned(text: &str) -> String {
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    let kept: String = text
        .chars()
        .map(|c| if c == '\t' || c == '\u{a0}' { ' ' } else { c })
        .filter(|c| *c == '\n' || !c.is_control())
        .filter(|c| !matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}'))
        .collect();
    kept.trim().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_named_as_a_spreadsheet_program_names_them() {
        // Source, common practice: A to Z, then AA; column 16384, the last of a sheet, is XFD.
        for (column, name) in [(0, "A"), (25, "Z"), (26, "AA"), (701, "ZZ"), (16383, "XFD")] {
            assert_eq!(letters(column), name);
        }
    }

    #[test]
    fn a_number_shows_what_was_typed_and_not_what_a_float_makes_of_it() {
        for (number, text) in [
            (120.0, "120"),
            (0.1 + 0.2, "0.3"),
            (48.125, "48.125"),
            (-0.0, "0"),
        ] {
            assert_eq!(Cell::Number(number).text(), text);
        }
    }

    #[test]
    fn what_a_terminal_would_obey_does_not_come_in() {
        assert_eq!(
            Cell::of_text(" Sea\u{7}\u{1b}[2J Door\u{202e}\r\n two "),
            Cell::Text("Sea[2J Door\n two".to_string())
        );
        assert_eq!(Cell::of_text(" \t "), Cell::Empty);
    }

    #[test]
    fn what_is_no_table_is_named() {
        assert!(
            tables_from(b"\xD0\xCF\x11\xE0\xA1")
                .unwrap_err()
                .contains("xlsx")
        );
        assert!(tables_from(b"%PDF-1.7").unwrap_err().contains("PDF"));
        assert!(tables_from(b"PK\x03\x04rubbish").is_err());
        assert!(tables_from(b"").unwrap().tables.is_empty());
    }
}
