//! Hanging: weight and line load, the support and what is cut for it, the bar on its brackets, the fixings,
//! and what the weight does to slits. Every figure that carries weight overhead comes with its caution;
//! nothing here rates a wall, a screw or a tape.

mod bar;
mod bar_entries;
pub mod beam;
mod cuts;
mod example;
mod fixings;
mod held_entries;
mod load;
mod materials;
mod places;
mod section;
mod slits;
mod support;
mod written;

pub use bar::{Held, HungBar, SEEN, Stretch};
pub use cuts::{Cut, sleeve};
pub use fixings::{FACTOR, Fixings, Pull};
pub use load::{GRAVITY, Load, uneven};
pub use materials::{Material, material};
pub use places::best as best_places;
pub use section::Section;
pub use slits::Slits;
pub use support::Chosen;
pub use written::written;

use super::{Entry, Masses, Size, Uncertain};
use crate::record::Piece;

/// How the piece hangs. Without a mass nothing is reckoned.
#[derive(Debug, Clone, PartialEq)]
pub struct Hanging {
    /// What hangs.
    pub load: Load,
    /// What carries it.
    pub support: Chosen,
    /// The bar, where material and section are written.
    pub bar: Option<HungBar>,
    /// The load on the wall.
    pub fixings: Fixings,
    /// What the weight does to slits.
    pub slits: Slits,
}

impl Hanging {
    /// Reckons how the piece hangs; `None` where its mass is not known.
    pub fn of(piece: &Piece, size: &Size, masses: &Masses) -> Option<Hanging> {
        let load = Load::of(piece, size, masses)?;
        let hanging = piece.hanging.as_ref();
        let support = Chosen::of(piece, load.width.value);
        let advised = support.bar_length();
        let bar = hanging.and_then(|h| HungBar::of(&load, h, advised));
        let thickness = size
            .thickness
            .as_ref()
            .map_or(Uncertain::exact(0.0), |t| t.number().clone());
        let fixings = Fixings::of(&load, hanging, bar.as_ref(), &support, &thickness);
        let slits = Slits::of(piece, Some(&load));
        Some(Hanging {
            load,
            support,
            bar,
            fixings,
            slits,
        })
    }

    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let bar_length = self.bar.as_ref().map(|bar| bar.length);
        let mut all = self.load.entries(bar_length);
        all.extend(self.support.entries(&self.load));
        match &self.bar {
            Some(bar) => all.extend(bar.entries(&self.load)),
            None => {
                let width = self.load.width.value;
                let length = self.support.bar_length().unwrap_or(width);
                all.extend(example::entries(&self.load, length));
            }
        }
        all.extend(self.fixings.entries());
        all.extend(self.slits.entries());
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::piece_from;
    use crate::reckon::Web;

    const PLAIN: &str = "\
title: Low Water
made: 2026
warp: {fibre: {cotton: 100}}
weft: [{fibre: {wool: 100}}]
";

    fn hung(rest: &str) -> Option<Hanging> {
        let text = format!("{PLAIN}{rest}");
        let (piece, findings) = piece_from("p", &"piece.yaml".into(), &text);
        assert!(findings.is_empty(), "{findings:?}");
        let piece = piece.expect("it can be read");
        let size = Size::of(&piece);
        let web = Web::of(&piece, &size);
        Hanging::of(&piece, &size, &Masses::of(&piece, &web, &size))
    }

    fn barred(measured: &str, bar: &str, more: &str) -> Hanging {
        let rest = format!(
            "measured: {{height: 1 m, {measured}}}\nhanging: {{support: batten, bar: {{{bar}, length: 1500 mm}}{more}}}\n"
        );
        hung(&rest).expect("there is a mass")
    }

    #[test]
    fn the_vectors_of_the_trade_come_out() {
        // Source, exact case: 4.5 kg evenly along 1500 mm on bars of known E and I, own weight added: first sag held at the ends and at 0.22315 L, worked by hand from 5wL⁴/384EI and its overhanging form.
        let mass = "width: 1500 mm, mass: 4.5 kg";
        for (bar, ends, best) in [
            // The wood of the vectors weighs 0.40; ours 12 % more for its moisture, which the third figure bears.
            ("material: pine, section: 18 x 70 mm", 0.49, 0.010),
            ("material: pine, section: round 25 mm", 12.1, 0.251),
            ("material: aluminium, section: tube 25 x 2 mm", 3.30, 0.068),
            ("material: steel, section: tube 20 x 1.5 mm", 3.17, 0.066),
            ("material: acrylic, section: round 25 mm", 37.8, 0.782),
            ("material: aluminium, section: 5 x 30 mm", 2.84, 0.059),
        ] {
            let hung = barred(mass, bar, "").bar.expect("there is a bar");
            let got = hung.ends_held.expect("it stands");
            assert!((got / ends - 1.0).abs() < 0.03, "{bar}: {got} {ends}");
            let got = hung.held.expect("it stands").sag.value;
            assert!(
                (got - best).abs() < 0.02 * best + 0.000_55,
                "{bar}: {got} {best}"
            );
        }
    }

