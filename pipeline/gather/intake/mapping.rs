//! Which column becomes which field: from the head line, and from what she says otherwise.

use super::fields::Field;
use super::head::{self, Head};
use crate::read::sheet::{Table, Tables, letters};

/// Rows from the top among which the head line is looked for.
const HEAD_WITHIN: usize = 20;

/// One column.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Counted from 0.
    pub at: usize,
    /// Its letters.
    pub letters: String,
    /// Its head line.
    pub head: String,
    /// What it becomes; nothing where it is kept in notes.md as text.
    pub field: Option<Field>,
    /// The unit of values that do not say theirs.
    pub unit: Option<String>,
    /// Sizes stand width first.
    pub width_first: bool,
    /// Why it is so, where that needs a word.
    pub why: Option<String>,
    /// She wants it left out altogether.
    pub dropped: bool,
}

/// The mapping of one table.
#[derive(Debug, Clone, PartialEq)]
pub struct Mapping {
    /// The sheet's name, in a workbook.
    pub sheet: Option<String>,
    /// The number of the row of head lines.
    pub head_row: u32,
    /// The columns from left to right.
    pub columns: Vec<Column>,
    /// Numbers of rows above the head lines, which are passed over.
    pub above: Vec<u32>,
    /// Other sheets, which are not read.
    pub other_sheets: Vec<String>,
}

/// Chooses the table and maps its columns. `overrule` holds what stands behind each `--map`: a head line or a column's
/// letters, and the field or nothing. The error says what is wrong with what was asked.
pub fn map<'t>(
    tables: &'t Tables,
    sheet: Option<&str>,
    overrule: &[String],
) -> Result<(&'t Table, Mapping), String> {
    let overrule = parse_overrule(overrule)?;
    let table = choose(tables, sheet, &overrule)?;
    let head_at = head_row(table, &overrule);
    let Some(row) = table.rows.get(head_at) else {
        return Err("there is no row in it".to_string());
    };
    let heads: Vec<String> = (0..widest(table))
        .map(|at| row.cell(at).text().replace('\n', " "))
        .collect();
    let mut columns: Vec<Column> = heads
        .iter()
        .enumerate()
        .map(|(at, text)| column(at, text))
        .collect();
    let mut strength: Vec<usize> = Vec::new();
    for column in &mut columns {
        let read = head::read(&column.head);
        strength.push(read.field.map_or(usize::MAX, |f| f.1));
        apply(column, read);
    }
    one_each(&mut columns, &strength);
    for (name, wanted) in &overrule {
        let named: Vec<usize> = (0..columns.len())
            .filter(|at| is_named(&columns[*at], name))
            .collect();
        if named.is_empty() {
            let near = crate::read::nearest(name, heads.iter().map(String::as_str));
            let near = near.map_or(String::new(), |n| format!("; did you mean `{n}`?"));
            return Err(format!(
                "--map: there is no column `{name}`{near} The columns are: {}",
                heads.join(", ")
            ));
        }
        for at in named {
            overruled(&mut columns, at, wanted.clone());
        }
    }
    // A size in one column and height or width in columns of their own would be two answers.
    let has = |columns: &[Column], field| columns.iter().any(|c| c.field == Some(field));
    if has(&columns, Field::Size) && has(&columns, Field::Height) && has(&columns, Field::Width) {
        for column in &mut columns {
            if column.field == Some(Field::Size) {
                column.field = None;
                column.why = Some("height and width have columns of their own".to_string());
            }
        }
    }
    for column in &mut columns {
        if column.field == Some(Field::Size) && column.why.is_none() {
            column.why = Some(match column.width_first {
                true => "width first, as the head line says".to_string(),
                false => {
                    "height first, as is usual for hangings; otherwise --map '…=size (width first)'"
                        .to_string()
                }
            });
        }
    }
    columns.retain(|c| !c.head.is_empty() || holds(table, head_at, c.at));
    let mapping = Mapping {
        sheet: table.sheet.clone(),
        head_row: row.number,
        columns,
        above: table.rows[..head_at].iter().map(|r| r.number).collect(),
        other_sheets: tables
            .tables
            .iter()
            .filter(|t| t.sheet != table.sheet)
            .filter_map(|t| t.sheet.clone())
            .collect(),
    };
    Ok((table, mapping))
}

