//! The rule sets side by side: what each calls a fibre, which it names however little there is, where
//! its lines are drawn. Each rule names its article.

use super::rounding;
use super::{FibreLine, Percent};
use crate::record::{Past, RuleSet, WrittenFibre};

/// A fibre below this share is `other fibre` in the United States and Canada, percent (16 CFR 303.3 and
/// 303.16, 15 USC 68b(a)(2); Canada by the Competition Bureau's guide).
pub(super) const OTHER_BELOW: f64 = 5.0;

/// Virgin wool must be at least this share of a mixture (Regulation (EU) No 1007/2011, article 8).
pub(super) const VIRGIN_LEAST: f64 = 25.0;

/// Flax must be at least this share of a cotton-linen union (the same, article 9(3)).
pub(super) const UNION_LEAST: f64 = 40.0;

/// A component of at least this share must be stated (the same, article 11(2)).
pub(super) const COMPONENT_LEAST: f64 = 30.0;

/// The noise of the arithmetic.
pub(super) const HAIR: f64 = 1e-9;

/// Whether the European text applies, in the Union's or in the United Kingdom's form.
pub(super) fn european(rule: RuleSet) -> bool {
    matches!(rule, RuleSet::Eu | RuleSet::Uk)
}

/// The law's name.
pub(super) fn basis(rule: RuleSet) -> &'static str {
    match rule {
        RuleSet::Eu => "Regulation (EU) No 1007/2011",
        RuleSet::Uk => "Textile Products (Labelling and Fibre Composition) Regulations 2012",
        RuleSet::Us => "15 USC 68b and 16 CFR 303",
        RuleSet::Ca => "Textile Labelling and Advertising Regulations, C.R.C., c. 1551",
    }
}

/// The letters of entries' names.
pub(super) fn letters(rule: RuleSet) -> &'static str {
    match rule {
        RuleSet::Eu => "eu",
        RuleSet::Uk => "uk",
        RuleSet::Us => "us",
        RuleSet::Ca => "ca",
    }
}

/// What a label calls the fibre, in English. Linen is flax and nylon polyamide everywhere (Annex I,
/// numbers 7 and 30). In the United States wool won back from a product is `recycled wool` (15 USC
/// 68(c)) and metal, metal-coated film and film-coated metal are all `metallic` (16 CFR 303.7, from
/// memory; 300.16 uses the word). Virgin wool is settled later, when its share is known.
pub(super) fn label_name(fibre: &WrittenFibre, rule: RuleSet) -> &'static str {
    match (fibre.fibre.name, rule, fibre.past) {
        ("linen", ..) => "flax",
        ("nylon", ..) => "polyamide",
        ("wool", RuleSet::Us, Past::Recycled) => "recycled wool",
        ("metal" | "metallised", RuleSet::Us, _) => "metallic",
        (name, ..) => name,
    }
}

/// Wool as the United States mean it: fleece of sheep or lamb, hair of Angora or Cashmere goat, and the
/// hair of camel, alpaca, llama and vicuna (15 USC 68(b)); recycled wool (68(c)). It is named however
/// little there is (68b(a)(2)).
pub(super) fn american_wool(name: &str) -> bool {
    [
        "wool",
        "virgin wool",
        "recycled wool",
        "mohair",
        "cashmere",
        "camel",
        "alpaca",
        "llama",
        "vicuna",
    ]
    .contains(&name)
}

/// Up to which share decorative fibre may be left out, percent, and whether that share itself still
/// may: 7 in the Union (article 10(1)), 5 in the United States (16 CFR 300.16 and 303.26), under 5 in
/// Canada.
pub(super) fn ornament_limit(rule: RuleSet) -> (f64, bool) {
    match rule {
        RuleSet::Eu | RuleSet::Uk => (7.0, true),
        RuleSet::Us => (5.0, true),
        RuleSet::Ca => (5.0, false),
    }
}

/// Lines that a printed share must not cross, in whole percents.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Lines {
    /// Wool is written as virgin somewhere: 25 %.
    pub virgin: bool,
    /// Cotton warp and flax weft: 40 %.
    pub union: bool,
}

