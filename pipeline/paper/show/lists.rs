//! The list of works, the list of prices, loans and the packing list.

use super::list::{Listed, Section, Table, numbered};
use super::views::{OpeningView, RegisteredView, ShowPiece, ShowView};
use super::{cm, kg, term};
use crate::paper::common::{lead, made, maker, size};
use crate::paper::said::{Run, Said};
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Press, Sheet, catalogue, dates, figures};
use crate::quantity::{Day, Money};
use std::collections::BTreeMap;

/// The title, and below it who made it.
fn titled(piece: &ShowPiece, tongues: &[&Words]) -> Vec<Said> {
    let title = Said::runs(&tongues[..1], |_| {
        vec![Run::Title {
            title: piece.public.title.clone(),
        }]
    });
    vec![title, maker(&piece.public, tongues)]
}

fn record(piece: &ShowPiece) -> Vec<Said> {
    let (number, check) = piece.public.number.spoken();
    if piece.finished {
        vec![Said::own(format!("{number} {check}"))]
    } else {
        vec![Said::own("–")]
    }
}

impl Press {
    /// The list of works. It is public.
    pub fn list_of_works(&self, show: &ShowView) -> Result<Sheet, PaperError> {
        let t = self.tongues(show);
        let mut table = Table::with(
            &t,
            &[
                (&|w| &w.heads.number, 0.0, true),
                (&|w| &w.heads.piece, 2.4, false),
                (&|w| &w.heads.made, 1.5, false),
                (&|w| &w.heads.materials, 2.4, false),
                (&|w| &w.heads.size, 1.7, false),
                (&|w| &w.heads.wall, 0.9, false),
                (&|w| &w.heads.record, 0.0, false),
            ],
        );
        table.rows = show
            .pieces
            .iter()
            .map(|p| {
                vec![
                    numbered(p.number),
                    titled(p, &t),
                    vec![made(&p.public, &t)],
                    catalogue::medium(&p.public, &t).into_iter().collect(),
                    vec![size(&p.public, &t)],
                    vec![Said::own(p.wall.clone().unwrap_or_else(|| "–".into()))],
                    record(p),
                ]
            })
            .collect();
        let section = Section {
            table: (!table.rows.is_empty()).then_some(table),
            ..Section::default()
        };
        let listed = Listed {
            wide: true,
            sections: vec![section],
            notes: vec![term(&t, |w| &w.catalogue.record_said)],
            ..Listed::default()
        };
        self.list_paper(show, "list", |w| &w.names.list, listed)
    }

    /// The list of prices: what is for sale, and for how much. It is public, and made only when it is asked for.
    pub fn price_list(
        &self,
        show: &ShowView,
        prices: &BTreeMap<usize, Option<Money>>,
    ) -> Result<Sheet, PaperError> {
        let t = self.tongues(show);
        let mut table = Table::with(
            &t,
            &[
                (&|w| &w.heads.number, 0.0, true),
                (&|w| &w.heads.piece, 2.4, false),
                (&|w| &w.heads.made, 1.5, false),
                (&|w| &w.heads.size, 1.7, false),
                (&|w| &w.heads.price, 0.0, true),
            ],
        );
        let words = lead(&t);
        table.rows = show
            .pieces
            .iter()
            .filter_map(|p| Some((p, prices.get(&p.number)?)))
            .map(|(p, price)| {
                let price = price
                    .as_ref()
                    .map_or("–".to_owned(), |m| figures::money(m, words));
                vec![
                    numbered(p.number),
                    titled(p, &t),
                    vec![made(&p.public, &t)],
                    vec![size(&p.public, &t)],
                    vec![Said::own(price)],
                ]
            })
            .collect();
        let section = Section {
            table: (!table.rows.is_empty()).then_some(table),
            ..Section::default()
        };
        let who = show.contact.clone().unwrap_or_else(|| show.studio.clone());
        let listed = Listed {
            sections: vec![section],
            notes: vec![
                Said::each(&t, |w| fill(&w.show.lists.sold_by, &[("who", &who)])),
                term(&t, |w| &w.lists.taxes),
            ],
            ..Listed::default()
        };
        self.list_paper(show, "prices", |w| &w.names.prices, listed)
    }

