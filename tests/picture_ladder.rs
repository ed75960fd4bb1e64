//! The colour ladder tells the colours of the piece in the order in which they were woven.

mod picture_support;

use image::{Rgb, RgbImage, imageops};
use offloom::picture::{
    Ask, BANDS, Band, CornerTrouble, Ladder, LadderAsk, Note, Rgb8, Side, Strip, develop,
};
use picture_support::*;

fn ladder_of(
    picture: &RgbImage,
    corners: Option<[[f64; 2]; 4]>,
    began: Side,
) -> (Ladder, Vec<Note>) {
    let ask = Ask {
        ladder: Some(LadderAsk { corners, began }),
        ..Ask::default()
    };
    let developed = develop(&jpeg(picture, 95), &ask);
    (
        developed.ladder.expect("a ladder was asked for"),
        developed.facts.notes,
    )
}

fn near(colour: Rgb8, wanted: [u8; 3]) -> bool {
    is_near([colour.r, colour.g, colour.b], wanted, 14)
}

/// The piece on a pale wall.
fn on_a_wall(piece: &RgbImage, wall: u32, left: i64, top: i64) -> RgbImage {
    let mut photo = RgbImage::from_pixel(wall, wall, Rgb([236, 234, 230]));
    imageops::overlay(&mut photo, piece, left, top);
    photo
}

const FOOT: [u8; 3] = [38, 52, 66];
const TOP: [u8; 3] = [172, 62, 44];

#[test]
fn the_ladder_begins_where_the_weaving_began_and_shows_no_wall() {
    let piece = tapestry(500, 600);
    let photo = on_a_wall(&piece, 800, 100, 80);
    let corners = [[100.0, 80.0], [600.0, 80.0], [600.0, 680.0], [100.0, 680.0]];
    let (ladder, notes) = ladder_of(&photo, Some(corners), Side::Foot);
    assert!(!ladder.assumed);
    assert!(
        !notes
            .iter()
            .any(|n| matches!(n, Note::Corners(_) | Note::CornersAssumed))
    );
    assert_eq!(ladder.bands.len(), BANDS);
    let first = &ladder.bands[0].strips;
    assert_eq!(first.len(), 1);
    assert!(near(first[0].colour, FOOT), "{}", first[0].colour);
    let last = &ladder.bands[BANDS - 1].strips;
    assert!(
        last.iter().any(|s| near(s.colour, TOP) && s.share > 0.5),
        "{last:?}"
    );
    assert!(
        !ladder.palette.iter().any(|c| near(*c, [236, 234, 230])),
        "{:?}",
        ladder.palette
    );
    assert!(ladder.palette.len() <= 8, "six yarns: {:?}", ladder.palette);
}

#[test]
fn a_piece_photographed_on_its_side_gives_the_same_ladder() {
    let piece = tapestry(500, 600);
    let (upright, _) = ladder_of(
        &piece,
        Some([[0.0, 0.0], [500.0, 0.0], [500.0, 600.0], [0.0, 600.0]]),
        Side::Foot,
    );
    let turned = imageops::rotate90(&piece);
    let corners = [[0.0, 0.0], [600.0, 0.0], [600.0, 500.0], [0.0, 500.0]];
    // Turned a quarter clockwise, the foot has come to the left.
    let (aside, _) = ladder_of(&turned, Some(corners), Side::Left);
    let share = |band: &Band, colour: Rgb8| -> f32 {
        let same = |s: &&Strip| near(s.colour, [colour.r, colour.g, colour.b]);
        band.strips.iter().filter(same).map(|s| s.share).sum()
    };
    let mut sum = 0.0;
    for (a, b) in upright.bands.iter().zip(&aside.bands) {
        for colour in &upright.palette {
            let difference = (share(a, *colour) - share(b, *colour)).abs();
            // One row of samples of six, right on a border, may fall to either side.
            assert!(difference < 0.2, "{a:?} {b:?}");
            sum += difference;
        }
    }
    assert!(sum / (BANDS as f32) < 0.03, "{sum}");
    // In the middle of the third stripe the order from left to right is the same, too.
    let (a, b) = (&upright.bands[20].strips, &aside.bands[20].strips);
    assert_eq!(a.len(), 2);
    for (s, t) in a.iter().zip(b) {
        assert!(near(s.colour, [t.colour.r, t.colour.g, t.colour.b]));
    }
}

#[test]
fn strips_stand_from_left_to_right_and_add_up() {
    let piece = RgbImage::from_fn(400, 400, |x, _| {
        Rgb(if x < 100 {
            [180, 40, 40]
        } else if x < 300 {
            [230, 220, 190]
        } else {
            [40, 60, 120]
        })
    });
    let all = [[0.0, 0.0], [400.0, 0.0], [400.0, 400.0], [0.0, 400.0]];
    let (ladder, _) = ladder_of(&piece, Some(all), Side::Foot);
    for band in &ladder.bands {
        let [left, middle, right] = band.strips.as_slice() else {
            panic!("{band:?}")
        };
        assert!(near(left.colour, [180, 40, 40]) && near(right.colour, [40, 60, 120]));
        assert!((left.share - 0.25).abs() < 0.02 && (middle.share - 0.5).abs() < 0.02);
        assert!((band.strips.iter().map(|s| s.share).sum::<f32>() - 1.0).abs() < 1e-3);
    }
    let (from_top, _) = ladder_of(&piece, Some(all), Side::Top);
    assert!(near(from_top.bands[0].strips[0].colour, [40, 60, 120]));
}

