//! Closed forms, handbook tables and worked examples.

use super::*;

#[test]
fn a_bar_held_at_its_ends_sags_as_every_table_has_it() {
    let bent = solved(&even(1.0, &[0.0, 1.0]));
    let sag = bent.most_sag(0.0, 1.0);
    // Source, published: simple span under an even load in the structural tables: 5wL⁴/384EI in the middle, wL²/8, wL/2.
    near(sag.value, 5.0 / 384.0, 1e-15);
    near(sag.at, 0.5, 1e-7);
    near(bent.widest_moment().value, 0.125, 1e-15);
    near(bent.reactions[0], 0.5, 1e-15);
    near(bent.slope_at(0.0), 1.0 / 24.0, 1e-15);
}

#[test]
fn a_published_worked_beam_comes_out() {
    // Source, published: worked example of a beam of 6 m, 2 kN/m, E 200 GPa, I 8e-6 m⁴: the page prints 21 mm (21.09).
    let beam = Beam {
        stiffness: 200_000.0 * 8e6,
        spread: vec![Spread::even(0.0, 6000.0, 2.0)],
        ..even(6000.0, &[0.0, 6000.0])
    };
    near(solved(&beam).most_sag(0.0, 6000.0).value, 21.09, 0.005);
}

#[test]
fn common_bars_under_a_tapestry_sag_as_worked_by_hand() {
    let w = |load: f64, e: f64, i: f64, a: f64| {
        let beam = Beam {
            stiffness: e * i,
            spread: vec![Spread::even(0.0, 1500.0, load)],
            ..even(1500.0, &[a, 1500.0 - a])
        };
        solved(&beam).most_sag(0.0, 1500.0).value
    };
    // Source, exact case: 1500 mm, N/mm, MPa, mm⁴: pine and oak 18 × 70, pine 25, aluminium 25 × 2, steel 20 × 1.5, acrylic 25, aluminium 5 × 30; sag held at the ends and at 0.22315 L, worked by hand to the digits given.
    for (load, e, i, ends, best) in [
        (0.034_36, 8_900.0, 514_500.0, 0.49, 0.010),
        (0.037_20, 12_500.0, 514_500.0, 0.38, 0.008),
        (0.031_35, 8_900.0, 19_175.0, 12.1, 0.251),
        (0.033_25, 69_000.0, 9_628.0, 3.30, 0.068),
        (0.036_13, 200_000.0, 3_754.0, 3.17, 0.066),
        (0.035_15, 3_200.0, 19_175.0, 37.8, 0.782),
        (0.033_39, 69_000.0, 11_250.0, 2.84, 0.059),
    ] {
        near(
            w(load, e, i, 0.0),
            ends,
            if ends > 10.0 { 0.05 } else { 0.0055 },
        );
        near(w(load, e, i, 0.223_15 * 1500.0), best, 0.000_55);
    }
}

#[test]
fn two_to_eight_supports_carry_what_the_handbook_says() {
    // Source, published: Hicks, Civil Engineering Formulas, table 2.1, even load on equal spans, 3 to 8 supports: reactions as shares of w times a span.
    let rows: [&[f64]; 6] = [
        &[3.0 / 8.0, 10.0 / 8.0, 3.0 / 8.0],
        &[0.4, 1.1, 1.1, 0.4],
        &[
            11.0 / 28.0,
            32.0 / 28.0,
            26.0 / 28.0,
            32.0 / 28.0,
            11.0 / 28.0,
        ],
        &[
            15.0 / 38.0,
            43.0 / 38.0,
            37.0 / 38.0,
            37.0 / 38.0,
            43.0 / 38.0,
            15.0 / 38.0,
        ],
        &[
            41.0 / 104.0,
            118.0 / 104.0,
            100.0 / 104.0,
            106.0 / 104.0,
            100.0 / 104.0,
            118.0 / 104.0,
            41.0 / 104.0,
        ],
        &[
            56.0 / 142.0,
            161.0 / 142.0,
            137.0 / 142.0,
            143.0 / 142.0,
            143.0 / 142.0,
            137.0 / 142.0,
            161.0 / 142.0,
            56.0 / 142.0,
        ],
    ];
    for row in rows {
        let spans = row.len() - 1;
        let supports: Vec<f64> = (0..=spans).map(|i| i as f64).collect();
        let bent = solved(&even(spans as f64, &supports));
        for (got, want) in bent.reactions.iter().zip(row) {
            near(*got, *want, 1e-12);
        }
    }
    // Source, published: Hicks, Civil Engineering Formulas, table 2.1, the same: moments over the supports 1/8; 1/10; 3/28, 2/28; 11/104, 8/104, 9/104 of w times a span squared.
    for (spans, at, want) in [
        (2, 1.0, 1.0 / 8.0),
        (3, 1.0, 1.0 / 10.0),
        (4, 1.0, 3.0 / 28.0),
        (4, 2.0, 2.0 / 28.0),
        (6, 1.0, 11.0 / 104.0),
        (6, 2.0, 8.0 / 104.0),
        (6, 3.0, 9.0 / 104.0),
    ] {
        let supports: Vec<f64> = (0..=spans).map(f64::from).collect();
        let bent = solved(&even(f64::from(spans), &supports));
        near(bent.moment_at(at), -want, 1e-12);
    }
    // Source, published: beam formulas, three equal spans under an even load: most sag 0.0069 wl⁴/EI at 0.446 l from the end.
    let sag = solved(&even(3.0, &[0.0, 1.0, 2.0, 3.0])).most_sag(0.0, 3.0);
    near(sag.value, 0.0069, 5e-5);
    assert!(
        (sag.at - 0.446).abs() < 5e-4 || (sag.at - 2.554).abs() < 5e-4,
        "{sag:?}"
    );
}