    #[test]
    fn weight_follows_from_mass_and_carries_its_doubt() {
        let hung = barred(
            "width: 1500 mm, mass: 4.5 kg",
            "material: pine, section: 18 x 70 mm",
            "",
        );
        // Source, published: standard gravity 9.80665 m/s² (third CGPM, 1901): 4.5 kg weigh 44.130 N.
        assert!((hung.load.weight.value - 44.129_925).abs() < 1e-9);
        // Source, published: GUM 4.3.7: 4.5 kg is known to ± 0.05 kg, u = 0.05/√3 kg.
        assert!((hung.load.weight.u() - 0.05 / 3.0_f64.sqrt() * GRAVITY).abs() < 1e-9);
        // Source, exact case: 44.13 N on a tape of 50 mm × 1.45 m is 609 Pa.
        let words = "measured: {height: 1 m, width: 1500 mm, mass: 4.5 kg}\nparts: {heading: {method: hook-and-loop, depth: 50 mm}}\n";
        let entries = self::hung(words).expect("there is a mass").entries();
        let shear = entries
            .iter()
            .find(|e| e.name == "hanging.tape-shear")
            .expect("there is tape");
        assert!(shear.said().starts_with("0.6087 kPa"), "{}", shear.said());
    }

    #[test]
    fn an_uneven_piece_loads_its_heavier_side_more() {
        let bar = "material: pine, section: 18 x 70 mm";
        let even = barred(
            "width: 1500 mm, mass: 4.5 kg",
            bar,
            ", brackets: [300 mm, 1200 mm]",
        );
        let right = barred(
            "width: 1500 mm, mass: 4.5 kg",
            bar,
            ", brackets: [300 mm, 1200 mm], centre_of_mass: 60 mm right",
        );
        let reactions = |h: &Hanging| -> Vec<f64> {
            let held = h
                .bar
                .as_ref()
                .and_then(|b| b.held.as_ref())
                .expect("it stands");
            held.reactions.iter().map(|r| r.value).collect()
        };
        let (a, b) = (reactions(&even), reactions(&right));
        assert!((a[0] - a[1]).abs() < 1e-9, "alike on both sides: {a:?}");
        // Source, exact case: moments about a bracket: a shift of 60 mm moves W · 60/900 from one bracket to the other.
        let shift = even.load.weight.value * 60.0 / 900.0;
        assert!((b[1] - a[1] - shift).abs() < 1e-9);
        assert!((a[0] - b[0] - shift).abs() < 1e-9);
        let total = even.load.weight.value + even.bar.as_ref().map_or(0.0, |b| b.weight.value);
        assert!((b.iter().sum::<f64>() - total).abs() < 1e-9);
    }

    #[test]
    fn without_a_bar_examples_stand_in_and_are_called_so() {
        let hung = hung("measured: {height: 1 m, width: 1500 mm, mass: 4.5 kg}\n").expect("a mass");
        let entries = hung.entries();
        assert!(hung.bar.is_none());
        let examples: Vec<&Entry> = entries
            .iter()
            .filter(|e| e.name.starts_with("hanging.example."))
            .collect();
        assert_eq!(examples.len(), 8);
        assert!(
            examples
                .iter()
                .all(|e| e.source.starts_with("an example only"))
        );
        assert!(!entries.iter().any(|e| e.name == "hanging.sag"));
        assert!(
            self::hung("measured: {height: 1 m, width: 1500 mm}\n").is_none(),
            "no mass, no figure"
        );
    }

    #[test]
    fn every_figure_of_weight_overhead_defers_to_the_competent() {
        let measured = "width: 1500 mm, mass: 4.5 kg, thickness: 4 mm";
        let hung = barred(
            measured,
            "material: oak, section: 18 x 70 mm",
            ", brackets: [20 cm, 75 cm, 130 cm], factor: 8",
        );
        for e in hung.entries() {
            let bears = [
                "weight",
                "load",
                "reaction",
                "fixing",
                "pull",
                "moment",
                "stress",
                "sag-judged",
                "support",
            ];
            if bears.iter().any(|w| e.name.contains(w)) {
                let caution = e.caution.as_deref().unwrap_or_default();
                assert!(
                    caution.contains("competent person") && caution.contains("local codes"),
                    "{}",
                    e.name
                );
            }
            assert!(!e.source.is_empty() && !e.what.is_empty(), "{}", e.name);
        }
        // Source, exact case: T = W e/h: the batten's 18 mm and half the cloth's 4 mm over half of 70 mm.
        let pull = hung.fixings.pull.as_ref().expect("a batten on the wall");
        assert!((pull.pull.value - hung.fixings.total.value * 20.0 / 35.0).abs() < 1e-9);
        assert_eq!(hung.fixings.factor, 8.0);
    }

    #[test]
    fn absurd_figures_neither_panic_nor_give_nothing_for_a_number() {
        for rest in [
            "measured: {height: 1 m, width: 0.1 mm, mass: 900000 kg}\nhanging: {bar: {material: steel, section: round 0.001 mm, length: 900 m}, brackets: [0 mm, 900 m]}\n",
            "measured: {height: 1 m, width: 1 m, mass: 1 g}\nhanging: {bar: {material: pine, section: 18 x 70 mm, length: 1 mm}, brackets: [0 mm, 0 mm, 5 m]}\n",
            "measured: {height: 1 m, width: 1 m, mass: 1 kg}\nhanging: {bar: {material: pine, section: 18 x 70 mm}, brackets: [50 cm], centre_of_mass: 9 m left}\n",
            "measured: {height: 1 m, width: 30 mm, mass: 1 kg}\nparts: {heading: {method: hook-and-loop}}\nhanging: {fixings: 1, bar: {material: pine}}\n",
            "measured: {height: 1 m, width: 1 m, mass: 1 kg}\nhanging: {fixings: 2000, support: bar, bar: {material: pine, section: 18 x 70 mm}}\n",
        ] {
            let hung = hung(rest).expect("there is a mass");
            for e in hung.entries() {
                let json = e.to_json().to_string();
                let said = e.said();
                assert!(
                    !said.contains("NaN") && !said.contains("inf"),
                    "{}: {said}",
                    e.name
                );
                assert!(!json.contains("null,\"what"), "{json}");
            }
        }
    }
}
