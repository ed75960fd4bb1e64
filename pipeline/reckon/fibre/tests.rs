//! The fibre content of whole pieces against the law's own examples.

#[cfg(test)]
use super::*;
use crate::read::piece_from;
use crate::reckon::size::Size;
use crate::reckon::web::Web;
use crate::reckon::{Amount, Entry};

/// A piece from lines of piece.yaml; without a count the warp has no mass, so a piece that needs one
/// declares it as a weft yarn.
fn piece(lines: &str) -> Piece {
    let mut text = String::new();
    for (field, line) in [
        ("title", "title: Low Water"),
        ("made", "made: 2026-03"),
        ("measured", "measured: {height: 1 m, width: 1 m}"),
    ] {
        if !lines.contains(&format!("{field}:")) {
            text.push_str(line);
            text.push('\n');
        }
    }
    text.push_str(lines);
    let (piece, slips) = piece_from("p", &"pieces/p/piece.yaml".into(), &text);
    assert!(slips.is_empty(), "{slips:?}");
    piece.unwrap()
}

fn content(piece: &Piece, rule: RuleSet) -> FibreContent {
    let size = Size::of(piece);
    let masses = Masses::of(piece, &Web::of(piece, &size), &size);
    FibreContent::of(piece, &masses, rule)
}

/// A warp of so many grams: 100 ends of 1 m, of the count that weighs so much.
fn warp(fibre: &str, g: f64) -> String {
    format!(
        "loom: {{ends: 100, woven: 1 m}}\nwarp: {{count: {} tex, fibre: {{{fibre}: 100}}}}\n",
        g * 10.0
    )
}

fn entry<'a>(all: &'a [Entry], name: &str) -> &'a Entry {
    let found = all.iter().find(|e| e.name == name);
    found.unwrap_or_else(|| panic!("no entry {name}"))
}

fn number(all: &[Entry], name: &str) -> f64 {
    match &entry(all, name).amount {
        Amount::Number { value, .. } => *value,
        other => panic!("{name}: {other:?}"),
    }
}

/// Whole tenths of a percent, as the Regulation's tables print them.
fn tenths(section: &Section) -> Vec<(&'static str, u32)> {
    let exact: Vec<f64> = section
        .lines
        .iter()
        .map(|l| l.percent.unwrap().exact)
        .collect();
    let names = section.lines.iter().map(|l| l.fibre.unwrap());
    names.zip(largest_remainder(&exact, 1000)).collect()
}

/// A piece whose yarns weigh so much bone dry. What pre-treatment takes from a fibre (b percent of its
/// dry mass) is put on its mass beforehand: P(1 + (a + b)/100) = P'(1 + a/100).
fn bone_dry(fibres: &[(&str, f64, f64, f64)]) -> Piece {
    let yarns: Vec<String> = fibres
        .iter()
        .map(|(name, dry, a, b)| {
            let g = dry * (1.0 + (a + b) / 100.0) / (1.0 + a / 100.0);
            format!("{{fibre: {{{name}: 100}}, used: {g:.6} g, humidity: 0 %}}")
        })
        .collect();
    piece(&format!(
        "warp: {{fibre: {{cotton: 100}}}}\nlabel: {{warp: left out}}\nweft: [{}]\n",
        yarns.join(", ")
    ))
}

#[test]
fn the_first_table_of_the_regulation_comes_out() {
    // Source, published: Regulation (EU) No 1007/2011, Annex VIII, chapter 3, section IV, variant 1:
    // clean dry 10.30 % carded wool, 50.00 % polyamide (staple), 39.70 % unbleached cotton (b = 4);
    // adjusted 10.97, 48.37, 40.66; composition polyamide 48.4, cotton 40.6, wool 11.0.
    let dry = [
        ("carded wool", 10.30, 17.0, 0.0),
        ("staple polyamide", 50.00, 6.25, 0.0),
        ("cotton", 39.70, 8.5, 4.0),
    ];
    let eu = content(&bone_dry(&dry), RuleSet::Eu);
    assert_eq!(
        tenths(&eu.sections[0]),
        [("polyamide", 484), ("cotton", 406), ("wool", 110)]
    );
    let whole: Vec<u32> = eu.sections[0]
        .lines
        .iter()
        .map(|l| l.percent.unwrap().whole)
        .collect();
    assert_eq!(whole, [48, 41, 11]);
}

