//! The description of a bundle, from the record (which is public for good), the sizes, and what each file of
//! the bundle is. Nothing private is looked at.

use super::parcel::Parcel;
use crate::bundle::{
    Artwork, DESCRIPTION_FILE, DescribedFile, Description, Item, Quantity, RENAMED_FILE, Source,
    archive_names,
};
use crate::record::{Paper, Photo, View, fibre_named};
use crate::seal::{AUTHORITY_FILE, TIME_STAMP_FILE};
use std::collections::BTreeSet;

/// Adds the description of a payload to it.
pub(super) fn with_description(
    parcel: &Parcel,
    revision: u32,
    mut payload: Vec<Item>,
) -> Vec<Item> {
    let description = Description {
        artwork: artwork(parcel),
        maker: parcel.studio.weaver.value.clone(),
        studio: parcel.studio.studio.value.clone(),
        published: published(parcel),
        revision,
        rights:
            "All rights stay with the maker and the photographers, unless a file says otherwise."
                .to_string(),
        program: ("offloom".to_string(), env!("CARGO_PKG_VERSION").to_string()),
        files: files(parcel, &payload),
    };
    payload.push(Item {
        path: DESCRIPTION_FILE.to_string(),
        from: Source::Bytes(description.to_bytes()),
    });
    payload
}

/// The day on the papers; without one the last day that the record tells of, for a crate must have a date and
/// the clock is not asked.
fn published(parcel: &Parcel) -> String {
    let piece = parcel.piece;
    let day = piece.issued.as_ref().map(|d| d.value);
    let measured = piece.measured.on.as_ref().map(|d| d.value);
    match day.or(measured) {
        Some(day) => day.to_string(),
        None => {
            let made = piece.made.value.latest().or(piece.made.value.earliest());
            made.map_or_else(|| "1970".to_string(), |day| format!("{:04}", day.year))
        }
    }
}

fn artwork(parcel: &Parcel) -> Artwork {
    let (piece, m) = (parcel.piece, &parcel.piece.measured);
    let text =
        |t: &Option<crate::record::At<String>>| t.as_ref().map(|t| t.value.trim().to_string());
    let most = |all: &[crate::record::At<crate::quantity::Reading<crate::quantity::Length>>]| {
        all.iter().map(|r| r.value.value.mm()).fold(0.0, f64::max)
    };
    let centimetres = |property, mm: f64| Quantity {
        property,
        value: mm / 10.0,
        unit: "CMT",
        written: "cm",
    };
    let mut measures = vec![
        centimetres("height", most(&m.height)),
        centimetres("width", most(&m.width)),
    ];
    measures.extend(m.thickness.as_ref().map(|t| Quantity {
        property: "depth",
        value: t.value.value.mm(),
        unit: "MMT",
        written: "mm",
    }));
    measures.extend(m.mass.as_ref().map(|w| Quantity {
        property: "weight",
        value: w.value.value.kg(),
        unit: "KGM",
        written: "kg",
    }));
    let yarns = piece
        .weft
        .iter()
        .map(|y| &y.fibre)
        .chain([&piece.warp.fibre]);
    let mut materials: Vec<String> = Vec::new();
    for share in yarns.flatten() {
        let written = share.fibre.value.as_str();
        let name = fibre_named(written).map_or(written, |f| f.name);
        if !materials.iter().any(|m| m == name) {
            materials.push(name.to_string());
        }
    }
    let (groups, check) = parcel.number.spoken();
    let made = piece.made_text.trim().to_string();
    let plain =
        !made.contains(['/', '~', '?', '%', 'X', '[', '{', '.', 'Y', 'S']) && !is_season(&made);
    Artwork {
        title: piece.title.value.trim().to_string(),
        made_plain: plain.then(|| made.clone()),
        made,
        place: text(&parcel.studio.place),
        technique: text(&piece.technique),
        materials,
        measures,
        statement: text(&piece.statement),
        record: (
            parcel.number.ni(),
            format!("to read aloud: {groups}, check digit {check}"),
        ),
    }
}

/// Months from 21 on are seasons.
fn is_season(made: &str) -> bool {
    made.split('-')
        .nth(1)
        .and_then(|m| m.parse::<u8>().ok())
        .is_some_and(|m| m > 12)
}

