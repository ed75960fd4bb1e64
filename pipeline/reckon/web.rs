//! The web on the loom: ends, sett and width brought together, the warp strung on it, and what became
//! of width and length once the piece was cut off.

use super::figure::Figure;
use super::ledger::Entry;
use super::printed::significant;
use super::size::Size;
use super::uncertain::Uncertain;
use crate::quantity::Length;
use crate::record::Piece;

/// The web and what cutting off did to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Web {
    /// Warp ends: as given, or sett × width.
    pub ends: Option<Uncertain>,
    /// Width in the loom: as given, or ends / sett.
    pub width: Option<Length>,
    /// Woven height on the loom without hems.
    pub woven: Option<Length>,
    /// Both hems together.
    pub hems: Length,
    /// Each warp end as it is in the piece: woven height, hems, tied ends at both ends.
    pub end_in_piece: Option<Figure<Length>>,
    /// Each warp end as strung.
    pub end_strung: Option<Figure<Length>>,
    /// All warp together as strung: ends × length.
    pub warp_strung: Option<Figure<Length>>,
    /// Draw-in across the warp, as a fraction of the width in the loom:
    /// (width in the loom − finished width) / width in the loom.
    pub draw_in: Option<Uncertain>,
    /// Take-up along the warp after cutting off, as a fraction of the woven height.
    pub take_up: Option<Uncertain>,
    /// Whether the warp goes round nails or pegs without being cut.
    pub continuous: bool,
    sideways: bool,
    tails: Option<f64>,
    ends_from: Vec<&'static str>,
}

