//! The list of works, the list of prices, loans and the packing list.

use super::list::{Listed, Section, Table, numbered};
use super::term;
use super::views::{RegisteredView, ShowPiece, ShowView};
use crate::paper::common::{lead, made, maker, size};
use crate::paper::said::{Run, Said};
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Press, Sheet, catalogue, dates, figures};
use crate::quantity::{Day, Money};
use std::collections::BTreeMap;

/// The title, and below it who made it.
pub(super) fn titled(piece: &ShowPiece, tongues: &[&Words]) -> Vec<Said> {
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
                    terms: vec![term(&t, |w| &w.lists.terms)],
                    signed: vec![
                        term(&t, |w| &w.lists.signed_out),
                        term(&t, |w| &w.lists.signed_back),
                    ],
                }
            })
            .collect();
        let listed = Listed {
            wide: true,
            apart: true,
            sections,
            ..Listed::default()
        };
        self.list_paper(show, "loans", |w| &w.names.loans, listed)
    }
}

/// Sums of money, one a currency, and how many had none.
pub(super) fn total<'a>(sums: impl Iterator<Item = Option<&'a Money>>, t: &[&Words]) -> Vec<Said> {
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