#[test]
fn the_fourth_table_of_the_regulation_comes_out() {
    // Source, published: the same, variant 4: clean dry 48.71 % viscose, 41.02 % unbleached cotton
    // (b = 4), 10.27 % carded wool; composition viscose 48.6, cotton 40.8, wool 10.6.
    let dry = [
        ("viscose", 48.71, 13.0, 0.0),
        ("cotton", 41.02, 8.5, 4.0),
        ("carded wool", 10.27, 17.0, 0.0),
    ];
    let eu = content(&bone_dry(&dry), RuleSet::Eu);
    assert_eq!(
        tenths(&eu.sections[0]),
        [("viscose", 486), ("cotton", 408), ("wool", 106)]
    );
}

#[test]
fn allowances_can_carry_a_fibre_under_the_line() {
    // Source, exact case: dry 700 g wool, 250 g cotton, 50 g silk: 819 + 271.25 + 55.5 = 1145.75;
    // 71.48, 23.67 and 4.84 %. By dry mass alone the silk were 5 %.
    let p = bone_dry(&[
        ("wool", 700.0, 17.0, 0.0),
        ("cotton", 250.0, 8.5, 0.0),
        ("silk", 50.0, 11.0, 0.0),
    ]);
    let eu = content(&p, RuleSet::Eu).entries();
    for (name, want) in [("wool", 71.4816), ("cotton", 23.6744), ("silk", 4.8440)] {
        let got = number(&eu, &format!("fibre.eu.{name}"));
        assert!((got - want).abs() < 2e-3, "{name} {got}");
        assert!(
            entry(&eu, &format!("fibre.eu.{name}"))
                .worked
                .contains("1.17")
        );
    }
    assert_eq!(
        content(&p, RuleSet::Eu).text(),
        "71 % wool, 24 % cotton, 5 % silk"
    );
}

#[test]
fn ornament_is_silent_in_europe_and_spoken_of_in_america() {
    // Source, published: 16 CFR 300.16: 70 % recycled wool, 30 % acetate, exclusive of 4 % metallic
    // ornamentation. Regulation (EU) No 1007/2011, article 10(1): decoration up to 7 % may be left out.
    let p = piece(&format!(
        "{}weft: [{{fibre: {{recycled wool: 100}}, used: 700 g}}, {{fibre: {{metal: 100}}, used: 40 g, decorative: yes}}]",
        warp("acetate", 300.0)
    ));
    let us = content(&p, RuleSet::Us);
    assert_eq!(
        us.text(),
        "70% recycled wool, 30% acetate; exclusive of ornamentation"
    );
    assert!((number(&us.entries(), "fibre.us.decorative") - 100.0 * 40.0 / 1040.0).abs() < 1e-6);
    let eu = content(&p, RuleSet::Eu);
    assert_eq!(eu.text(), "70 % wool, 30 % acetate");
    assert!(!eu.exclusive_of_ornament());
}

#[test]
fn ornament_over_the_limit_is_counted_in() {
    // Source, published: 16 CFR 303.26: 5 % may be left out, more must be included; the Union's limit
    // is 7 % (article 10(1)).
    let with = |g: f64| {
        piece(&format!(
            "{}weft: [{{fibre: {{wool: 100}}, used: {} g}}, {{fibre: {{silk: 100}}, used: {g} g, decorative: yes}}]",
            warp("cotton", 400.0),
            600.0 - g
        ))
    };
    for (g, eu, us, ca) in [
        (49.0, true, true, true),
        (50.0, true, true, false),
        (51.0, true, false, false),
        (70.0, true, false, false),
        (71.0, false, false, false),
    ] {
        for (rule, want) in [
            (RuleSet::Eu, eu),
            (RuleSet::Uk, eu),
            (RuleSet::Us, us),
            (RuleSet::Ca, ca),
        ] {
            let got = content(&with(g), rule).ornament.unwrap();
            assert_eq!(got.left_out, want, "{g} {rule:?}");
        }
    }
    assert_eq!(
        content(&with(71.0), RuleSet::Eu).text(),
        "53 % wool, 40 % cotton, 7 % silk"
    );
}

