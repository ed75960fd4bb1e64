//! What must hold of the reckoning whatever the piece: mass balance, scaling, printing and reading.

use offloom::quantity::{Dimension, Hours, Length, Mass, Money, Reading, Sett, YarnCount};
use offloom::read::{piece_from, studio_from};
use offloom::reckon::{Reckoning, printed};

/// A generator of its own (Knuth's MMIX constants), evenly from 0 to 1.
struct Dice(u64);
impl Dice {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
    fn from(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.next()
    }
}

fn reckoned(text: &str) -> Reckoning {
    let (studio, _) = studio_from(&"studio.yaml".into(), "studio: A\nweaver: B\n");
    let (piece, slips) = piece_from("p", &"piece.yaml".into(), text);
    Reckoning::of(
        &studio.unwrap(),
        &piece.unwrap_or_else(|| panic!("{slips:?}\n{text}")),
    )
}

fn piece(k: f64, dice: &mut Dice) -> String {
    // Micrometres, so that scaling loses nothing in the rounding.
    let mm = |x: f64| format!("{:.6} mm", k * x);
    let (h, w) = (dice.from(300.0, 2500.0), dice.from(300.0, 2500.0));
    let lean = dice.from(-8.0, 8.0);
    let diagonal = (h * h + w * w).sqrt();
    format!(
        "title: Trial\nmade: 2026\nloom: {{ends: {:.0}, width: {}, woven: {}, warp_length: {}}}\n\
         warp: {{count: Ne 12/{:.0}, fibre: {{cotton: 100}}}}\n\
         weft: [{{fibre: {{wool: 100}}, used: {:.0} g}}, {{fibre: {{silk: 100}}, weighed: {{before: {:.0} g, after: 90 g}}}}]\n\
         measured: {{height: [{}, {}], width: [{}, {}], diagonals: [{}, {}], mass: {:.0} g}}\n",
        dice.from(60.0, 700.0),
        mm(w * 1.02),
        mm(h * 1.03),
        mm(h * 1.3),
        dice.from(4.0, 18.0),
        dice.from(100.0, 3000.0),
        dice.from(100.0, 900.0),
        mm(h + 1.0),
        mm(h - 1.0),
        mm(w + 1.0),
        mm(w - 0.5),
        mm(diagonal + lean),
        mm(diagonal - lean),
        dice.from(300.0, 5000.0),
    )
}

#[test]
fn warp_and_thrums_make_what_was_strung_and_the_residual_closes_the_balance() {
    let mut dice = Dice(3);
    for _ in 0..300 {
        let m = reckoned(&piece(1.0, &mut dice)).masses;
        let g = |f: &Option<offloom::reckon::Figure<Mass>>| f.as_ref().unwrap().value.g();
        assert!((g(&m.warp) + g(&m.thrums) - g(&m.warp_strung)).abs() < 1e-6);
        let weft: f64 = m.weft.iter().map(|w| g(&w.mass)).sum();
        assert!((g(&m.warp) + weft - g(&m.predicted)).abs() < 1e-6);
        assert!((g(&m.predicted) + g(&m.residual) - g(&m.weighed)).abs() < 1e-6);
    }
}

#[test]
fn a_piece_k_times_as_large_has_k_squared_the_area() {
    for (seed, k) in [(5, 2.0), (6, 0.5), (7, 3.0)] {
        for round in 0..40 {
            let (small, large) = (
                reckoned(&piece(1.0, &mut Dice(seed + 100 * round))),
                reckoned(&piece(k, &mut Dice(seed + 100 * round))),
            );
            let ratio = large.size.area.value.m2() / small.size.area.value.m2();
            assert!((ratio / (k * k) - 1.0).abs() < 1e-7, "{ratio}");
            let lean = |r: &Reckoning| r.size.lean.as_ref().unwrap().value.mm();
            assert!((lean(&large) / lean(&small) / k - 1.0).abs() < 1e-4);
            let angle = |r: &Reckoning| r.size.out_of_square.unwrap();
            assert!((angle(&large) - angle(&small)).abs() < 1e-4);
            let lost = |r: &Reckoning| r.web.draw_in.as_ref().unwrap().value;
            assert!((lost(&large) - lost(&small)).abs() < 1e-8);
        }
    }
}

#[test]
fn a_piece_turned_on_its_side_keeps_its_area_and_swaps_draw_in_and_take_up() {
    let mut dice = Dice(9);
    for _ in 0..100 {
        let text = piece(1.0, &mut dice);
        let (upright, turned) = (
            reckoned(&format!("top: finish\n{text}")),
            reckoned(&format!("top: left\n{text}")),
        );
        assert_eq!(upright.size.area.value, turned.size.area.value);
        let across = |r: &Reckoning| {
            (1.0 - r.web.draw_in.as_ref().unwrap().value) * r.web.width.unwrap().mm()
        };
        assert!((across(&turned) - turned.size.mean_height.value.mm()).abs() < 1e-6);
        assert!((across(&upright) - upright.size.mean_width.value.mm()).abs() < 1e-6);
    }
}

#[test]
fn quantities_are_read_as_they_are_printed() {
    fn both<D: Dimension>(dice: &mut Dice) {
        for (unit, factor) in D::UNITS {
            for places in 0..4 {
                let x = dice.from(0.5, 4000.0);
                let text = format!("{x:.places$} {unit}");
                let reading = Reading::<D>::parse(&text).unwrap();
                let again = format!("{:.places$} {unit}", reading.value.base() / factor);
                assert_eq!(again, text);
                let half = reading.half_place.base() / factor;
                assert!((half - 0.5 * libm::pow(10.0, -(places as f64))).abs() < 1e-9);
                assert_eq!(Reading::<D>::parse(&reading.text).unwrap(), reading);
            }
        }
    }
    let mut dice = Dice(12);
    for _ in 0..200 {
        both::<Length>(&mut dice);
        both::<Mass>(&mut dice);
        both::<Sett>(&mut dice);
        both::<Hours>(&mut dice);
        for system in ["Ne", "NeW", "NeL", "Nm"] {
            let text = format!(
                "{system} {:.0}/{:.0}",
                dice.from(12.0, 60.0),
                dice.from(2.0, 5.0)
            );
            if let Ok(count) = YarnCount::parse(&text) {
                assert_eq!(YarnCount::parse(&count.text).unwrap(), count);
            }
        }
        let money = format!("{:.2} EUR", dice.from(1.0, 90_000.0));
        let read = Money::parse(&money).unwrap();
        assert_eq!(Money::parse(&read.to_string()).unwrap(), read);
    }
}

#[test]
fn a_printed_figure_lies_within_its_own_doubt() {
    let mut dice = Dice(20);
    for _ in 0..20_000 {
        let u = libm::pow(10.0, dice.from(-4.0, 3.0));
        let value = u * dice.from(1.0, 5000.0);
        let text = printed(value, Some(u));
        let (shown, doubt) = text.split_once(" ± ").unwrap();
        let (shown, doubt): (f64, f64) = (shown.parse().unwrap(), doubt.parse().unwrap());
        assert!((shown - value).abs() <= 0.051 * u, "{value} {u}: {text}");
        assert!((doubt / u - 1.0).abs() <= 0.051, "{value} {u}: {text}");
        let digits = text
            .split(" ± ")
            .nth(1)
            .unwrap()
            .trim_start_matches(['0', '.'])
            .replace('.', "");
        assert!(digits.trim_end_matches('0').len() <= 2, "{text}");
    }
}
