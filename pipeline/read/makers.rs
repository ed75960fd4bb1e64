//! The roll and the map of squares of a community piece, from the tables beside its piece.yaml.

use super::kinds;
use super::table::{Cell, Slips, rows};
use super::values::{Desk, nearest};
use crate::record::{Age, At, Consent, Finding, Maker, Piece, Place, Square, Squares};
use std::sync::Arc;

/// What stands between two names in one cell, where two people made a square together.
pub const TOGETHER: &str = " + ";

/// Puts what the tables of a piece say into it. `text` gives the name findings use for a file of the piece's folder, and
/// its text; nothing where it is not there.
pub(crate) fn with_tables(
    piece: &mut Piece,
    mut text: impl FnMut(&str) -> Option<(Arc<str>, String)>,
) -> Vec<Finding> {
    let desk = Desk::default();
    if let Some(makers) = &mut piece.makers {
        if let Some((file, text)) = makers.roll_file.as_ref().and_then(|f| text(f)) {
            makers.roll.extend(roll(&desk, &file, &text));
        }
        if let Some(squares) = &mut makers.squares
            && let Some((file, text)) = squares.map.as_ref().and_then(|f| text(f))
        {
            squares.made = map(&desk, &file, &text, squares);
        }
    }
    desk.into_findings()
}

/// The heads of a table and where each known one stands.
struct Heads {
    texts: Vec<String>,
    place: Place,
}

impl Heads {
    fn of(row: &[Cell], file: &Arc<str>) -> Heads {
        Heads {
            texts: row.iter().map(|c| c.to_lowercase()).collect(),
            place: row.first().map_or(Place::file(file), |c| c.place.clone()),
        }
    }

    fn at(&self, name: &str) -> Option<usize> {
        self.texts.iter().position(|t| t == name)
    }

    /// The column of that name; a finding where there is none.
    fn needed(&self, desk: &Desk, name: &str, wanted: &str) -> Option<usize> {
        let at = self.at(name);
        if at.is_none() {
            let remedy = match nearest(name, self.texts.iter().map(String::as_str)) {
                Some(near) => {
                    format!("is `{near}` meant? The first line holds the columns' names: {wanted}")
                }
                None => format!("write the columns' names in the first line: {wanted}"),
            };
            desk.add(kinds::MISSING_FIELD.at(
                &self.place,
                format!("the table has no column `{name}`"),
                remedy,
            ));
        }
        at
    }

    /// The column of that name. One whose name is hardly another is a slip of the pen, not a column of her own.
    fn wished(&self, desk: &Desk, row: &[Cell], name: &str, known: &[&str]) -> Option<usize> {
        let at = self.at(name);
        if at.is_none() {
            let near = row.iter().find(|c| {
                let low = c.to_lowercase();
                !known.contains(&low.as_str()) && nearest(&low, std::iter::once(name)).is_some()
            });
            if let Some(near) = near {
                desk.add(kinds::UNKNOWN_FIELD.at(
                    &near.place,
                    format!("the column `{}` is not known", near.value),
                    format!("did you mean `{name}`? Known here: {}", known.join(", ")),
                ));
            }
        }
        at
    }
}

const OF_ROLL: [&str; 4] = ["name", "age", "consent", "sort"];

fn roll(desk: &Desk, file: &Arc<str>, text: &str) -> Vec<Maker> {
    let all = rows(desk, file, text);
    let Some((first, rest)) = all.split_first() else {
        desk.add(kinds::MISSING_FIELD.at(
            &Place::file(file),
            "the roll is empty",
            "write `name,age,consent` in the first line and a person in each line below",
        ));
        return Vec::new();
    };
    let heads = Heads::of(first, file);
    let Some(name) = heads.needed(desk, "name", "`name,age,consent`") else {
        return Vec::new();
    };
    let [age, consent, sort] =
        ["age", "consent", "sort"].map(|n| heads.wished(desk, first, n, &OF_ROLL));
    let mut slips = Slips::default();
    let mut out = Vec::new();
    for row in rest {
        let cell = |at: Option<usize>| at.and_then(|i| row.get(i)).filter(|c| !c.is_empty());
        let Some(name) = cell(Some(name)) else {
            if let Some(written) = row.iter().find(|c| !c.is_empty()) {
                let message = "a line of the roll has no name".to_string();
                slips.add(
                    "name",
                    kinds::MISSING_FIELD,
                    &written.place,
                    message,
                    "write the name as it may be printed, or take the line out",
                );
            }
            continue;
        };
        if !printable(name, &mut slips) {
            continue;
        }
        out.push(Maker {
            name: name.clone(),
            age: cell(age).and_then(|c| word("age", c, Age::ALL, &mut slips)),
            consent: cell(consent).and_then(|c| word("consent", c, Consent::ALL, &mut slips)),
            sort: cell(sort).cloned(),
        });
    }
    slips.tell(desk);
    out
}

