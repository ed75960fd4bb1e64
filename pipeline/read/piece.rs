//! piece.yaml to a [`Piece`]; materials, measures and people are read in files of their own.

use super::fields::Fields;
use super::values::{Desk, parsed, whole_number};
use super::yaml::Node;
use super::{hanging, materials, measured, packing, people, photos};
use crate::quantity::Edtf;
use crate::record::{
    At, Credit, Kind, MissingHours, MoneyMatters, Notes, Piece, Place, Series, Stage, Top,
};

/// Reads a piece; `None` where a needed field is missing or wrong. `file` is the place of the file
/// as a whole.
pub(super) fn piece(desk: &Desk, slug: &str, file: &Place, root: &Node) -> Option<Piece> {
    let mut f = Fields::open(desk, "", file, root)?;
    let title = f.text("title");
    let title = f.needed("title", title, "Name of the Piece");
    // The text is kept beside the date: the papers may quote it.
    let made = f.parsed("made", |text| {
        Ok((Edtf::parse(text)?, text.trim().to_string()))
    });
    let made = f.needed("made", made, "2026-03/2026-06");
    let kind = f.word("kind", Kind::ALL);
    let series = f.group("series").and_then(series);
    let top = f.word("top", Top::ALL);
    let technique = f.text("technique");
    let inscription = f.text("inscription");
    let issued = f.day("issued");
    let statement = f.prose("statement");
    let credits = f.groups("credits").into_iter().filter_map(credit).collect();
    let loom = f.group("loom").map(materials::loom).unwrap_or_default();
    let warp = f.group("warp");
    let warp = f.needed(
        "warp",
        warp,
        "{yarn: cotton twine, count: Ne 12/6, fibre: {cotton: 100}}",
    );
    let warp = warp.map(materials::warp);
    let weft: Vec<_> = f.groups("weft").into_iter().map(materials::weft).collect();
    let weft = f.needed(
        "weft",
        (!weft.is_empty()).then_some(weft),
        "[{name: sea green, count: NeW 2/8, fibre: {wool: 100}, used: 410 g}]",
    );
    let parts = f.group("parts").map(materials::parts).unwrap_or_default();
    let label = f.group("label").map(materials::label).unwrap_or_default();
    let finishing = f
        .group("finishing")
        .map(materials::finishing)
        .unwrap_or_default();
    let measured = f.group("measured");
    let measured = f.needed("measured", measured, "{height: 121.4 cm, width: 166.0 cm}");
    let measured = measured.and_then(measured::measured);
    let photos = f
        .groups("photos")
        .into_iter()
        .filter_map(photos::photo)
        .collect();
    let owners = f
        .groups("owners")
        .into_iter()
        .filter_map(people::owner)
        .collect();
    let hanging = f.group("hanging").map(hanging::hanging);
    let display = f.group("display").map(measured::display);
    let care = f.group("care").map(measured::care);
    let packing = f.group("packing").map(packing::packing);
    let money = f.group("money").map(money);
    let missing_hours = f.word("missing_hours", MissingHours::ALL);
    let makers = f.group("makers").map(people::makers);
    f.done();
    let made = made?;
    let made_text = made.value.1.clone();
    Some(Piece {
        slug: slug.to_string(),
        place: file.clone(),
        title: title?,
        made: made.map(|date| date.0),
        made_text,
        kind,
        series,
        top,
        technique,
        inscription,
        issued,
        statement,
        credits,
        loom,
        warp: warp?,
        weft: weft?,
        parts,
        label,
        finishing,
        measured: measured?,
        photos,
        owners,
        hanging,
        display,
        care,
        packing,
        money,
        makers,
        missing_hours,
        notes: Notes::default(),
    })
}

fn series(mut f: Fields) -> Option<Series> {
    let name = f.text("name");
    let name = f.needed("name", name, "Name of the Series");
    let desk = f.desk();
    let numbers: Vec<At<u32>> = f
        .nodes("number")
        .into_iter()
        .filter_map(|node| parsed(desk, "number", node, whole_number))
        .collect();
    let place = numbers.first().map(|n| n.place.clone());
    let number = place.map(|place| At {
        value: numbers.iter().map(|n| n.value).collect(),
        place,
    });
    let of = f.whole("of");
    f.done();
    Some(Series {
        name: name?,
        number,
        of,
    })
}

fn credit(mut f: Fields) -> Option<Credit> {
    let what = f.text("what");
    let what = f.needed("what", what, "colour study after …");
    let who = f.text("who");
    f.done();
    Some(Credit { what: what?, who })
}

fn money(mut f: Fields) -> MoneyMatters {
    let price = f.money("price");
    let insured = f.money("insured");
    let stages = f.groups("stages").into_iter().filter_map(stage).collect();
    f.done();
    MoneyMatters {
        price,
        insured,
        stages,
    }
}

fn stage(mut f: Fields) -> Option<Stage> {
    let what = f.text("what");
    let what = f.needed("what", what, "deposit");
    let amount = f.money("amount");
    let amount = f.needed("amount", amount, "2200 GBP");
    let on = f.date("on");
    f.done();
    Some(Stage {
        what: what?,
        amount: amount?,
        on,
    })
}