impl Web {
    /// Reckons the web. Of sett, ends and width any two give the third.
    pub fn of(piece: &Piece, size: &Size) -> Web {
        let l = &piece.loom;
        let number = |r: &crate::quantity::Reading<Length>, name: &str| Figure::read(r, name);
        let sett = l.sett.as_ref().map(|s| {
            // A sett is a figure the loom was dressed to, not a reading: its last place says nothing.
            Uncertain::exact(s.value.value.per_cm() / 10.0)
        });
        let given_ends = l
            .ends
            .as_ref()
            .map(|e| Uncertain::exact(f64::from(e.value)));
        let given_width = l.width.as_ref().map(|w| number(&w.value, "loom.width"));
        let per_mm = sett.as_ref().map_or(0.0, |s| s.value);
        let width = given_width
            .as_ref()
            .map(|w| w.number().clone())
            .or_else(|| {
                (per_mm > 0.0).then(|| given_ends.as_ref().map(|e| e.times(1.0 / per_mm)))?
            })
            .filter(|w| w.value > 0.0);
        let ends = given_ends.clone().or_else(|| {
            let reckoned = given_width.as_ref()?.number().times(per_mm);
            // Ends are whole; half an end either way is what rounding leaves open.
            let whole = Uncertain::input(0.0, 0.5 / 3.0_f64.sqrt(), "ends, rounded");
            let whole = &reckoned + &whole;
            (per_mm > 0.0).then(|| Uncertain::derived(reckoned.value.round(), &[(&whole, 1.0)]))
        });
        let woven = l.woven.as_ref().map(|w| number(&w.value, "loom.woven"));
        let hem = |r: &Option<crate::record::At<crate::quantity::Reading<Length>>>, name: &str| {
            r.as_ref().map(|r| number(&r.value, name))
        };
        let hems: Vec<Figure<Length>> = l.hems.as_ref().map_or_else(Vec::new, |h| {
            [
                hem(&h.start, "loom.hems.start"),
                hem(&h.finish, "loom.hems.finish"),
            ]
            .into_iter()
            .flatten()
            .collect()
        });
        let hems_sum = Uncertain::sum(hems.iter().map(|h| h.number()));
        let tails = l.tails.as_ref().map(|t| number(&t.value, "loom.tails"));
        let end_in_piece = woven.as_ref().map(|w| {
            let mut from = vec!["loom.woven", "loom.hems"];
            let mut all = w.number() + &hems_sum;
            if let Some(tails) = &tails {
                all = &all + &tails.number().times(2.0);
                from.push("loom.tails");
            }
            Figure::new(all, from)
        });
        let end_strung = l
            .warp_length
            .as_ref()
            .map(|r| number(&r.value, "loom.warp_length"));
        let warp_strung = end_strung
            .as_ref()
            .zip(ends.as_ref())
            .map(|(l, e)| Figure::new(l.number() * e, ["loom.ends", "loom.warp_length"]));
        let sideways = piece.top().sideways();
        let (across, along) = if sideways {
            (&size.mean_height, &size.mean_width)
        } else {
            (&size.mean_width, &size.mean_height)
        };
        let lost = |on: &Uncertain, off: &Figure<Length>| {
            let one = Uncertain::exact(1.0);
            (on.value > 0.0 && off.value.mm() > 0.0).then(|| &one - &(off.number() / on))
        };
        Web {
            draw_in: width.as_ref().and_then(|w| lost(w, across)),
            take_up: woven.as_ref().and_then(|w| lost(w.number(), along)),
            ends_from: if given_ends.is_some() {
                vec!["loom.ends"]
            } else {
                vec!["loom.sett", "loom.width"]
            },
            ends,
            width: width.map(|w| Length::from_mm(w.value)),
            woven: woven.map(|w| w.value),
            hems: Length::from_mm(hems_sum.value),
            end_in_piece,
            end_strung,
            warp_strung,
            continuous: l
                .kind
                .as_ref()
                .is_some_and(|k| k.to_lowercase().contains("continuous")),
            sideways,
            tails: tails.as_ref().map(|t| t.value.mm()),
        }
    }

    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let mut all = Vec::new();
        if let Some(ends) = &self.ends {
            let given = self.ends_from == ["loom.ends"];
            all.push(
                Entry::uncertain("web.ends", "warp ends", ends, "")
                    .by(
                        if given {
                            "as counted"
                        } else {
                            "sett × width in the loom, to whole ends; half an end either way is left open, the sett counts as exact"
                        },
                        "",
                    )
                    .source(if given {
                        "the record"
                    } else {
                        "definition of the sett"
                    })
                    .from(self.ends_from.clone()),
            );
        }
        if let Some(end) = &self.end_in_piece {
            all.push(
                Entry::uncertain(
                    "web.end-in-piece",
                    "each warp end in the piece",
                    end.number(),
                    "mm",
                )
                .by(
                    if self.tails.is_some() {
                        "woven height + both hems + 2 × tails"
                    } else {
                        "woven height + both hems (no tails are given)"
                    },
                    format!(
                        "{} + {}{} mm = {} mm",
                        significant(self.woven.map_or(0.0, Length::mm), 6),
                        significant(self.hems.mm(), 6),
                        self.tails
                            .map_or(String::new(), |t| format!(" + 2 × {}", significant(t, 4))),
                        significant(end.value.mm(), 6)
                    ),
                )
                .source(
                    "sum of lengths; a weft-faced warp lies straight (common practice, no source)",
                )
                .from(end.from.clone()),
            );
        }
        if let (Some(strung), Some(ends), Some(end)) =
            (&self.warp_strung, &self.ends, &self.end_strung)
        {
            all.push(
                Entry::uncertain(
                    "web.warp-strung",
                    "warp strung on the loom, all ends together",
                    &strung.number().times(0.001),
                    "m",
                )
                .by(
                    "ends × length of each as strung",
                    format!(
                        "{} × {} m = {} m",
                        significant(ends.value, 6),
                        significant(end.value.m(), 5),
                        significant(strung.value.m(), 5)
                    ),
                )
                .source("Brooks, Cotton Manufacturing: ends × warp length")
                .from(strung.from.clone()),
            );
            if self.continuous {
                all.push(
                    Entry::number(
                        "web.turns",
                        "turns of the continuous warp",
                        ends.value / 2.0,
                        "",
                    )
                    .by("ends / 2: each turn makes one end up and one down", "")
                    .source("common practice, no source")
                    .from(self.ends_from.clone()),
                );
            }
        }
        let lost = [
            (
                "web.draw-in",
                "draw-in across the warp",
                &self.draw_in,
                "(width in the loom − finished) / width in the loom",
                "1 to 3 % is commonly borne (common practice, no source)",
                [
                    "loom.width",
                    if self.sideways {
                        "measured.height"
                    } else {
                        "measured.width"
                    },
                ],
            ),
            (
                "web.take-up",
                "take-up along the warp since the loom",
                &self.take_up,
                "(woven height − finished) / woven height",
                "1 to 5 % is usual (common practice, no source); up to 10 % by weave in an older handbook of silk weaving",
                [
                    "loom.woven",
                    if self.sideways {
                        "measured.width"
                    } else {
                        "measured.height"
                    },
                ],
            ),
        ];
        for (name, what, lost, formula, source, from) in lost {
            if let Some(lost) = lost {
                all.push(
                    Entry::uncertain(name, what, &lost.times(100.0), "%")
                        .by(
                            formula,
                            if self.sideways {
                                "hung on its side: the measured height lies across the warp"
                            } else {
                                "hung as woven: the measured width lies across the warp"
                            },
                        )
                        .source(source)
                        .from(from.into_iter().chain(["top"])),
                );
            }
        }
        all
    }
}