/// Whether every character can be shown.
fn printable(cell: &Cell, slips: &mut Slips) -> bool {
    let fine = !cell.chars().any(char::is_control);
    if !fine {
        let message = format!("`{}` holds a control character", cell.value);
        slips.add(
            "control",
            kinds::UNREADABLE_VALUE,
            &cell.place,
            message,
            "remove it: it can not be printed",
        );
    }
    fine
}

fn word<T: Copy>(column: &str, cell: &Cell, all: &[(&str, T)], slips: &mut Slips) -> Option<At<T>> {
    if let Some((_, value)) = all.iter().find(|(w, _)| w.eq_ignore_ascii_case(cell)) {
        return Some(At {
            value: *value,
            place: cell.place.clone(),
        });
    }
    let known: Vec<&str> = all.iter().map(|(w, _)| *w).collect();
    slips.add(
        column,
        kinds::UNKNOWN_WORD,
        &cell.place,
        format!("`{column}` can not be `{}`", cell.value),
        &format!("write one of: {}", known.join(", ")),
    );
    None
}

fn map(desk: &Desk, file: &Arc<str>, text: &str, squares: &Squares) -> Vec<Square> {
    let all = rows(desk, file, text);
    let Some((first, rest)) = all.split_first() else {
        desk.add(kinds::MISSING_FIELD.at(
            &Place::file(file),
            "the map of squares is empty",
            "write `row,column,maker` in the first line and a square in each line below",
        ));
        return Vec::new();
    };
    let heads = Heads::of(first, file);
    let known = ["row", "column", "maker"]
        .iter()
        .filter(|n| heads.at(n).is_some())
        .count();
    let mut slips = Slips::default();
    let out = if known > 0 {
        listed(desk, &heads, first, rest, &mut slips)
    } else {
        in_shape(desk, &all, squares, &mut slips)
    };
    slips.tell(desk);
    out
}

/// A square in each line.
fn listed(
    desk: &Desk,
    heads: &Heads,
    first: &[Cell],
    rest: &[Vec<Cell>],
    slips: &mut Slips,
) -> Vec<Square> {
    let wanted = "`row,column,maker`; where the file has no such line its cells are names in the shape of the wall";
    let found = ["row", "column", "maker"].map(|n| heads.needed(desk, n, wanted));
    let [Some(row_at), Some(column_at), Some(maker_at)] = found else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for line in rest {
        if line.iter().all(|c| c.is_empty()) {
            continue;
        }
        let mut figure = |at: usize, name: &str| -> Option<u32> {
            let cell = line.get(at).or(line.first())?;
            let value = line
                .get(at)
                .and_then(|c| c.parse::<u32>().ok())
                .filter(|n| (1..1_000_000).contains(n));
            if value.is_none() {
                let written = line.get(at).map_or("", |c| c.value.as_str());
                slips.add(
                    name,
                    kinds::UNREADABLE_VALUE,
                    &cell.place,
                    format!("`{name}` is `{written}`, not a whole number"),
                    "count rows from the top and columns from the left, as seen from the front, and write a number from 1",
                );
            }
            value
        };
        let (row, column) = (figure(row_at, "row"), figure(column_at, "column"));
        let (Some(row), Some(column)) = (row, column) else {
            continue;
        };
        let Some(cell) = line.get(maker_at).filter(|c| !c.is_empty()) else {
            continue;
        };
        if !printable(cell, slips) {
            continue;
        }
        let more = first
            .iter()
            .zip(line)
            .enumerate()
            .filter(|(i, (head, cell))| {
                ![row_at, column_at, maker_at].contains(i) && !head.is_empty() && !cell.is_empty()
            })
            .map(|(_, (head, cell))| (head.value.clone(), cell.value.clone()))
            .collect();
        out.push(Square {
            place: cell.place.clone(),
            row,
            column,
            makers: names(cell),
            more,
        });
    }
    out
}