fn files(parcel: &Parcel, payload: &[Item]) -> Vec<DescribedFile> {
    let mut paths: Vec<&str> = payload.iter().map(|item| item.path.as_str()).collect();
    paths.sort_unstable();
    let names = archive_names(paths.iter().copied(), &[RENAMED_FILE]);
    let in_bag = |path: &str| {
        let at = paths.binary_search(&path).ok()?;
        names.get(at).map(|name| name.archived.clone())
    };
    let here: BTreeSet<&str> = paths.iter().copied().collect();
    let photos: Vec<String> = parcel
        .piece
        .photos
        .iter()
        .map(|p| format!("piece/photos/{}", p.file.value))
        .collect();
    let told = ["piece/piece.yaml", "piece/notes.md", "studio.txt"];
    let sources: Vec<String> = told
        .iter()
        .map(|s| s.to_string())
        .chain(photos)
        .filter(|s| here.contains(s.as_str()))
        .filter_map(|s| in_bag(&s))
        .collect();
    let each = payload.iter().filter_map(|item| {
        let photo = photo_of(parcel, &item.path);
        let given = ["studio.txt", TIME_STAMP_FILE, AUTHORITY_FILE];
        let made = !item.path.starts_with("piece/") && !given.contains(&item.path.as_str());
        let from = match (made, photo) {
            (true, Some(photo)) => in_bag(&format!("piece/photos/{}", photo.file.value))
                .into_iter()
                .collect(),
            (true, None) => sources.clone(),
            (false, _) => Vec::new(),
        };
        Some(DescribedFile {
            path: in_bag(&item.path)?,
            size: item.from.size(),
            name: named(&item.path, photo),
            caption: photo.and_then(|p| p.alt.as_ref()).map(|a| a.value.clone()),
            credit: photo
                .and_then(|p| p.credit.as_ref())
                .map(|c| c.value.clone()),
            rights: photo
                .and_then(|p| p.rights.as_ref())
                .map(|r| r.value.clone()),
            is_picture: photo.is_some(),
            from,
        })
    });
    each.collect()
}

/// The listed photograph that a file is, or that a plate was made from.
fn photo_of<'a>(parcel: &'a Parcel, path: &str) -> Option<&'a Photo> {
    let photos = &parcel.piece.photos;
    if let Some(file) = path.strip_prefix("piece/photos/") {
        return photos.iter().find(|p| p.file.value == file);
    }
    let plate = path.strip_prefix("plates/")?.strip_suffix(".jpg")?;
    let (name, _) = plate.rsplit_once('-')?;
    photos.iter().find(|p| {
        parcel
            .plates
            .iter()
            .any(|(plate, file)| plate == name && *file == p.file.value)
    })
}

fn named(path: &str, photo: Option<&Photo>) -> String {
    let shown = photo.map(|p| {
        let view = View::ALL.iter().find(|(_, v)| *v == p.view.value);
        view.map_or("photograph", |(word, _)| *word)
    });
    let paper = path
        .strip_prefix("papers/")
        .and_then(|file| Paper::ALL.iter().find(|p| p.files().contains(&file)));
    match (path, shown, paper) {
        (_, Some(view), _) if path.starts_with("plates/") => {
            let size = path
                .rsplit_once('-')
                .map_or("", |(_, rest)| rest.trim_end_matches(".jpg"));
            format!("Plate of the view {view}, for {size}")
        }
        (_, Some(view), _) => format!("Photograph, view {view}"),
        (_, _, Some(paper)) => {
            let plain = paper.name().replace('-', " ");
            format!("{}{}", plain[..1].to_uppercase(), &plain[1..])
        }
        ("record.json", ..) => "Record: what was declared for good".to_string(),
        ("reckoning.json", ..) => "Reckoning: every figure with its source".to_string(),
        ("studio.txt", ..) => "What the studio says of itself".to_string(),
        ("piece/piece.yaml", ..) => "The weaver's specifications".to_string(),
        (TIME_STAMP_FILE, ..) => {
            "Time-stamp of an authority over the record (RFC 3161)".to_string()
        }
        (AUTHORITY_FILE, ..) => "Certificates of the authority that stamped the record".to_string(),
        ("piece/notes.md", ..) => "The weaver's process notes".to_string(),
        _ => path.rsplit('/').next().unwrap_or(path).to_string(),
    }
}
