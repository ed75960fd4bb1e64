//! Delimited text (RFC 4180 and its relatives): which mark parts the columns is told from the rows themselves.

use super::{Cell, MOST_COLUMNS, MOST_ROWS, Row, Table, Tables, encoding};

/// The marks that part columns.
const MARKS: [(u8, &str); 3] = [(b',', "commas"), (b';', "semicolons"), (b'\t', "tabs")];
/// Rows that are looked at to tell the mark.
const LOOKED_AT: usize = 50;

/// Reads the rows.
pub(super) fn read(octets: &[u8]) -> Result<Tables, String> {
    let (text, letters) = encoding::decode(octets)?;
    // Spreadsheet programs may say the mark in a first line of its own.
    let (said, text) = match text.split_once('\n') {
        Some((first, rest)) if first.trim_end().len() == 5 && first.starts_with("sep=") => {
            (first.as_bytes().get(4).copied(), rest)
        }
        _ => (None, text.as_str()),
    };
    let said = said.and_then(|mark| MARKS.iter().find(|(m, _)| *m == mark));
    let first = u32::from(said.is_some());
    let (mark, words) = said.copied().unwrap_or_else(|| likeliest(text));
    let rows = rows(text, mark, first, usize::MAX)?;
    let how = format!("{words} between the columns, {letters}");
    Ok(Tables {
        how,
        tables: vec![Table { sheet: None, rows }],
    })
}

/// The mark by which most rows come out equally wide, and wide at all.
fn likeliest(text: &str) -> (u8, &'static str) {
    let fit = |mark: u8| {
        let widths: Vec<usize> = rows(text, mark, 0, LOOKED_AT)
            .unwrap_or_default()
            .iter()
            .map(|row| row.cells.len())
            .collect();
        let first = widths.iter().copied().find(|w| *w > 1).unwrap_or(1);
        let alike = widths.iter().filter(|w| **w == first).count();
        (first > 1, alike, first)
    };
    // Of equals the last wins: the comma is named last.
    MARKS
        .into_iter()
        .rev()
        .max_by_key(|(mark, _)| fit(*mark))
        .unwrap_or(MARKS[0])
}

fn rows(text: &str, mark: u8, first: u32, most: usize) -> Result<Vec<Row>, String> {
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(mark)
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut out = Vec::new();
    let mut record = csv::StringRecord::new();
    let mut number = first;
    while out.len() < most {
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(e) => return Err(format!("it can not be read as a table: {e}")),
        }
        // The reader passes over empty lines, but a spreadsheet program counts them.
        let at = record.position().map_or(0, |p| p.byte() as usize);
        number += 1 + empty_lines(text.as_bytes(), at);
        let cells = record.iter().take(MOST_COLUMNS + 1).map(Cell::of_text);
        out.push(Row {
            number,
            cells: cells.collect(),
        });
        if out.len() > MOST_ROWS {
            break;
        }
    }
    Ok(out)
}

/// How many empty lines stand at a place where a record was looked for.
fn empty_lines(text: &[u8], at: usize) -> u32 {
    let mut rest = text.get(at..).unwrap_or_default();
    if at > 0 && text.get(at - 1) == Some(&b'\r') && rest.first() == Some(&b'\n') {
        rest = &rest[1..];
    }
    let mut lines = 0;
    loop {
        rest = match rest {
            [b'\r', b'\n', rest @ ..] | [b'\n', rest @ ..] | [b'\r', rest @ ..] => rest,
            _ => return lines,
        };
        lines += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(octets: &[u8]) -> (String, Vec<(u32, Vec<String>)>) {
        let tables = read(octets).unwrap();
        let rows = tables.tables[0].rows.iter();
        let rows = rows.map(|r| (r.number, r.cells.iter().map(Cell::text).collect()));
        (tables.how, rows.collect())
    }

    #[test]
    fn the_mark_between_columns_is_told_from_the_rows() {
        for (text, how, cells) in [
            (
                "a,b\n1,2\n",
                "commas between the columns, plain letters",
                ["1", "2"],
            ),
            (
                "a;b\n1,5;2,5\n",
                "semicolons between the columns, plain letters",
                ["1,5", "2,5"],
            ),
            (
                "a\tb\n1,5\t2;5\n",
                "tabs between the columns, plain letters",
                ["1,5", "2;5"],
            ),
            (
                "sep=;\na;b\n1;2\n",
                "semicolons between the columns, plain letters",
                ["1", "2"],
            ),
        ] {
            let (said, rows) = texts(text.as_bytes());
            assert_eq!(said, how);
            assert_eq!(rows.last().unwrap().1, cells);
        }
    }

    #[test]
    fn quotes_hold_marks_lines_and_quotes() {
        // Source, published: RFC 4180, section 2, rules 5 to 7.
        let (_, rows) = texts(b"title,notes\r\n\"Tide, \"\"high\"\"\",\"one\r\ntwo\"\r\n");
        assert_eq!(rows[1].1, ["Tide, \"high\"", "one\ntwo"]);
    }

    #[test]
    fn rows_have_the_numbers_a_spreadsheet_program_shows() {
        let (_, rows) = texts(b"title,notes\n\n\"A\",\"one\ntwo\"\n\nB,x\n");
        let numbers: Vec<u32> = rows.iter().map(|r| r.0).collect();
        assert_eq!(numbers, [1, 3, 5]);
        let (_, rows) = texts(b"title,notes\r\n\r\n\"A\",\"one\r\ntwo\"\r\n\r\nB,x\r\n");
        let numbers: Vec<u32> = rows.iter().map(|r| r.0).collect();
        assert_eq!(numbers, [1, 3, 5]);
        let (_, rows) = texts(b"sep=,\ntitle,notes\nA,x\n");
        assert_eq!(rows[1].0, 3);
    }
}