/// Names in the shape of the wall: a line for each row, a cell for each column.
fn in_shape(desk: &Desk, all: &[Vec<Cell>], squares: &Squares, slips: &mut Slips) -> Vec<Square> {
    let (rows, columns) = (squares.rows.value as usize, squares.columns.value as usize);
    let first = all.first().and_then(|r| r.first());
    if all.len() != rows
        && let Some(first) = first
    {
        desk.add(kinds::WRONG_SHAPE.at(
            &first.place,
            format!("the map has {} lines of names, and the wall `{rows}` rows", all.len()),
            "write a line of names for each row, empty cells where nobody made a square; or begin the file with `row,column,maker`",
        ).and(&squares.rows.place, "the rows"));
    }
    let mut out = Vec::new();
    for (row, line) in all.iter().enumerate() {
        // A spreadsheet may leave out or add empty cells at the end of a line.
        let used = line
            .iter()
            .rposition(|c| !c.is_empty())
            .map_or(0, |i| i + 1);
        if used > columns
            && let Some(cell) = line.get(columns)
        {
            slips.add(
                "columns",
                kinds::WRONG_SHAPE,
                &cell.place,
                format!("a row has {used} names, and the wall `{columns}` columns"),
                "write a name for each column; or begin the file with `row,column,maker`",
            );
        }
        for (column, cell) in line.iter().enumerate().filter(|(_, c)| !c.is_empty()) {
            if let (Ok(row), Ok(column)) = (u32::try_from(row + 1), u32::try_from(column + 1))
                && column as usize <= columns
                && row as usize <= rows
                && printable(cell, slips)
            {
                out.push(Square {
                    place: cell.place.clone(),
                    row,
                    column,
                    makers: names(cell),
                    more: Vec::new(),
                });
            }
        }
    }
    out
}

/// The names in a cell.
fn names(cell: &Cell) -> Vec<At<String>> {
    cell.split(TOGETHER)
        .map(str::trim)
        .filter(|n| !n.is_empty())
        .map(|n| At {
            value: n.to_string(),
            place: cell.place.clone(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::piece_from;

    const PIECE: &str = "title: Low Water\nmade: 2026\nwarp: {yarn: twine}\nweft: [{name: green}]\nmeasured: {height: 1 m, width: 1 m}\nmakers: {roll_file: roll.csv, squares: {rows: 2, columns: 2, map: squares.csv}}\n";

    fn read(roll: &str, map: &str) -> (Piece, Vec<Finding>) {
        let (piece, slips) = piece_from("p", &"piece.yaml".into(), PIECE);
        assert!(slips.is_empty(), "{slips:?}");
        let mut piece = piece.unwrap();
        let found = with_tables(&mut piece, |name| {
            let text = if name == "roll.csv" { roll } else { map };
            Some((name.into(), text.to_string()))
        });
        (piece, found)
    }

    const ROLL: &str =
        "name;age;consent;hometown\nAda Quill;adult;yes;Saltby\nNell Tarn;Minor;no;\n";

    #[test]
    fn a_list_and_a_shape_say_the_same() {
        let (list, found) = read(
            ROLL,
            "row,column,maker,motif\r\n1,1,Ada Quill,gull\r\n2,2,Nell Tarn + Ada Quill,\r\n",
        );
        assert!(found.is_empty(), "{found:?}");
        let (shape, found) = read(ROLL, "Ada Quill;\n;Nell Tarn + Ada Quill\n");
        assert!(found.is_empty(), "{found:?}");
        let told = |p: &Piece| -> Vec<(u32, u32, Vec<String>)> {
            let squares = p.makers.as_ref().unwrap().squares.as_ref().unwrap();
            squares
                .made
                .iter()
                .map(|s| {
                    (
                        s.row,
                        s.column,
                        s.makers.iter().map(|m| m.value.clone()).collect(),
                    )
                })
                .collect()
        };
        assert_eq!(told(&list), told(&shape));
        assert_eq!(told(&list)[1].2, ["Nell Tarn", "Ada Quill"]);
        assert_eq!(list.makers.unwrap().roll.len(), 2);
    }

    #[test]
    fn the_same_slip_in_many_lines_is_told_once() {
        let lines: String = (0..300).map(|i| format!("Maker {i},child,yes\n")).collect();
        let (_, found) = read(&format!("name,age,consent\n{lines}"), "row,column,maker\n");
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(
            found[0]
                .message
                .starts_with("`age` can not be `child`; likewise in lines 3, 4"),
            "{}",
            found[0].message
        );
        assert!(found[0].message.ends_with("(299 more)"));
        assert_eq!((found[0].place.line, found[0].place.column), (2, 9));
    }

    #[test]
    fn a_column_that_is_hardly_another_is_a_slip() {
        let (_, found) = read(
            "name,age,consnt\nAda Quill,adult,yes\n",
            "row,column,maker\n1,1,Ada Quill\n",
        );
        assert!(found[0].remedy.contains("`consent`"), "{found:?}");
        let (_, found) = read(ROLL, "row,colum,maker\n1,1,Ada Quill\n");
        assert!(found[0].remedy.contains("`colum`"), "{found:?}");
    }

    #[test]
    fn a_wall_of_another_shape_is_told() {
        let (_, found) = read(ROLL, "Ada Quill,Ada Quill,Ada Quill\n");
        assert_eq!(found.len(), 2, "{found:?}");
    }
}