/// The lines of a section from its shares in percent, the largest first: small ones gathered where the
/// law has it so, rounded to whole percents. Shares of nothing are not among them.
///
/// The thresholds are compared before rounding. In the United States and Canada no share under 5 % is
/// printed as 5 %: it would look like one that must be named, or hide that one was rightly not. The
/// Union names every fibre (article 9(1)), so there only the lines of articles 8 and 9(3) matter.
pub(super) fn stated(
    shares: &[(&'static str, f64)],
    rule: RuleSet,
    crossing: Lines,
) -> Vec<FibreLine> {
    let small = |name: &str, share: f64| {
        let under = !european(rule) && share + HAIR < OTHER_BELOW;
        // What has no name of its own stands last, however much of it there is.
        name == super::OTHER || under && !(rule == RuleSet::Us && american_wool(name))
    };
    let (other, named): (Vec<_>, Vec<_>) =
        shares.iter().partition(|(name, share)| small(name, *share));
    let mut exact: Vec<f64> = named.iter().map(|(_, share)| *share).collect();
    let mut lines: Vec<Vec<u32>> = named
        .iter()
        .map(|(name, _)| match (european(rule), *name) {
            (false, _) => vec![OTHER_BELOW as u32],
            (true, "wool") if crossing.virgin => vec![VIRGIN_LEAST as u32],
            (true, "flax") if crossing.union => vec![UNION_LEAST as u32],
            _ => Vec::new(),
        })
        .collect();
    if !other.is_empty() {
        exact.push(other.iter().map(|(_, share)| share).sum());
        lines.push(match european(rule) {
            true => Vec::new(),
            false => vec![OTHER_BELOW as u32],
        });
    }
    let whole = rounding::whole(&exact, 100, named.len(), &lines);
    let gathered: Vec<&'static str> = other.iter().map(|(name, _)| *name).collect();
    let mut percents = exact.iter().zip(&whole).map(|(exact, whole)| Percent {
        whole: *whole,
        exact: *exact,
    });
    let mut out: Vec<FibreLine> = named
        .iter()
        .map(|(name, _)| FibreLine {
            fibre: Some(*name),
            percent: percents.next(),
            gathered: Vec::new(),
        })
        .collect();
    if let Some(percent) = percents.next() {
        out.push(FibreLine {
            fibre: None,
            percent: Some(percent),
            gathered,
        });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::FIBRES;

    fn said(shares: &[(&'static str, f64)], rule: RuleSet) -> Vec<(&'static str, u32)> {
        stated(shares, rule, Lines::default())
            .iter()
            .map(|l| (l.fibre.unwrap_or("other"), l.percent.unwrap().whole))
            .collect()
    }

    #[test]
    fn a_fibre_under_five_percent_is_other_fibre_in_america_and_named_in_europe() {
        // Source, published: 16 CFR 303.3: acetate 96 %, a fibre of 4 % without a function of its own
        // is other fibre. Regulation (EU) No 1007/2011, article 9(1): all fibres are named.
        let shares = [("acetate", 96.0), ("elastane", 4.0)];
        assert_eq!(said(&shares, RuleSet::Us), [("acetate", 96), ("other", 4)]);
        assert_eq!(said(&shares, RuleSet::Ca), [("acetate", 96), ("other", 4)]);
        assert_eq!(
            said(&shares, RuleSet::Eu),
            [("acetate", 96), ("elastane", 4)]
        );
    }

    #[test]
    fn wool_is_named_in_america_however_little_there_is() {
        // Source, published: 15 USC 68b(a)(2): wool and recycled wool with their percentages whatever
        // they are, each other fibre where it is 5 % or more, the rest as one.
        let shares = [
            ("cotton", 94.4),
            ("wool", 2.8),
            ("silk", 2.4),
            ("recycled wool", 0.4),
        ];
        assert_eq!(
            said(&shares, RuleSet::Us),
            [
                ("cotton", 94),
                ("wool", 3),
                ("recycled wool", 1),
                ("other", 2)
            ]
        );
        let hair = [("cotton", 97.0), ("mohair", 2.0), ("angora", 1.0)];
        assert_eq!(
            said(&hair, RuleSet::Us),
            [("cotton", 97), ("mohair", 2), ("other", 1)]
        );
    }

    #[test]
    fn a_fibre_without_a_name_in_the_law_is_stated_last() {
        // Source, published: Regulation (EU) No 1007/2011, article 9(5): a fibre that Annex I does not
        // list yet is `other fibres` with its share.
        let shares = [("other fibres", 60.0), ("wool", 40.0)];
        for (_, rule) in RuleSet::ALL {
            assert_eq!(said(&shares, *rule), [("wool", 40), ("other", 60)]);
        }
    }

    #[test]
    fn four_point_nine_is_never_printed_as_five() {
        let shares = [("cotton", 90.2), ("wool", 4.9), ("silk", 4.9)];
        assert_eq!(
            said(&shares, RuleSet::Us),
            [("cotton", 92), ("wool", 4), ("other", 4)]
        );
        assert_eq!(
            said(&shares, RuleSet::Eu),
            [("cotton", 90), ("wool", 5), ("silk", 5)]
        );
        // Five in truth stays five, whatever the noise of the arithmetic.
        let shares = [("cotton", 95.0), ("silk", 5.0 - 1e-12)];
        assert_eq!(said(&shares, RuleSet::Us), [("cotton", 95), ("silk", 5)]);
    }

    #[test]
    fn a_hundred_thousand_compositions_keep_to_every_rule() {
        let mut seed = 7_u64;
        let mut next = || {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) as f64 / f64::from(1_u32 << 31)
        };
        for _ in 0..100_000 {
            let n = 1 + (next() * 12.0) as usize;
            let steep = 1 + (next() * 6.0) as i32;
            let start = (next() * (FIBRES.len() - n) as f64) as usize;
            let mut shares: Vec<(&'static str, f64)> = (0..n)
                .map(|i| {
                    let x = (0..steep).fold(1.0, |p, _| p * next());
                    (FIBRES[start + i].name, x + 1e-7)
                })
                .collect();
            shares.sort_by(|a, b| b.1.total_cmp(&a.1));
            let total: f64 = shares.iter().map(|(_, x)| x).sum();
            shares.iter_mut().for_each(|(_, x)| *x *= 100.0 / total);
            let crossing = Lines {
                virgin: next() < 0.3,
                union: next() < 0.3,
            };
            for (_, rule) in RuleSet::ALL {
                holds(&shares, &stated(&shares, *rule, crossing), *rule, crossing);
            }
        }
    }

    fn holds(shares: &[(&'static str, f64)], lines: &[FibreLine], rule: RuleSet, at: Lines) {
        let whole = |l: &FibreLine| l.percent.unwrap().whole;
        let tell = || format!("{rule:?} {shares:?} {lines:?}");
        assert_eq!(lines.iter().map(whole).sum::<u32>(), 100, "{}", tell());
        assert!(lines.iter().all(|l| whole(l) > 0), "{}", tell());
        let named: Vec<&FibreLine> = lines.iter().filter(|l| l.fibre.is_some()).collect();
        let ordered = named.windows(2).all(|w| whole(w[0]) >= whole(w[1]));
        assert!(ordered, "{}", tell());
        if european(rule) {
            assert_eq!(named.len(), shares.len());
            for l in &named {
                let exact = l.percent.unwrap().exact;
                let line = match l.fibre {
                    Some("wool") if at.virgin => 25,
                    Some("flax") if at.union => 40,
                    _ => continue,
                };
                assert_eq!(exact >= f64::from(line), whole(l) >= line, "{}", tell());
            }
            return;
        }
        for l in lines {
            let exact = l.percent.unwrap().exact;
            assert_eq!(exact >= 5.0, whole(l) >= 5, "{}", tell());
            match l.fibre {
                Some(name) => assert!(
                    exact >= 5.0 || (rule == RuleSet::Us && american_wool(name)),
                    "{}",
                    tell()
                ),
                None => assert!(!l.gathered.is_empty()),
            }
        }
        let gathered: usize = lines.iter().map(|l| l.gathered.len()).sum();
        assert_eq!(named.len() + gathered, shares.len(), "{}", tell());
    }
}
