//! The certificate's list of facts: what the record tells of the piece, in groups that belong
//! together. What it does not tell is not there.

use super::common::{made, series, size, way_up};
use super::figures::{mass, short};
use super::said::{Fact, Said};
use super::views::{OwnerView, PublicView, Yarn};
use super::words::{Words, fill};
use super::{dates, fibres};
use crate::record::Measures;

/// The facts, in groups that belong together.
pub(super) fn groups(view: &OwnerView, tongues: &[&Words]) -> Vec<Vec<Fact>> {
    of_piece(&view.public, owners(view, tongues), tongues)
}

/// The same for everybody: of the owner what the public may hear.
pub(super) fn public_groups(piece: &PublicView, tongues: &[&Words]) -> Vec<Vec<Fact>> {
    let kept_by = piece.kept_by.as_ref().map(|who| {
        let term = Said::each(tongues, |w| w.terms.owner.clone());
        Fact::new(term, Said::own(who))
    });
    of_piece(piece, kept_by, tongues)
}

fn of_piece(piece: &PublicView, owners: Option<Fact>, tongues: &[&Words]) -> Vec<Vec<Fact>> {
    let term = |get: fn(&Words) -> &String| Said::each(tongues, |w| get(w).clone());
    let own = |get: fn(&Words) -> &String, value: &Option<String>| {
        value.as_ref().map(|v| Fact::new(term(get), Said::own(v)))
    };
    let maker = match &piece.makers {
        None => Fact::new(term(|w| &w.terms.maker), Said::own(&piece.weaver)),
        Some(all) => Fact::new(
            term(|w| &w.terms.makers),
            Said::each(tongues, |w| {
                fill(&w.facts.made_by_many, &[("count", &all.count.to_string())])
            }),
        ),
    };
    // What it is and where it was made: a customs officer asks for both first.
    let mut when_and_where = made(piece, tongues);
    if let Some(place) = &piece.place {
        when_and_where = when_and_where.then(Said::own(format!(", {place}")));
    }
    let identity = [
        Some(Fact::new(
            term(|w| &w.terms.object),
            term(|w| &w.facts.object),
        )),
        Some(maker),
        Some(Fact::new(term(|w| &w.terms.made), when_and_where)),
        piece.series.as_ref().map(|_| {
            Fact::new(
                term(|w| &w.terms.series),
                Said::each(tongues, |w| series(piece, w).unwrap_or_default()),
            )
        }),
        own(|w| &w.terms.inscription, &piece.inscription),
    ];
    let content = fibres::sentence(piece, tongues);
    let making = [
        own(|w| &w.terms.technique, &piece.technique),
        warp(piece, tongues).map(|v| Fact::new(term(|w| &w.terms.warp), v)),
        weft(piece, tongues).map(|v| Fact::new(term(|w| &w.terms.weft), v)),
        (!content.is_empty()).then(|| Fact {
            term: term(|w| &w.terms.fibres),
            lines: content,
            note: Some(Said::each(tongues, |w| {
                if fibres::percentages_known(piece) {
                    w.facts.reckoned.clone()
                } else {
                    w.facts.percentages_unknown.clone()
                }
            })),
        }),
        fibres::lining(piece, tongues).map(|v| Fact::new(term(|w| &w.terms.lining), v)),
    ];
    let body = [
        Some(Fact::new(term(|w| &w.terms.size), size(piece, tongues))),
        piece.mass.as_ref().map(|reading| {
            Fact::new(
                term(|w| &w.terms.mass),
                Said::each(tongues, |w| mass(reading, piece.measures, w)),
            )
        }),
        measured(piece, tongues).map(|v| Fact::new(term(|w| &w.terms.measured), v)),
        piece.top.map(|top| {
            Fact::new(
                term(|w| &w.terms.way_up),
                Said::each(tongues, |w| way_up(top, w).to_string()),
            )
        }),
    ];
    let roots = [
        (!piece.credits.is_empty()).then(|| Fact {
            term: term(|w| &w.terms.credits),
            lines: piece.credits.iter().map(Said::own).collect(),
            note: None,
        }),
        owners,
    ];
    let lists: [Vec<Option<Fact>>; 4] = [identity.into(), making.into(), body.into(), roots.into()];
    lists
        .into_iter()
        .map(|group| group.into_iter().flatten().collect::<Vec<_>>())
        .filter(|group| !group.is_empty())
        .collect()
}