    /// Loans: what each lender lends, from when to when, insured for how much, to be signed for. For the registrar
    /// and the lenders.
    pub fn loan_papers(
        &self,
        show: &ShowView,
        registered: &[RegisteredView],
    ) -> Result<Sheet, PaperError> {
        let t = self.tongues(show);
        let words = lead(&t);
        let mut lenders: Vec<Option<&String>> = Vec::new();
        for r in registered {
            if !lenders.contains(&r.lender.as_ref()) {
                lenders.push(r.lender.as_ref());
            }
        }
        let sections = lenders
            .into_iter()
            .map(|lender| {
                let theirs = || {
                    let both = show.pieces.iter().zip(registered);
                    both.filter(move |(_, r)| r.lender.as_ref() == lender)
                };
                let mut table = Table::with(
                    &t,
                    &[
                        (&|w| &w.heads.number, 0.0, true),
                        (&|w| &w.heads.piece, 2.2, false),
                        (&|w| &w.heads.size, 1.5, false),
                        (&|w| &w.heads.from, 1.1, false),
                        (&|w| &w.heads.to, 1.1, false),
                        (&|w| &w.heads.insured, 0.0, true),
                        (&|w| &w.lists.condition, 1.3, false),
                    ],
                );
                let on = |day: Option<Day>| match day {
                    Some(day) => vec![Said::each(&t, |w| dates::day(day, w))],
                    None => vec![Said::own("–")],
                };
                table.rows = theirs()
                    .map(|(p, r)| {
                        let sum = r
                            .insured
                            .as_ref()
                            .map_or("–".into(), |m| figures::money(m, words));
                        vec![
                            numbered(p.number),
                            titled(p, &t),
                            vec![size(&p.public, &t)],
                            on(r.span.0),
                            on(r.span.1),
                            vec![Said::own(sum)],
                            Vec::new(),
                        ]
                    })
                    .collect();
                let sums = total(theirs().map(|(_, r)| r.insured.as_ref()), &t);
                Section {
                    head: Some(match lender {
                        Some(who) => {
                            Said::each(&t, |w| fill(&w.show.lists.lender, &[("who", who)]))
                        }
                        None => term(&t, |w| &w.lists.of_studio),
                    }),
                    table: Some(table),
                    sums,
                    signed: vec![
                        term(&t, |w| &w.lists.signed_out),
                        term(&t, |w| &w.lists.signed_back),
                    ],
                }
            })
            .collect();
        let listed = Listed {
            wide: true,
            cautions: vec![term(&t, |w| &w.lists.terms)],
            sections,
            ..Listed::default()
        };
        self.list_paper(show, "loans", |w| &w.names.loans, listed)
    }

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
            let which: Vec<String> = opening
                .stuck
                .iter()
                .filter_map(|i| show.pieces.get(*i))
                .map(|p| format!("{} {}", p.number, p.public.title))
                .collect();
            notes.push(Said::each(&t, |w| {
                let pattern = if which.is_empty() {
                    &w.show.lists.passes
                } else {
                    &w.show.lists.passes_not
                };
                fill(
                    pattern,
                    &[("what", &opening.what), ("which", &which.join(", "))],
                )
            }));
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
                    let side = |l: crate::quantity::Length| {
                        figures::short((l.cm() * 10.0).round() / 10.0, w)
                    };
                    format!("{} × {} × {} cm", side(b[0]), side(b[1]), side(b[1]))
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
                r.mass.map_or_else(Vec::new, |m| told(&|w| kg(m, show, w))),
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
        signed: vec![
            term(t, |w| &w.lists.signed_out),
            term(t, |w| &w.lists.signed_back),
        ],
    }
}

/// Sums of money, one a currency, and how many had none.
fn total<'a>(sums: impl Iterator<Item = Option<&'a Money>>, t: &[&Words]) -> Vec<Said> {
    let mut by_currency: BTreeMap<String, Money> = BTreeMap::new();
    let mut without = 0;
    for sum in sums {
        match sum {
            None => without += 1,
            Some(sum) => {
                let key = sum.currency.to_string();
                let before = by_currency.get(&key).map(|m| m.amount).unwrap_or_default();
                let amount = before.checked_add(sum.amount).unwrap_or(before);
                by_currency.insert(
                    key,
                    Money {
                        amount,
                        currency: sum.currency,
                    },
                );
            }
        }
    }
    if by_currency.is_empty() {
        return Vec::new();
    }
    let all: Vec<String> = by_currency
        .values()
        .map(|m| figures::money(m, lead(t)))
        .collect();
    let mut out = vec![Said::each(t, |w| {
        format!("{}{}{}", w.show.lists.total, w.colon(), w.all_of(&all))
    })];
    if without > 0 {
        out.push(Said::each(t, |w| {
            fill(&w.show.lists.uncounted, &[("count", &without.to_string())])
        }));
    }
    out
}
