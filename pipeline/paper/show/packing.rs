//! The packing list: what travels together, how large and heavy, and what it must pass.

use super::list::{Listed, Section, Table, numbered};
use super::lists::{titled, total};
use super::views::{OpeningView, RegisteredView, ShowPiece, ShowView};
use super::{cm, kg, term};
use crate::paper::common::lead;
use crate::paper::said::Said;
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Press, Sheet, figures};

impl Press {
    /// The packing list: what travels together, how large and heavy, to be ticked off out and back. For the carrier
    /// and whoever packs.
    pub fn packing_list(
        &self,
        show: &ShowView,
        registered: &[RegisteredView],
        openings: &[OpeningView],
    ) -> Result<Sheet, PaperError> {
        let t = self.tongues(show);
        let mut ways: Vec<Option<&String>> = Vec::new();
        for r in registered {
            if !ways.contains(&r.transport.as_ref()) {
                ways.push(r.transport.as_ref());
            }
        }
        let sections: Vec<Section> = ways
            .into_iter()
            .map(|way| transport(show, registered, way, &t))
            .collect();
        let mut notes = Vec::new();
        let longest = registered
            .iter()
            .filter_map(|r| Some(r.roll?.0))
            .max_by(|a, b| a.mm().total_cmp(&b.mm()));
        let widest = registered
            .iter()
            .filter_map(|r| Some(r.roll?.1))
            .max_by(|a, b| a.mm().total_cmp(&b.mm()));
        if let (Some(length), Some(width)) = (longest, widest) {
            notes.push(Said::each(&t, |w| {
                let (l, d) = (cm(length, show, w), cm(width, show, w));
                fill(&w.show.lists.longest, &[("length", &l), ("width", &d)])
            }));
        }
        for opening in openings {
            let named = |of: &[usize]| -> String {
                let pieces = of.iter().filter_map(|i| show.pieces.get(*i));
                let all: Vec<String> = pieces
                    .map(|p| format!("{} {}", p.number, p.public.title))
                    .collect();
                all.join(", ")
            };
            let (stuck, unknown) = (named(&opening.stuck), named(&opening.unknown));
            notes.push(Said::each(&t, |w| {
                let words = &w.show.lists;
                let pattern = if stuck.is_empty() {
                    &words.passes
                } else {
                    &words.passes_not
                };
                fill(pattern, &[("what", &opening.what), ("which", &stuck)])
            }));
            if !unknown.is_empty() {
                notes.push(Said::each(&t, |w| {
                    fill(
                        &w.show.lists.passes_unknown,
                        &[("what", &opening.what), ("which", &unknown)],
                    )
                }));
            }
        }
        if registered
            .iter()
            .any(|r| r.mass.is_some() && !r.with_packing)
        {
            notes.push(term(&t, |w| &w.lists.bare));
        }
        let listed = Listed {
            wide: true,
            sections,
            notes,
            ..Listed::default()
        };
        self.list_paper(show, "packing", |w| &w.names.packing, listed)
    }
}

fn transport(
    show: &ShowView,
    registered: &[RegisteredView],
    way: Option<&String>,
    t: &[&Words],
) -> Section {
    let its: Vec<(&ShowPiece, &RegisteredView)> = show
        .pieces
        .iter()
        .zip(registered)
        .filter(|(_, r)| r.transport.as_ref() == way)
        .collect();
    let mut table = Table::with(
        t,
        &[
            (&|w| &w.heads.number, 0.0, true),
            (&|w| &w.heads.piece, 2.0, false),
            (&|w| &w.heads.tube, 1.4, false),
            (&|w| &w.heads.parcel, 1.7, false),
            (&|w| &w.heads.volume, 0.0, true),
            (&|w| &w.heads.mass, 0.0, true),
            (&|w| &w.heads.out, 1.2, false),
            (&|w| &w.heads.back, 1.2, false),
        ],
    );
    let m3 = |box_: [crate::quantity::Length; 2]| box_[0].m() * box_[1].m() * box_[1].m();
    // Figures stand once, in the leading language.
    let told = |text: &dyn Fn(&Words) -> String| vec![Said::own(text(lead(t)))];
    table.rows = its
        .iter()
        .map(|(p, r)| {
            let roll = match r.roll {
                Some((l, d)) => told(&|w| format!("{} × Ø {}", cm(l, show, w), cm(d, show, w))),
                None => vec![term(t, |w| &w.lists.roll_unknown)],
            };
            let parcel = r.parcel.map_or_else(Vec::new, |b| {
                told(&|w| {
                    format!(
                        "{} × {} × {}",
                        cm(b[0], show, w),
                        cm(b[1], show, w),
                        cm(b[1], show, w)
                    )
                })
            });
            vec![
                numbered(p.number),
                titled(p, t),
                roll,
                parcel,
                r.parcel.map_or_else(Vec::new, |b| {
                    told(&|w| format!("{} m³", figures::decimal(m3(b), 2, w)))
                }),
                r.mass.map_or_else(Vec::new, |m| {
                    let star = if r.with_packing { "" } else { "*" };
                    told(&|w| format!("{}{star}", kg(m, show, w)))
                }),
                Vec::new(),
                Vec::new(),
            ]
        })
        .collect();
    let boxes = its.iter().filter(|(_, r)| r.parcel.is_some()).count();
    let volume: f64 = its.iter().filter_map(|(_, r)| r.parcel).map(m3).sum();
    let mass: f64 = its.iter().filter_map(|(_, r)| r.mass).sum();
    let mut sums = vec![Said::each(t, |w| {
        let (volume, mass) = (figures::decimal(volume, 2, w), kg(mass, show, w));
        fill(
            &w.show.lists.boxes,
            &[
                ("count", &boxes.to_string()),
                ("volume", &volume),
                ("mass", &mass),
            ],
        )
    })];
    sums.extend(total(its.iter().map(|(_, r)| r.insured.as_ref()), t));
    Section {
        head: Some(match way {
            Some(way) => Said::each(t, |w| fill(&w.show.lists.transport, &[("name", way)])),
            None => term(t, |w| &w.lists.no_transport),
        }),
        table: Some(table),
        sums,
        terms: Vec::new(),
        signed: vec![
            term(t, |w| &w.lists.signed_out),
            term(t, |w| &w.lists.signed_back),
        ],
    }
}
