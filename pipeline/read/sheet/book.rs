//! Workbooks, xlsx (ECMA-376) and ods (ISO/IEC 26300), by way of the `calamine` library. Cells are taken one by one,
//! so that a single cell far out does not ask for memory for all that lies before it.

use super::{Cell, MOST_COLUMNS, MOST_ROWS, Row, Table, Tables};
use calamine::{Data, DataRef, Ods, Reader, SheetVisible, Xlsx};
use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Octets to which a workbook may unfold.
const MOST_UNFOLDED: u64 = 512 * 1024 * 1024;

type Cells = BTreeMap<(u32, u32), Cell>;

/// Reads every sheet that is shown.
pub(super) fn read(octets: &[u8]) -> Result<Tables, String> {
    // A hostile file that makes the reader panic must end as a word, not as a fall.
    catch_unwind(AssertUnwindSafe(|| read_unguarded(octets)))
        .unwrap_or_else(|_| Err("the workbook is damaged: the reader gave up on it".to_string()))
}

fn read_unguarded(octets: &[u8]) -> Result<Tables, String> {
    match kind(octets)? {
        Kind::Xlsx => xlsx(octets),
        Kind::Ods => ods(octets),
        Kind::Other => {
            Err("this is no workbook that is read here: save it as xlsx, ods or csv".to_string())
        }
    }
}

enum Kind {
    Xlsx,
    Ods,
    Other,
}

/// Which workbook it is; that it does not unfold without end is made sure before anything is kept of it.
fn kind(octets: &[u8]) -> Result<Kind, String> {
    let damaged = |e: &dyn std::fmt::Display| format!("the workbook is damaged: {e}");
    let mut zip = zip::ZipArchive::new(Cursor::new(octets)).map_err(|e| damaged(&e))?;
    let mut left = MOST_UNFOLDED;
    for index in 0..zip.len() {
        let entry = zip.by_index(index).map_err(|e| damaged(&e))?;
        let read = std::io::copy(&mut entry.take(left + 1), &mut std::io::sink())
            .map_err(|e| damaged(&e))?;
        left = left.checked_sub(read).ok_or_else(|| {
            format!(
                "the workbook unfolds to more than {} MB",
                MOST_UNFOLDED >> 20
            )
        })?;
    }
    let has = |name: &str| {
        let mut names = zip.file_names().flatten();
        names.any(|n| n.eq_ignore_ascii_case(name))
    };
    Ok(match () {
        () if has("xl/workbook.xml") => Kind::Xlsx,
        () if has("content.xml") => Kind::Ods,
        () => Kind::Other,
    })
}

fn shown<RS: Read + std::io::Seek, R: Reader<RS>>(book: &R) -> Vec<String> {
    let sheets = book.sheets_metadata().iter();
    sheets
        .filter(|sheet| sheet.visible == SheetVisible::Visible)
        .map(|sheet| sheet.name.clone())
        .collect()
}

fn xlsx(octets: &[u8]) -> Result<Tables, String> {
    let mut book =
        Xlsx::new(Cursor::new(octets)).map_err(|e| format!("the workbook is damaged: {e}"))?;
    let mut tables = Vec::new();
    for name in shown(&book) {
        let damaged = |e| format!("sheet `{name}` is damaged: {e}");
        let mut reader = match book.worksheet_cells_reader(&name) {
            Ok(reader) => reader,
            // A sheet of a chart alone.
            Err(calamine::XlsxError::NotAWorksheet(_)) => continue,
            Err(e) => return Err(damaged(e)),
        };
        let mut cells = Cells::new();
        while let Some(record) = reader.next_cell_with_formula().map_err(damaged)? {
            let cell = match (of_ref(&record.value), &record.formula) {
                (Cell::Empty, Some(_)) => Cell::Fault(
                    "a formula without its result: open the file in the spreadsheet program and save it",
                ),
                (cell, _) => cell,
            };
            keep(&mut cells, &name, record.pos, cell)?;
        }
        drop(reader);
        // A date cell holds a whole day even where she typed and sees a month alone: what it shows counts.
        let mut reader = book.worksheet_cells_reader(&name).map_err(damaged)?;
        while let Some((row, column, style)) = reader.next_style_id().map_err(damaged)? {
            let format = reader
                .styles()
                .get(style)
                .and_then(|s| s.number_format.as_ref());
            if let Some(cell) = cells.get_mut(&(row, column)).filter(|_| format.is_some()) {
                *cell = as_shown(std::mem::take(cell), format.map_or("", |f| &f.format_code));
            }
        }
        tables.push(table(name, cells));
    }
    Ok(Tables {
        how: "workbook (xlsx)".to_string(),
        tables,
    })
}

