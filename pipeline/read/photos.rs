//! Photographs as listed. A file name that leads out of `photos/` is refused here.

use super::fields::Fields;
use super::kinds;
use super::values::{Desk, parsed};
use super::yaml::{Content, Node};
use crate::quantity::Number;
use crate::record::{At, Corners, Photo, View};

pub(super) fn photo(mut f: Fields) -> Option<Photo> {
    let desk = f.desk();
    let file = f.file_name("file");
    let file = f.needed("file", file, "front.jpg").filter(|file| {
        let inside = !file.starts_with(['/', '~'])
            && !file.contains(['\\', ':'])
            && file.split('/').all(|part| !matches!(part, "" | "." | ".."));
        if !inside {
            let leaves = file.starts_with(['/', '~', '\\'])
                || file.contains(":\\")
                || file.split(['/', '\\']).any(|part| part == "..");
            let message = if leaves {
                format!("`{}` leads out of the folder `photos`", file.value)
            } else {
                format!(
                    "`{}` is not a plain name in the folder `photos`",
                    file.value
                )
            };
            desk.add(kinds::LEAVES_FOLDER.at(
                &file.place,
                message,
                "put the photograph into the piece's folder `photos` and write its name alone",
            ));
        }
        inside
    });
    let view = f.word("view", View::ALL);
    let view = f.needed("view", view, "front");
    let alt = f.text("alt");
    let corners = f.nodes("corners");
    let corners = (!corners.is_empty())
        .then(|| four_points(desk, &f, &corners))
        .flatten();
    let credit = f.text("credit");
    let rights = f.text("rights");
    f.done();
    Some(Photo {
        file: file?,
        view: view?,
        alt,
        corners,
        credit,
        rights,
    })
}

fn four_points(desk: &Desk, f: &Fields, nodes: &[&Node]) -> Option<At<Corners>> {
    let mut points = [[0.0; 2]; 4];
    let mut right = nodes.len() == 4;
    for (point, node) in points.iter_mut().zip(nodes) {
        match &node.content {
            Content::List(xy) if xy.len() == 2 => {
                for (value, node) in point.iter_mut().zip(xy) {
                    let number =
                        parsed(desk, "corners", node, |t| Number::parse(t).map(|n| n.value));
                    *value = number?.value;
                }
            }
            _ => right = false,
        }
    }
    let place = nodes.first().map_or(&f.place, |n| &n.place);
    if !right {
        desk.add(kinds::WRONG_SHAPE.at(
            place,
            "`corners` must be four points",
            "write each as across and down in pixels: `corners: [[112, 88], [5890, 130], [5850, 4302], [90, 4260]]`",
        ));
        return None;
    }
    Some(At {
        value: Corners(points),
        place: place.clone(),
    })
}
