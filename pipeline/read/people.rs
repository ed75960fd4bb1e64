//! Owners and makers.

use super::fields::Fields;
use super::kinds;
use crate::quantity::{ErrorKind, Number, QuantityError};
use crate::record::{Age, At, Consent, Maker, Makers, Owner, Squares};

pub(super) fn owner(mut f: Fields) -> Option<Owner> {
    let from = f.date("from");
    let from = f.needed("from", from, "2026-07");
    let public = f.text("public");
    let name = f.text("name");
    let address = f.text("address");
    let how = f.text("how");
    f.done();
    Some(Owner {
        from: from?,
        public,
        name,
        address,
        how,
    })
}

pub(super) fn makers(mut f: Fields) -> Makers {
    let makers = Makers {
        place: f.place.clone(),
        roll: f.groups("roll").into_iter().filter_map(maker).collect(),
        roll_file: table_name(&mut f, "roll_file"),
        squares: f.group("squares").and_then(squares),
    };
    f.done();
    makers
}

fn maker(mut f: Fields) -> Option<Maker> {
    let name = f.text("name");
    let name = f.needed("name", name, "as it may be printed");
    let age = f.word("age", Age::ALL);
    let consent = f.word("consent", Consent::ALL);
    let sort = f.text("sort");
    f.done();
    Some(Maker {
        name: name?,
        age,
        consent,
        sort,
    })
}

fn squares(mut f: Fields) -> Option<Squares> {
    let rows = f.whole("rows");
    let rows = f.needed("rows", rows, "8");
    let columns = f.whole("columns");
    let columns = f.needed("columns", columns, "12");
    let side = f.reading("side");
    let seam_takes = f.reading("seam_takes");
    let seam_adds = f.reading("seam_adds");
    if let (Some(_), Some(adds)) = (&seam_takes, &seam_adds) {
        f.desk().add(kinds::TWO_ANSWERS.at(
            &adds.place,
            "a seam can not take something from the wall and add to it: `seam_takes` counts",
            "measure across two squares with their seam: where that is less than two sides write `seam_takes`, where it is more `seam_adds`",
        ));
    }
    let shrinkage = f.parsed("shrinkage", shrinkage);
    let border = f.reading("border");
    let overhead = f.yes_no("overhead");
    let map = table_name(&mut f, "map");
    f.done();
    Some(Squares {
        rows: rows?,
        columns: columns?,
        side,
        seam_adds: seam_adds.filter(|_| seam_takes.is_none()),
        seam_takes,
        shrinkage,
        border,
        overhead,
        map,
        made: Vec::new(),
    })
}

/// A share of a square's side in percent, as a part of one: 0 to 0.5.
fn shrinkage(text: &str) -> Result<f64, QuantityError> {
    let number = text.trim().strip_suffix('%').ok_or_else(|| QuantityError {
        kind: ErrorKind::NoUnit,
        message: format!("`{}` has no percent sign", text.trim()),
        remedy: "write what a side loses in the wash as `shrinkage: 3 %`".to_string(),
    })?;
    let value = Number::parse(number.trim())?.value;
    if (0.0..=50.0).contains(&value) {
        return Ok(value / 100.0);
    }
    Err(QuantityError {
        kind: ErrorKind::Impossible,
        message: format!("no square loses `{}` of its side", text.trim()),
        remedy: "measure a side before and after washing: 100 times the loss over the first is the percentage, 0 % to 50 %".to_string(),
    })
}

/// The name of a table beside piece.yaml. A path that leads out of the piece's folder is refused.
fn table_name(f: &mut Fields, field: &'static str) -> Option<At<String>> {
    let name = f.file_name(field)?;
    let inside = !name.starts_with(['/', '~'])
        && !name.contains(['\\', ':'])
        && name.split('/').all(|part| !matches!(part, "" | "." | ".."));
    if inside {
        return Some(name);
    }
    f.desk().add(kinds::LEAVES_FOLDER.at(
        &name.place,
        format!(
            "`{field}`: `{}` is not a plain name in the piece's folder",
            name.value
        ),
        "put the table beside piece.yaml and write its name alone",
    ));
    None
}