impl Mapping {
    /// The columns of a field, from left to right.
    pub fn of(&self, field: Field) -> impl Iterator<Item = &Column> {
        self.columns.iter().filter(move |c| c.field == Some(field))
    }
}

type Overrule = Vec<(String, Option<Head>)>;

fn parse_overrule(all: &[String]) -> Result<Overrule, String> {
    all.iter()
        .map(|text| {
            let (name, field) = text.rsplit_once('=').ok_or_else(|| {
                format!("--map `{text}`: write it as 'head line=field', such as 'Breite=width (cm)', or 'head line=' to leave the column out")
            })?;
            let wanted = head::wanted(field).map_err(|why| format!("--map `{text}`: {why}"))?;
            Ok((name.trim().to_string(), wanted))
        })
        .collect()
}

fn column(at: usize, head: &str) -> Column {
    Column {
        at,
        letters: letters(at),
        head: head.trim().to_string(),
        field: None,
        unit: None,
        width_first: false,
        why: None,
        dropped: false,
    }
}

fn apply(column: &mut Column, head: Head) {
    column.field = head.field.map(|f| f.0);
    column.unit = head.unit;
    column.width_first = head.width_first;
}

/// Of several columns for one field the plainest word wins, the first among equals; the others are kept as text.
fn one_each(columns: &mut [Column], strength: &[usize]) {
    let fields: Vec<Option<Field>> = columns.iter().map(|c| c.field).collect();
    for (at, field) in fields.iter().enumerate() {
        let Some(field) = field.filter(|f| !f.may_repeat()) else {
            continue;
        };
        let best = (0..fields.len())
            .filter(|i| fields[*i] == Some(field))
            .min_by_key(|i| (strength[*i], *i));
        if let Some(best) = best.filter(|best| *best != at) {
            columns[at].field = None;
            columns[at].why = Some(format!(
                "{} is column {} already",
                field.name(),
                letters(best)
            ));
        }
    }
}

fn overruled(columns: &mut [Column], at: usize, wanted: Option<Head>) {
    match wanted {
        None => {
            columns[at].field = None;
            columns[at].dropped = true;
            columns[at].why = Some("left out, as --map says".to_string());
        }
        Some(head) => {
            let field = head.field.map(|f| f.0);
            for (other, column) in columns.iter_mut().enumerate() {
                let clash = other != at && column.field == field;
                if clash && field.is_some_and(|f| !f.may_repeat()) {
                    column.field = None;
                    column.why = Some(format!(
                        "{} is column {}, as --map says",
                        field.map_or("", Field::name),
                        letters(at)
                    ));
                }
            }
            let unit = columns[at].unit.take();
            let same = columns[at].field == field;
            apply(&mut columns[at], head);
            if same && columns[at].unit.is_none() {
                columns[at].unit = unit;
            }
            columns[at].dropped = false;
            columns[at].why = Some("as --map says".to_string());
            if field == Some(Field::Size) {
                let first = if columns[at].width_first {
                    "width"
                } else {
                    "height"
                };
                columns[at].why = Some(format!("as --map says; {first} first"));
            }
        }
    }
}

fn is_named(column: &Column, name: &str) -> bool {
    column.head == name
        || head::plain(&column.head) == head::plain(name) && !head::plain(name).is_empty()
        || column.head.is_empty() && column.letters == name
}

fn widest(table: &Table) -> usize {
    table.rows.iter().map(|r| r.cells.len()).max().unwrap_or(0)
}

