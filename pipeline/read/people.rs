//! Owners and makers.

use super::fields::Fields;
use crate::record::{Age, Consent, Maker, Makers, Owner, Squares};

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
    f.done();
    Some(Maker {
        name: name?,
        age,
        consent,
    })
}

fn squares(mut f: Fields) -> Option<Squares> {
    let rows = f.whole("rows");
    let rows = f.needed("rows", rows, "8");
    let columns = f.whole("columns");
    let columns = f.needed("columns", columns, "12");
    let side = f.reading("side");
    let map = f.text("map");
    f.done();
    Some(Squares {
        rows: rows?,
        columns: columns?,
        side,
        map,
    })
}