#[test]
fn part_loaded_spans_lift_the_far_support() {
    // Source, published: beam formulas, three equal spans, two of them loaded: reactions 0.383, 1.200, 0.450, −0.033 wl; moment over the third support −0.0333 wl².
    let mut beam = even(3.0, &[0.0, 1.0, 2.0, 3.0]);
    beam.spread = vec![Spread::even(0.0, 2.0, 1.0)];
    let bent = solved(&beam);
    for (got, want) in bent.reactions.iter().zip([0.383, 1.2, 0.45, -0.033]) {
        near(*got, want, 5e-4);
    }
    near(bent.moment_at(2.0), -0.0333, 5e-5);
    // Source, published: beam formulas, four equal spans with the first and third loaded: reactions 0.446, 0.572, 0.464, 0.572, −0.054 wl; most sag 0.0097 wl⁴/EI at 0.477 l.
    let mut beam = even(4.0, &[0.0, 1.0, 2.0, 3.0, 4.0]);
    beam.spread = vec![Spread::even(0.0, 1.0, 1.0), Spread::even(2.0, 3.0, 1.0)];
    let bent = solved(&beam);
    for (got, want) in bent
        .reactions
        .iter()
        .zip([0.446, 0.572, 0.464, 0.572, -0.054])
    {
        near(*got, want, 6e-4);
    }
    let sag = bent.most_sag(0.0, 4.0);
    near(sag.value, 0.0097, 5e-5);
    near(sag.at, 0.477, 1e-3);
}

#[test]
fn an_overhanging_bar_follows_its_closed_form() {
    // Source, published: two supports each a in from the ends of an evenly loaded bar, the derivation in the course text on Airy supports: middle sag ws²(5s² − 24a²)/384EI, end wa(3a²(a + 2s) − s³)/24EI, moments wa²/2 and w(s² − 4a²)/8.
    for a in [0.0, 0.1, 0.2, 0.22, 0.25, 0.3, 0.4] {
        let s = 1.0 - 2.0 * a;
        let bent = solved(&even(1.0, &[a, 1.0 - a]));
        near(
            bent.sag_at(0.5),
            s * s * (5.0 * s * s - 24.0 * a * a) / 384.0,
            1e-15,
        );
        let end = a * (3.0 * a * a * (a + 2.0 * s) - s * s * s) / 24.0;
        near(bent.sag_at(0.0), end, 1e-15);
        near(bent.sag_at(1.0), end, 1e-15);
        near(bent.moment_at(a), -a * a / 2.0, 1e-15);
        near(bent.moment_at(0.5), (s * s - 4.0 * a * a) / 8.0, 1e-15);
    }
}