fn owners(view: &OwnerView, tongues: &[&Words]) -> Option<Fact> {
    let one = view.line.len() == 1;
    (!view.line.is_empty()).then(|| Fact {
        term: Said::each(tongues, |w| {
            if one {
                w.terms.owner.clone()
            } else {
                w.terms.owners.clone()
            }
        }),
        lines: view
            .line
            .iter()
            .map(|keeper| {
                let mut own = format!("{}, ", keeper.who);
                if let Some(how) = &keeper.how {
                    own.push_str(&format!("{how}, "));
                }
                Said::own(own).then(Said::each(tongues, |w| dates::since(&keeper.from, w)))
            })
            .collect(),
        note: None,
    })
}

/// "cotton seine twine, Ne 12/15, 3 ends/cm": her own words once, the sett in each language.
fn warp(piece: &PublicView, tongues: &[&Words]) -> Option<Said> {
    let yarn = &piece.warp;
    let sett = piece.sett.as_ref().map(|sett| {
        Said::each(tongues, |w| {
            let (pattern, number) = match piece.measures {
                Measures::In => (&w.facts.sett_inch, sett.value.epi()),
                _ => (&w.facts.sett, sett.value.per_cm()),
            };
            fill(pattern, &[("number", &short(number, w))])
        })
    });
    let names = match &yarn.name {
        Some(name) => Some(Said::own(name)),
        None if yarn.fibres.is_empty() => None,
        None => Some(Said::each(tongues, |w| {
            fibre_names(std::slice::from_ref(yarn), w).join(", ")
        })),
    };
    let parts = [names, yarn.count.as_ref().map(Said::own), sett];
    parts
        .into_iter()
        .flatten()
        .reduce(|so_far, next| so_far.then(Said::own(", ")).then(next))
}

/// How many names of yarns stand on the certificate before the rest is counted.
const NAMED_YARNS: usize = 8;

/// "6 yarns: low-water green, buoy red …", the names once; or their fibres where they have no names.
fn weft(piece: &PublicView, tongues: &[&Words]) -> Option<Said> {
    let yarns = &piece.weft;
    let mut names: Vec<String> = Vec::new();
    for name in yarns.iter().filter_map(|y| y.name.clone()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let count = yarns.len().to_string();
    let counted = Said::each(tongues, |w| match yarns.len() {
        1 => w.facts.one_yarn.clone(),
        _ => fill(&w.facts.yarns, &[("count", &count)]),
    });
    let listed = if names.len() > NAMED_YARNS {
        let rest = names.split_off(NAMED_YARNS - 1).len().to_string();
        let list = names.join(", ");
        let more = |w: &Words| {
            let said = fill(&w.join.and_more, &[("list", ""), ("count", &rest)]);
            said.trim().to_string()
        };
        Some(Said::own(format!("{list} ")).then(Said::each(tongues, more)))
    } else if !names.is_empty() {
        Some(Said::own(names.join(", ")))
    } else {
        let said = Said::each(tongues, |w| fibre_names(yarns, w).join(", "));
        yarns.iter().any(|y| !y.fibres.is_empty()).then_some(said)
    };
    let colon = tongues.first().map_or(": ".to_string(), |w| w.colon());
    match (yarns.len(), listed) {
        (0, _) => None,
        (1, Some(listed)) => Some(listed),
        (_, None) => Some(counted),
        (_, Some(listed)) => Some(counted.then(Said::own(colon)).then(listed)),
    }
}

/// The fibres of some yarns, each once, by their permitted names in the language.
fn fibre_names(yarns: &[Yarn], w: &Words) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for fibre in yarns.iter().flat_map(|y| &y.fibres) {
        let name = crate::record::fibre_named(fibre)
            .map_or_else(|| fibre.clone(), |f| w.fibre(f.name).to_string());
        if !out.contains(&name) {
            out.push(name);
        }
    }
    out
}

/// "24 June 2026, by OB"; in two languages "24 June 2026 · 24. Juni 2026 (OB)", the name once.
fn measured(piece: &PublicView, tongues: &[&Words]) -> Option<Said> {
    match (piece.measured_on, piece.measured_by.as_deref()) {
        (Some(day), Some(who)) if tongues.len() > 1 => {
            Some(Said::each(tongues, |w| dates::day(day, w)).then(Said::own(format!(" ({who})"))))
        }
        (Some(day), Some(who)) => Some(Said::each(tongues, |w| {
            fill(
                &w.facts.measured,
                &[("date", &dates::day(day, w)), ("who", who)],
            )
        })),
        (Some(day), None) => Some(Said::each(tongues, |w| dates::day(day, w))),
        (None, who) => who.map(Said::own),
    }
}