fn holds(table: &Table, head_at: usize, column: usize) -> bool {
    let below = table.rows.iter().skip(head_at + 1);
    below.into_iter().any(|row| !row.cell(column).is_empty())
}

/// How many columns of the row are understood.
fn understood(table: &Table, at: usize, overrule: &Overrule) -> usize {
    let Some(row) = table.rows.get(at) else {
        return 0;
    };
    (0..row.cells.len())
        .map(|i| column(i, &row.cell(i).text()))
        .filter(|c| {
            head::read(&c.head).field.is_some() || overrule.iter().any(|(n, _)| is_named(c, n))
        })
        .count()
}

/// The first row in which most columns are understood; the first row where none is.
fn head_row(table: &Table, overrule: &Overrule) -> usize {
    (0..table.rows.len().min(HEAD_WITHIN))
        .rev()
        .max_by_key(|at| understood(table, *at, overrule))
        .filter(|at| understood(table, *at, overrule) > 0)
        .unwrap_or(0)
}

fn choose<'t>(
    tables: &'t Tables,
    sheet: Option<&str>,
    overrule: &Overrule,
) -> Result<&'t Table, String> {
    let names = || {
        let names = tables.tables.iter().filter_map(|t| t.sheet.clone());
        names.collect::<Vec<_>>().join(", ")
    };
    if let Some(sheet) = sheet {
        let found = tables
            .tables
            .iter()
            .find(|t| t.sheet.as_deref() == Some(sheet));
        return found.ok_or_else(|| match names() {
            none if none.is_empty() => "--sheet: this file has no sheets by name".to_string(),
            names => format!("--sheet: there is no sheet `{sheet}`; there are: {names}"),
        });
    }
    let best = tables
        .tables
        .iter()
        .rev()
        .max_by_key(|table| understood(table, head_row(table, overrule), overrule));
    best.ok_or_else(|| "nothing stands in it".to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::sheet::tables_from;

    fn shown(text: &str, overrule: &[&str]) -> Result<Vec<String>, String> {
        let tables = tables_from(text.as_bytes()).unwrap();
        let overrule: Vec<String> = overrule.iter().map(|s| s.to_string()).collect();
        let (_, mapping) = map(&tables, None, &overrule)?;
        let name = |c: &Column| c.field.map_or("-", Field::name);
        let columns = mapping.columns.iter();
        Ok(columns
            .map(|c| {
                format!(
                    "{} {} {}",
                    c.letters,
                    name(c),
                    c.unit.as_deref().unwrap_or("")
                )
            })
            .map(|s| s.trim_end().to_string())
            .collect())
    }

    #[test]
    fn the_plainest_word_wins_and_the_others_are_kept() {
        assert_eq!(
            shown("Name,Title,Year,Height (cm),Edition\nx,y,2019,1,2\n", &[]).unwrap(),
            ["A -", "B title", "C made", "D height cm", "E -"]
        );
    }

    #[test]
    fn what_she_maps_overrules_the_head_line() {
        let text = "Titel;Jahr;Breit;X\nA;2019;1;2\n";
        assert_eq!(
            shown(text, &["Breit=width (cm)", "X="]).unwrap(),
            ["A title", "B made", "C width cm", "D -"]
        );
        assert!(
            shown(text, &["Breite=width"])
                .unwrap_err()
                .contains("did you mean `Breit`")
        );
        assert!(
            shown(text, &["Breit"])
                .unwrap_err()
                .contains("head line=field")
        );
        assert_eq!(shown(text, &["X=title"]).unwrap()[0], "A -");
    }

    #[test]
    fn lines_above_the_head_line_are_passed_over() {
        let text = "My works,,\n,,\nTitle,Year,Height\nA,2019,1\n";
        let tables = tables_from(text.as_bytes()).unwrap();
        let (_, mapping) = map(&tables, None, &[]).unwrap();
        assert_eq!((mapping.head_row, mapping.above), (3, vec![1]));
    }
}