#[test]
fn one_fibre_with_ornament_may_be_all_of_it() {
    // Source, published: 16 CFR 303.26 and 300.17: 100 % of one fibre exclusive of 3 % silk
    // ornamentation.
    let p = piece(&format!(
        "{}weft: [{{fibre: {{cotton: 100}}, used: 570 g}}, {{fibre: {{silk: 100}}, used: 30 g, decorative: yes}}]",
        warp("cotton", 400.0)
    ));
    assert_eq!(
        content(&p, RuleSet::Us).text(),
        "100% cotton; exclusive of ornamentation"
    );
    assert_eq!(content(&p, RuleSet::Eu).text(), "100 % cotton");
}

#[test]
fn the_covered_warp_is_counted_unless_the_weaver_leaves_it_out() {
    // Source, published: Regulation (EU) No 1007/2011, Annex VII (d), hangings.
    let lines = format!(
        "{}weft: [{{fibre: {{wool: 100}}, used: 600 g}}]\n",
        warp("cotton", 400.0)
    );
    let plain = content(&piece(&lines), RuleSet::Eu);
    assert_eq!(plain.text(), "60 % wool, 40 % cotton");
    let without = piece(&format!("{lines}label: {{warp: left out}}\n"));
    let chosen = content(&without, RuleSet::Eu);
    assert_eq!(chosen.text(), "100 % wool");
    for c in [&plain, &chosen] {
        let all = c.entries();
        assert_eq!(
            entry(&all, "fibre.eu.warp-counted").said(),
            "60 % wool, 40 % cotton"
        );
        assert_eq!(entry(&all, "fibre.eu.warp-left-out").said(), "100 % wool");
    }
    assert_eq!(
        content(&without, RuleSet::Us).text(),
        "60% wool, 40% cotton"
    );
}

#[test]
fn parts_are_stated_from_thirty_percent_and_linings_always() {
    // Source, published: Regulation (EU) No 1007/2011, article 11(2): both no main lining and less than
    // 30 % of the total weight.
    let with = |part: &str, g: f64| {
        let lines = format!(
            "{}weft: [{{fibre: {{wool: 100}}, used: 500 g}}]\nparts: {{{part}: {{fibre: {{silk: 100}}, used: {g} g}}}}\n",
            warp("cotton", 200.0)
        );
        content(&piece(&lines), RuleSet::Eu)
    };
    assert_eq!(with("border", 299.0).sections.len(), 1);
    assert_eq!(with("border", 300.0).sections.len(), 2);
    assert_eq!(
        with("lining", 10.0).sections[1].part.as_deref(),
        Some("lining")
    );
    assert_eq!(with("heading", 900.0).sections.len(), 1);
    let share = number(
        &with("border", 299.0).entries(),
        "fibre.eu.component.border",
    );
    assert!((share - 100.0 * 299.0 / 999.0).abs() < 1e-6);
}

#[test]
fn horn_and_leather_are_named_in_the_words_of_the_law() {
    // Source, published: Regulation (EU) No 1007/2011, article 12: the phrase, whatever the weight.
    let p = piece(&format!(
        "{}weft: [{{fibre: {{wool: 100}}, used: 600 g}}]\nparts: {{horn toggles: {{animal_origin: yes, used: 9 g}}}}\n",
        warp("wool", 400.0)
    ));
    let eu = content(&p, RuleSet::Eu);
    assert_eq!(
        eu.text(),
        "100 % wool; Contains non-textile parts of animal origin"
    );
    assert!(!content(&p, RuleSet::Us).text().contains("animal"));
}