#[test]
fn the_blurred_border_of_two_colours_does_not_turn_up_as_a_third() {
    // Cream meets purple; the mixture passes by a grey-brown that stands elsewhere in the piece.
    let (cream, purple, brown) = (
        [222.0, 214.0, 196.0],
        [70.0, 60.0, 80.0],
        [150.0, 142.0, 144.0],
    );
    let piece = RgbImage::from_fn(400, 400, |_, y| {
        let y = f64::from(y);
        // Brown in the upper quarter, then cream, then purple, the border 4 pixels wide.
        let part = ((y - 250.0) / 4.0).clamp(0.0, 1.0);
        Rgb(std::array::from_fn(|c| {
            (if y < 100.0 {
                brown[c]
            } else {
                cream[c] * (1.0 - part) + purple[c] * part
            }) as u8
        }))
    });
    let all = [[0.0, 0.0], [400.0, 0.0], [400.0, 400.0], [0.0, 400.0]];
    let (ladder, _) = ladder_of(&piece, Some(all), Side::Foot);
    for (at, band) in ladder.bands.iter().enumerate().take(BANDS * 3 / 5) {
        for strip in &band.strips {
            let own = near(strip.colour, [222, 214, 196]) || near(strip.colour, [70, 60, 80]);
            assert!(own, "band {at}: {}", strip.colour);
        }
    }
}

#[test]
fn a_thin_line_of_its_own_colour_stays_in_the_ladder() {
    let piece = RgbImage::from_fn(600, 600, |_, y| {
        Rgb(match y {
            0..100 => [172, 62, 44],
            300..304 => [172, 62, 44],
            _ => [222, 214, 196],
        })
    });
    let all = [[0.0, 0.0], [600.0, 0.0], [600.0, 600.0], [0.0, 600.0]];
    let (ladder, _) = ladder_of(&piece, Some(all), Side::Foot);
    let middle = &ladder.bands[BANDS / 2 - 2..BANDS / 2 + 2];
    assert!(
        middle
            .iter()
            .flat_map(|b| &b.strips)
            .any(|s| near(s.colour, [172, 62, 44])),
        "{middle:?}"
    );
}

#[test]
fn without_corners_the_middle_is_taken_and_said_so() {
    let photo = on_a_wall(&tapestry(700, 700), 800, 50, 50);
    let (ladder, notes) = ladder_of(&photo, None, Side::Foot);
    assert!(ladder.assumed);
    assert!(notes.contains(&Note::CornersAssumed));
    assert!(!ladder.palette.iter().any(|c| near(*c, [236, 234, 230])));
}

#[test]
fn corners_that_cannot_be_used_are_reported_and_do_not_cost_the_ladder() {
    let photo = tapestry(400, 400);
    let outside = [[0.0, 0.0], [4000.0, 0.0], [4000.0, 4000.0], [0.0, 4000.0]];
    let (ladder, notes) = ladder_of(&photo, Some(outside), Side::Foot);
    assert!(ladder.assumed);
    assert!(notes.contains(&Note::Corners(CornerTrouble::Outside)));
}

#[test]
fn corners_count_in_the_upright_photo_even_when_it_is_large_and_stored_on_its_side() {
    let piece = tapestry(1400, 1600);
    let photo = on_a_wall(&piece, 2800, 700, 500);
    // Stored a quarter turned against the clock; EXIF 6 turns it back.
    let stored = imageops::rotate270(&photo);
    let bytes = with_exif(&jpeg(&stored, 92), ExifBlock::oriented(6));
    let corners = [
        [700.0, 500.0],
        [2100.0, 500.0],
        [2100.0, 2100.0],
        [700.0, 2100.0],
    ];
    let ask = Ask {
        ladder: Some(LadderAsk {
            corners: Some(corners),
            began: Side::Foot,
        }),
        ..Ask::default()
    };
    let ladder = develop(&bytes, &ask)
        .ladder
        .expect("a ladder was asked for");
    assert!(near(ladder.bands[0].strips[0].colour, FOOT));
    assert!(!ladder.palette.iter().any(|c| near(*c, [236, 234, 230])));
}

#[test]
fn the_drawing_covers_its_whole_area_and_starts_at_the_foot() {
    let (ladder, _) = ladder_of(&tapestry(400, 480), None, Side::Foot);
    let svg = ladder.to_svg(3.2, 120.0);
    assert_eq!(svg, ladder.to_svg(3.2, 120.0));
    assert!(svg.contains("width=\"3.200mm\" height=\"120.000mm\"") && svg.contains("crispEdges"));
    let attribute = |line: &str, name: &str| -> f64 {
        let from = line.find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
        line[from..].split('"').next().unwrap().parse().unwrap()
    };
    let rects: Vec<[f64; 4]> = svg
        .lines()
        .filter(|l| l.starts_with("<rect"))
        .map(|l| ["x", "y", "width", "height"].map(|name| attribute(l, name)))
        .collect();
    assert!(rects[0][1] > 117.0, "the first band stands at the foot");
    // Every place of a fine grid lies under some rectangle, and none reaches beyond the drawing.
    for i in 0..64 {
        for j in 0..480 {
            let (x, y) = (
                (f64::from(i) + 0.5) * 3.2 / 64.0,
                (f64::from(j) + 0.5) * 120.0 / 480.0,
            );
            assert!(
                rects
                    .iter()
                    .any(|[l, t, w, h]| (*l..=l + w).contains(&x) && (*t..=t + h).contains(&y))
            );
        }
    }
    assert!(
        rects
            .iter()
            .all(|[l, t, w, h]| l + w <= 3.2005 && t + h <= 120.0005)
    );
}