#[test]
fn the_special_places_of_two_supports_are_special() {
    let at = |a: f64| solved(&even(1.0, &[a, 1.0 - a]));
    // Source, published: Airy points, supports L/√3 apart: the ends lie level.
    let airy = (1.0 - 1.0 / 3.0_f64.sqrt()) / 2.0;
    near(at(airy).slope_at(0.0), 0.0, 1e-15);
    assert!(at(airy - 0.01).slope_at(0.0) * at(airy + 0.01).slope_at(0.0) < 0.0);
    // Source, published: Bessel points, supports 0.5594 L apart: length along the neutral axis best kept, so the mean square of the slope is least there.
    let shortened = |a: f64| {
        let bent = at(a);
        let n = 4000;
        let slope = |i: i32| bent.slope_at((f64::from(i) + 0.5) / f64::from(n));
        (0..n).map(|i| slope(i) * slope(i)).sum::<f64>()
    };
    let bessel = (1.0 - 0.5594) / 2.0;
    assert!(shortened(bessel) < shortened(bessel - 0.0005));
    assert!(shortened(bessel) < shortened(bessel + 0.0005));
    // Source, exact case: the least greatest moment is where hogging a²/2 equals sagging (s² − 4a²)/8: a = (√2 − 1)/2, 0.02145 wL².
    let least = at((2.0_f64.sqrt() - 1.0) / 2.0);
    near(least.widest_moment().value.abs(), 0.021_45, 5e-6);
    near(
        least.moment_at(0.5),
        -least.moment_at(least.supports[0]),
        1e-15,
    );
}

#[test]
fn a_load_that_grows_along_the_bar_follows_its_closed_form() {
    let mut beam = even(1.0, &[0.0, 1.0]);
    beam.spread = vec![Spread {
        from: 0.0,
        to: 1.0,
        start: 0.0,
        end: 1.0,
    }];
    let bent = solved(&beam);
    let sag = bent.most_sag(0.0, 1.0);
    // Source, published: mechanical calculations page, simple span under a load from nothing to w: 0.00652 wL⁴/EI at 0.5192 L.
    near(sag.value, 0.006_52, 5e-6);
    near(sag.at, 0.5192, 2e-4);
    // Source, exact case: the same by statics: reactions wL/6 and wL/3, greatest moment wL²/(9√3) at L/√3.
    near(bent.reactions[0], 1.0 / 6.0, 1e-15);
    near(bent.reactions[1], 1.0 / 3.0, 1e-15);
    near(
        bent.widest_moment().value,
        1.0 / (9.0 * 3.0_f64.sqrt()),
        1e-15,
    );
    near(bent.widest_moment().at, 1.0 / 3.0_f64.sqrt(), 1e-7);
}

#[test]
fn a_weight_at_one_place_follows_its_closed_form() {
    let mut beam = even(3.0, &[0.0, 2.0]);
    beam.spread.clear();
    beam.points = vec![(3.0, 1.0)];
    let bent = solved(&beam);
    // Source, published: beam formulas, load F at the end of an overhang a beyond a span l: reactions −Fa/l and F(l + a)/l, tip Fa²(l + a)/3EI, rise between Fal²/(9√3 EI) at l/√3.
    near(bent.reactions[0], -0.5, 1e-15);
    near(bent.reactions[1], 1.5, 1e-15);
    near(bent.sag_at(3.0), 1.0, 1e-14);
    let rise = bent.widest_sag(0.0, 2.0);
    near(rise.value, -4.0 / (9.0 * 3.0_f64.sqrt()), 1e-14);
    near(rise.at, 2.0 / 3.0_f64.sqrt(), 1e-6);
    // Source, exact case: a load right above a support goes straight into it and bends nothing.
    beam.points = vec![(2.0, 1.0), (0.0, 3.0)];
    let bent = solved(&beam);
    assert_eq!(bent.reactions, [3.0, 1.0]);
    assert_eq!(bent.widest_moment().value, 0.0);
    // Source, exact case: simple span, load in the middle: PL³/48EI and PL/4.
    let mut beam = even(2.0, &[0.0, 2.0]);
    beam.spread.clear();
    beam.points = vec![(1.0, 1.0)];
    near(solved(&beam).most_sag(0.0, 2.0).value, 8.0 / 48.0, 1e-15);
    near(solved(&beam).widest_moment().value, 0.5, 1e-15);
    // Source, exact case: a cantilevered end left of the supports mirrors one to their right.
    let mut beam = even(3.0, &[1.0, 3.0]);
    beam.spread.clear();
    beam.points = vec![(0.0, 1.0)];
    near(solved(&beam).sag_at(0.0), 1.0, 1e-14);
    near(solved(&beam).reactions[1], -0.5, 1e-15);
}