fn ods(octets: &[u8]) -> Result<Tables, String> {
    let mut book =
        Ods::new(Cursor::new(octets)).map_err(|e| format!("the workbook is damaged: {e}"))?;
    let mut tables = Vec::new();
    for name in shown(&book) {
        let range = book
            .worksheet_range(&name)
            .map_err(|e| format!("sheet `{name}` is damaged: {e}"))?;
        let (top, left) = range.start().unwrap_or_default();
        let mut cells = Cells::new();
        for (row, column, data) in range.used_cells() {
            let place = (top + row as u32, left + column as u32);
            keep(&mut cells, &name, place, of_data(data))?;
        }
        tables.push(table(name, cells));
    }
    Ok(Tables {
        how: "workbook (ods)".to_string(),
        tables,
    })
}

fn keep(cells: &mut Cells, sheet: &str, place: (u32, u32), cell: Cell) -> Result<(), String> {
    if cell.is_empty() {
        return Ok(());
    }
    if place.1 as usize >= MOST_COLUMNS {
        return Err(format!(
            "sheet `{sheet}`, row {}, has something beyond column {MOST_COLUMNS}: take it away, or save the list alone as csv",
            place.0 + 1
        ));
    }
    if cells.len() > MOST_ROWS * 100 {
        return Err(format!(
            "sheet `{sheet}` has too many cells for a list of works"
        ));
    }
    cells.insert(place, cell);
    Ok(())
}

fn table(sheet: String, cells: Cells) -> Table {
    let mut rows: Vec<Row> = Vec::new();
    for ((row, column), cell) in cells {
        if rows.last().is_none_or(|last| last.number != row + 1) {
            rows.push(Row {
                number: row + 1,
                cells: Vec::new(),
            });
        }
        if let Some(last) = rows.last_mut() {
            last.cells.resize(column as usize, Cell::Empty);
            last.cells.push(cell);
        }
    }
    Table {
        sheet: Some(sheet),
        rows,
    }
}

/// A date as far as its format shows it (ECMA-376, part 1, 18.8.31: d, m and y stand for day, month and year; words in
/// quotes, brackets and behind a backslash are shown as they are).
fn as_shown(cell: Cell, format: &str) -> Cell {
    let Cell::Day(year, month, _) = cell else {
        return cell;
    };
    let mut signs = String::new();
    let mut within = None;
    let mut rest = format.chars();
    while let Some(c) = rest.next() {
        match (within, c) {
            (None, '"') => within = Some('"'),
            (None, '[') => within = Some(']'),
            (None, '\\') => drop(rest.next()),
            (None, ';') => break,
            (None, c) => signs.extend(c.to_lowercase()),
            (Some(end), c) if c == end => within = None,
            _ => {}
        }
    }
    match (
        signs.contains('d'),
        signs.contains('m'),
        signs.contains('y'),
    ) {
        (false, true, true) => Cell::Month(year, month),
        (false, false, true) => Cell::Year(year),
        _ => cell,
    }
}

fn of_ref(data: &DataRef) -> Cell {
    match data {
        DataRef::SharedString(text) => Cell::of_text(text),
        other => of_data(&Data::from(other.clone())),
    }
}

fn of_data(data: &Data) -> Cell {
    match data {
        Data::Empty => Cell::Empty,
        Data::Int(number) => Cell::Number(*number as f64),
        Data::Float(number) => Cell::Number(*number),
        Data::String(text) => Cell::of_text(text),
        Data::Bool(true) => Cell::Text("yes".to_string()),
        Data::Bool(false) => Cell::Text("no".to_string()),
        Data::DateTime(at) if at.is_duration() => Cell::Number(at.as_f64()),
        Data::DateTime(at) => {
            let (year, month, day, ..) = at.to_ymd_hms_milli();
            Cell::Day(i32::from(year), month, day)
        }
        Data::DateTimeIso(text) => day(text).unwrap_or_else(|| Cell::of_text(text)),
        Data::DurationIso(text) => Cell::of_text(text),
        Data::Error(_) => Cell::Fault("an error of the spreadsheet program"),
    }
}

/// The day of `2019-03-04` or `2019-03-04T10:00:00`.
fn day(text: &str) -> Option<Cell> {
    let day = crate::quantity::Day::parse(text.get(..10)?).ok()?;
    Some(Cell::Day(day.year, day.month, day.day))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_date_is_known_as_far_as_it_is_shown() {
        // Source, published: ECMA-376, part 1, 18.8.30 and 18.8.31: number formats, among them 14 and 17.
        let day = || Cell::Day(2019, 3, 1);
        for (format, text) in [
            ("mm-dd-yy", "2019-03-01"),
            ("mmm-yy", "2019-03"),
            ("[$-409]mmmm\\ yyyy;@", "2019-03"),
            ("yyyy", "2019"),
            ("yyyy\" made\"", "2019"),
            ("General", "2019-03-01"),
        ] {
            assert_eq!(as_shown(day(), format).text(), text, "{format}");
        }
    }
}