#[test]
fn wool_is_virgin_only_where_the_article_lets_it() {
    // Source, published: Regulation (EU) No 1007/2011, article 8: all the wool, at least 25 % of the
    // mixture, with one other fibre alone where they are scribbled together.
    let with = |warp_g: f64, shares: &str| {
        let lines = format!(
            "{}weft: [{{fibre: {{{shares}}}, used: 250 g}}]\n",
            warp("cotton", warp_g)
        );
        content(&piece(&lines), RuleSet::Eu)
    };
    assert_eq!(
        with(750.0, "virgin wool: 100").text(),
        "75 % cotton, 25 % virgin wool"
    );
    assert_eq!(
        with(751.0, "virgin wool: 100").text(),
        "76 % cotton, 24 % wool"
    );
    assert!(
        with(100.0, "virgin wool: 60, silk: 40")
            .text()
            .contains("virgin wool")
    );
    assert!(
        !with(100.0, "virgin wool: 60, silk: 30, nylon: 10")
            .text()
            .contains("virgin")
    );
    assert!(
        !with(100.0, "virgin wool: 60, wool: 40")
            .text()
            .contains("virgin")
    );
}

#[test]
fn cotton_and_flax_are_a_union_from_forty_percent() {
    // Source, published: Regulation (EU) No 1007/2011, article 9(3).
    let with = |cotton: f64, fibre: &str| {
        let lines = format!(
            "{}weft: [{{fibre: {{{fibre}: 100}}, used: 400 g}}]\n",
            warp("cotton", cotton)
        );
        content(&piece(&lines), RuleSet::Eu)
    };
    let said = |c: &FibreContent| entry(&c.entries(), "fibre.eu.union").said();
    assert!(said(&with(600.0, "linen")).starts_with("may be named"));
    let short = with(603.0, "flax");
    assert!(said(&short).starts_with("may not"));
    assert_eq!(short.text(), "61 % cotton, 39 % flax");
    assert_eq!(with(600.0, "wool").cotton_linen, None);
}

#[test]
fn a_humid_scale_does_not_make_more_wool() {
    // Source, exact case: wool at 90 % holds 23.4 % of water by the table; 123.4 g are 100 g dry and
    // 117 g at the allowance, against 108.5 g of cotton: 117/225.5 = 51.885 %.
    let p = piece(&format!(
        "{}weft: [{{name: sea, fibre: {{wool: 100}}, used: 123.4 g, humidity: 90 %}}]\n",
        warp("cotton", 108.5)
    ));
    let eu = content(&p, RuleSet::Eu).entries();
    assert!((number(&eu, "fibre.eu.dry-mass.wool") - 100.0).abs() < 1e-9);
    assert!((number(&eu, "fibre.eu.wool") - 100.0 * 117.0 / 225.5).abs() < 1e-9);
    let said = entry(&eu, "fibre.eu.moisture").said();
    assert!(
        said.contains("sea at 90 %") && said.contains("warp: no humidity of"),
        "{said}"
    );
    // Blends: 60 % wool and 40 % silk by the band, at 65 %: dry parts 0.6/1.17 and 0.4/1.11, holding
    // 16.05 and 11.05 %; 100 g of it are 100/(0.595128 + 0.400180) = 100.4714 g at the allowance.
    let p = piece(&format!(
        "{}weft: [{{fibre: {{wool: 60, silk: 40}}, used: 100 g, humidity: 65 %}}]\n",
        warp("cotton", 100.0)
    ));
    let eu = content(&p, RuleSet::Eu).entries();
    let want = 60.0 / (0.6 * 1.1605 / 1.17 + 0.4 * 1.1105 / 1.11);
    let got = number(&eu, "fibre.eu.dry-mass.wool") * 1.17;
    assert!((got - want).abs() < 1e-9, "{got} {want}");
}

#[test]
fn what_is_not_known_is_said_and_no_share_is_made_up() {
    let p = piece(
        "warp: {fibre: {cotton: 100}}\nweft: [{name: sea, fibre: {wool: 100, silk: 0}, used: 600 g}]\n",
    );
    let eu = content(&p, RuleSet::Eu);
    assert!(eu.sections[0].lines.iter().all(|l| l.percent.is_none()));
    assert_eq!(eu.text(), "wool, cotton (percentages not known)");
    let all = eu.entries();
    let said = entry(&all, "fibre.eu.incomplete").said();
    assert!(said.contains("warp") && !said.contains("silk"), "{said}");
    assert!(all.iter().all(|e| e.name != "fibre.eu.wool"));
    // One single fibre is all of it, whatever it weighs.
    let p = piece("warp: {fibre: {wool: 100}}\nweft: [{fibre: {combed wool: 100}}]\n");
    assert_eq!(content(&p, RuleSet::Eu).text(), "100 % wool");
}

