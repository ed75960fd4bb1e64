//! Cut lengths of tape, webbing, sleeve, batten and bar.

use crate::reckon::significant;
use crate::record::Support;

/// From this width on tape and batten end 25 mm inside each edge, below it 10 mm (own rule between the two
/// sources: American Tapestry Alliance, article on hanging, 2 in shorter in all; Canadian Conservation
/// Institute, Notes 13/4, older edition, 20 mm shorter in all).
const WIDE: f64 = 500.0;

/// How far a bar looks out of its sleeve at each end, mm (own rule: a bracket's width).
pub const LOOKS_OUT: f64 = 25.0;

/// One length to cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// Its name in the ledger after `hanging.`.
    pub name: &'static str,
    /// What it is.
    pub what: String,
    /// The length, mm.
    pub length: f64,
    /// Formula.
    pub formula: String,
    /// The same with numbers.
    pub worked: String,
    /// Where the rule comes from.
    pub source: &'static str,
}

const BOTH: &str = "American Tapestry Alliance, article on hanging (50 mm shorter in all); Canadian Conservation Institute, Notes 13/4 (20 mm shorter)";

/// How much shorter than the piece is wide, mm: as one source has it, and as the other.
fn less(width: f64) -> (f64, f64) {
    if width >= WIDE {
        (50.0, 20.0)
    } else {
        (20.0, 50.0)
    }
}

/// The length of a sleeve, mm, for a piece so wide on a bar so long (the one advised where none is
/// written); the bar lies with its middle at the piece's.
pub fn sleeve(width: f64, bar: Option<f64>) -> f64 {
    let short = width - less(width).0;
    (bar.unwrap_or(short) - 2.0 * LOOKS_OUT).min(short)
}

/// The lengths to cut for a piece so wide, mm; those that would be nothing are left out. `bar` is the
/// bar's length where one is written.
pub(super) fn cuts(support: Support, width: f64, tape: f64, bar: Option<f64>) -> Vec<Cut> {
    let (less, other) = less(width);
    let short = width - less;
    let mm = |x: f64| significant(x, 6);
    let take = |name, what: &str, length: f64, formula: &str, source| Cut {
        name,
        what: what.to_string(),
        length,
        formula: formula.to_string(),
        worked: format!("{} → {}", mm(width), mm(length)),
        source,
    };
    let shorter = format!(
        "width − {less} mm; the other source has {other} mm: {} mm",
        mm(width - other)
    );
    let webbing = |what: &str| {
        take(
            "webbing-cut",
            what,
            short + 25.4,
            "tape's length + 1 in (turned in at both ends)",
            "American Tapestry Alliance, article on hanging",
        )
    };
    let all = match support {
        Support::HookAndLoop => vec![
            take(
                "tape-cut",
                "loop tape, and hook tape for the batten",
                short,
                &shorter,
                BOTH,
            ),
            take(
                "bar-cut",
                "batten that carries the hook tape",
                short,
                &shorter,
                BOTH,
            ),
            webbing("webbing or twill tape that the loop tape is sewn to"),
            take(
                "sleeve-cloth-length",
                "washed cotton cloth for a sleeve in place of webbing, without seams",
                short + 10.0,
                "tape's length + 5 mm at each end",
                "Canadian Conservation Institute, Notes 13/4",
            ),
            take(
                "sleeve-cloth-height",
                "the same, its height",
                tape + 10.0,
                "tape's width + 5 mm above and below",
                "Canadian Conservation Institute, Notes 13/4",
            ),
        ],
        Support::Batten => vec![
            take("bar-cut", "batten", short, &shorter, BOTH),
            webbing("webbing along the top of the back"),
        ],
        Support::Sleeve => vec![
            Cut {
                worked: format!(
                    "{} and {} → {}",
                    mm(bar.unwrap_or(short)),
                    mm(width),
                    mm(sleeve(width, bar))
                ),
                ..take(
                    "sleeve-cut",
                    "sleeve, finished: its bar looks out at both ends for the brackets",
                    sleeve(width, bar),
                    "bar's length − 25 mm at each end, and no longer than what is cut for a piece so wide",
                    "own rule",
                )
            },
            take(
                "bar-cut",
                "bar or batten in the sleeve, shorter than the piece so that it is not seen",
                short,
                &shorter,
                "Mallett: shorter than the piece; by how much after the two sources for battens",
            ),
        ],
        Support::Bar => vec![take(
            "bar-cut",
            "bar that is seen at both ends",
            width + 100.0,
            "width + 50 mm at each end",
            "own rule",
        )],
    };
    let advised = |mut c: Cut| {
        if let (Some(bar), "bar-cut") = (bar, c.name) {
            c.what = format!("{}, as advised; the one written is {} mm", c.what, mm(bar));
        }
        c
    };
    all.into_iter()
        .filter(|c| c.length > 0.0)
        .map(advised)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(support: Support, width: f64, name: &str) -> Option<f64> {
        cuts(support, width, 50.0, None)
            .iter()
            .find(|c| c.name == name)
            .map(|c| c.length)
    }

    #[test]
    fn tape_and_batten_end_inside_the_edges() {
        // Source, published: American Tapestry Alliance, article on hanging (Mary Lane): batten and tape about 2 in (50 mm) shorter than the piece, webbing 1 in longer than the tape.
        assert_eq!(cut(Support::HookAndLoop, 1648.0, "tape-cut"), Some(1598.0));
        assert_eq!(cut(Support::HookAndLoop, 1648.0, "bar-cut"), Some(1598.0));
        assert_eq!(
            cut(Support::HookAndLoop, 1648.0, "webbing-cut"),
            Some(1598.0 + 25.4)
        );
        // Source, published: Canadian Conservation Institute, Notes 13/4 (older edition): tape 20 mm shorter than the top edge, its sleeve 5 mm larger all round.
        assert_eq!(cut(Support::HookAndLoop, 400.0, "tape-cut"), Some(380.0));
        assert_eq!(
            cut(Support::HookAndLoop, 400.0, "sleeve-cloth-length"),
            Some(390.0)
        );
        assert_eq!(
            cut(Support::HookAndLoop, 400.0, "sleeve-cloth-height"),
            Some(60.0)
        );
    }

    #[test]
    fn nothing_is_cut_to_less_than_nothing() {
        for support in Support::ALL {
            assert!(
                cuts(support.1, 15.0, 50.0, None)
                    .iter()
                    .all(|c| c.length > 0.0)
            );
        }
    }
}