#[test]
fn every_figure_has_a_name_of_its_own() {
    let p = piece(&format!(
        "{}weft: [{{fibre: {{virgin wool: 100}}, used: 600 g, humidity: 60 %}}, {{fibre: {{silk: 100}}, used: 9 g, decorative: yes}}]\nparts: {{lining: {{fibre: {{cotton: 100}}, used: 200 g}}, horn: {{animal_origin: yes}}}}\n",
        warp("cotton", 400.0)
    ));
    let mut names: Vec<String> = RuleSet::ALL
        .iter()
        .flat_map(|(_, rule)| content(&p, *rule).entries())
        .chain(required(true))
        .map(|e| e.name)
        .collect();
    let all = names.len();
    names.sort();
    names.dedup();
    assert_eq!(names.len(), all);
}

#[test]
fn two_thousand_yarns_and_absurd_ones_are_reckoned() {
    let yarns: Vec<String> = (0..2000)
        .map(|i| {
            let fibre = ["wool", "silk", "linen", "combed wool"][i % 4];
            format!(
                "{{name: y{i}, fibre: {{{fibre}: 90, nylon: 10}}, used: {}.5 g, humidity: 55 %}}",
                1 + i % 7
            )
        })
        .collect();
    let p = piece(&format!(
        "{}weft: [{}]\n",
        warp("cotton", 900.0),
        yarns.join(", ")
    ));
    for (_, rule) in RuleSet::ALL {
        let c = content(&p, *rule);
        let sum: u32 = c.sections[0]
            .lines
            .iter()
            .map(|l| l.percent.unwrap().whole)
            .sum();
        assert_eq!(sum, 100);
        for e in c.entries() {
            assert!(e.worked.len() < 2000 && e.said().len() < 4000, "{}", e.name);
        }
    }
    let p = piece(&format!(
        "{}weft: [{{fibre: {{wool: 100}}, weighed: {{before: 100 g, after: 120 g}}}}, {{fibre: {{}}, used: 1 g}}, {{fibre: {{silk: 0}}, used: 0.000001 g}}]\n",
        warp("cotton", 0.5)
    ));
    for (_, rule) in RuleSet::ALL {
        let c = content(&p, *rule);
        assert!(!c.sections[0].complete);
        for e in c.entries() {
            if let Amount::Number { value, u, .. } = e.amount {
                assert!(
                    value.is_finite() && u.is_none_or(f64::is_finite),
                    "{}",
                    e.name
                );
            }
        }
    }
}

#[test]
fn a_share_is_as_sure_as_the_weights_it_came_from() {
    // Source, published: GUM (JCGM 100:2008), 5.1.2: for p = A/(A + B), ∂p/∂A = B/(A + B)² and ∂p/∂B =
    // −A/(A + B)², with A and B as sure as the masses have them and sharing no reading.
    let p = piece(&format!(
        "{}weft: [{{fibre: {{wool: 100}}, used: 600 g}}]\n",
        warp("cotton", 400.0)
    ));
    let size = Size::of(&p);
    let masses = Masses::of(&p, &Web::of(&p, &size), &size);
    let c = FibreContent::of(&p, &masses, RuleSet::Eu);
    let share = c.sections[0].portions[0].share.as_ref().unwrap();
    let a = masses.weft[0].mass.as_ref().unwrap().number();
    let b = masses.warp.as_ref().unwrap().number();
    let square = (a.value + b.value) * (a.value + b.value);
    let want = 100.0 * libm::hypot(a.u() * b.value / square, b.u() * a.value / square);
    assert!(
        want > 0.0 && (share.u() - want).abs() < 1e-9,
        "{} {want}",
        share.u()
    );
}
