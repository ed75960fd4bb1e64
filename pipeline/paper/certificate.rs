//! The certificate of provenance, for the owner: what the piece is, who states it, and how anybody
//! can check the record without this program. Neither price nor address stands on it.

use super::common::{
    Common, Described, front_alt, ident, lead, made, series, size, want, way_up,
};
use super::figures::{mass, short};
use super::plates::{Plate, Plates};
use super::press::{Draft, Press};
use super::said::{Fact, Run, Said, with_title};
use super::views::{OwnerView, PublicView, Yarn};
use super::words::{Words, fill};
use super::{PaperError, Sheet, Wanting, dates, fibres, qr};
use crate::record::Measures;
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Certificate {
    common: Common,
    name: Said,
    title: String,
    plate: Option<Plate>,
    groups: Vec<Vec<Fact>>,
    states: Said,
    issued: Option<Said>,
    date: Said,
    signature: Said,
    verify: Vec<Said>,
    verify_short: Said,
    digest: Vec<String>,
    code: Option<Described>,
    attachment: String,
}

impl Press {
    /// The certificate, with `record_json` attached as it is. It is for the owner.
    pub fn certificate(
        &self,
        view: &OwnerView,
        record_json: &[u8],
        plates: &Plates,
    ) -> Result<Sheet, PaperError> {
        let piece = &view.public;
        let tongues = self.lexicon.choose(&piece.languages);
        let words = lead(&tongues);
        let name = &words.certificate.name;
        let hex = piece.number.hex();
        let code = qr::svg(&piece.code);
        let data = Certificate {
            common: Common::of(piece, &tongues, name, plates),
            name: Said::each(&tongues, |w| w.certificate.name.clone()),
            title: piece.title.clone(),
            plate: plates
                .front
                .as_ref()
                .map(|p| p.plate(front_alt(piece, words))),
            groups: groups(view, &tongues),
            states: Said::runs(&tongues, |w| states(piece, w)),
            issued: piece.issued.map(|day| {
                Said::each(&tongues, |w| {
                    fill(&w.certificate.issued, &[("date", &dates::day(day, w))])
                })
            }),
            date: Said::each(&tongues, |w| w.certificate.date.clone()),
            signature: Said::each(&tongues, |w| {
                fill(&w.certificate.signature, &[("weaver", &piece.weaver)])
            }),
            verify: tongues
                .iter()
                .map(|w| {
                    Said::each(&[*w], |w| {
                        let c = &w.certificate;
                        format!("{} {}", c.verify_attached, c.verify_digest)
                    })
                })
                .collect(),
            verify_short: Said::each(&tongues, |w| w.certificate.verify_short.clone()),
            digest: (0..16)
                .filter_map(|i| hex.get(4 * i..4 * i + 4))
                .map(str::to_string)
                .collect(),
            code: code.as_ref().map(|_| Described {
                alt: fill(&words.certificate.code_alt, &[("content", &piece.code)]),
            }),
            attachment: words.certificate.verify_attached.clone(),
        };
        self.set(Draft {
            template: "/certificate.typ",
            ident: ident(piece, "certificate"),
            data: &data,
            plates: &Plates {
                front: plates.front.clone(),
                second: None,
                ladder_svg: plates.ladder_svg,
            },
            code,
            record: Some(record_json),
            wanting: wanting(view, plates),
        })
    }
}

fn states(piece: &PublicView, w: &Words) -> Vec<Run> {
    let count = piece.makers.as_ref().map(|m| m.count.to_string());
    let pattern = match count {
        Some(_) => &w.certificate.states_many,
        None => &w.certificate.states,
    };
    let values = [
        ("studio", piece.studio.as_str()),
        ("weaver", piece.weaver.as_str()),
        ("count", count.as_deref().unwrap_or_default()),
    ];
    with_title(pattern, &piece.title, &values)
}

/// The facts, in groups that belong together.
fn groups(view: &OwnerView, tongues: &[&Words]) -> Vec<Vec<Fact>> {
    let piece = &view.public;
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
    let identity = [
        Some(maker),
        Some(Fact::new(term(|w| &w.terms.made), made(piece, tongues))),
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
        (!piece.draws_on.is_empty()).then(|| Fact {
            term: term(|w| &w.terms.leans_on),
            lines: piece.draws_on.iter().map(Said::own).collect(),
            note: None,
        }),
        owners(view, tongues),
    ];
    let lists: [Vec<Option<Fact>>; 4] = [
        identity.into(),
        making.into(),
        body.into(),
        roots.into(),
    ];
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
            if one { w.terms.owner.clone() } else { w.terms.owners.clone() }
        }),
        lines: view
            .line
            .iter()
            .map(|keeper| {
                Said::each(tongues, |w| {
                    let mut parts = vec![keeper.who.clone()];
                    parts.extend(keeper.how.clone());
                    parts.push(dates::since(&keeper.from, w));
                    parts.join(", ")
                })
            })
            .collect(),
        note: None,
    })
}

/// "cotton seine twine, Ne 12/15, 3 ends/cm".
fn warp(piece: &PublicView, tongues: &[&Words]) -> Option<Said> {
    let yarn = &piece.warp;
    let told = yarn.name.is_some() || yarn.count.is_some() || !yarn.fibres.is_empty();
    (told || piece.sett.is_some()).then(|| {
        Said::each(tongues, |w| {
            let mut parts: Vec<String> = match &yarn.name {
                Some(name) => vec![name.clone()],
                None => fibre_names(std::slice::from_ref(yarn), w),
            };
            parts.extend(yarn.count.clone());
            parts.extend(piece.sett.as_ref().map(|sett| {
                let (pattern, number) = match piece.measures {
                    Measures::In => (&w.facts.sett_inch, sett.value.epi()),
                    _ => (&w.facts.sett, sett.value.per_cm()),
                };
                fill(pattern, &[("number", &short(number, w))])
            }));
            parts.join(", ")
        })
    })
}

/// How many names of yarns stand on the certificate before the rest is counted.
const NAMED_YARNS: usize = 8;

/// "6 yarns: low-water green, buoy red …", or their fibres where they have no names.
fn weft(piece: &PublicView, tongues: &[&Words]) -> Option<Said> {
    let yarns = &piece.weft;
    (!yarns.is_empty()).then(|| {
        Said::each(tongues, |w| {
            let mut names: Vec<String> = Vec::new();
            for name in yarns.iter().filter_map(|y| y.name.clone()) {
                if !names.contains(&name) {
                    names.push(name);
                }
            }
            let listed = if names.is_empty() {
                fibre_names(yarns, w).join(", ")
            } else if names.len() > NAMED_YARNS {
                let rest = names.split_off(NAMED_YARNS - 1).len().to_string();
                fill(
                    &w.join.and_more,
                    &[("list", &names.join(", ")), ("count", &rest)],
                )
            } else {
                names.join(", ")
            };
            if yarns.len() == 1 && !listed.is_empty() {
                return listed;
            }
            let count = yarns.len().to_string();
            match (yarns.len(), listed.is_empty()) {
                (1, _) => w.facts.one_yarn.clone(),
                (_, true) => fill(&w.facts.yarns, &[("count", &count)]),
                (_, false) => fill(
                    &w.facts.yarns_named,
                    &[("count", &count), ("names", &listed)],
                ),
            }
        })
    })
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

fn measured(piece: &PublicView, tongues: &[&Words]) -> Option<Said> {
    let (on, by) = (piece.measured_on, piece.measured_by.as_deref());
    (on.is_some() || by.is_some()).then(|| {
        Said::each(tongues, |w| match (on, by) {
            (Some(day), Some(who)) => fill(
                &w.facts.measured,
                &[("date", &dates::day(day, w)), ("who", who)],
            ),
            (Some(day), None) => dates::day(day, w),
            (None, who) => who.unwrap_or_default().to_string(),
        })
    })
}

fn wanting(view: &OwnerView, plates: &Plates) -> Vec<Wanting> {
    let p = &view.public;
    let mut out = Vec::new();
    let w = &mut out;
    want(w, plates.front.is_some(), "photos", "a photograph of the front");
    want(w, p.technique.is_some(), "technique", "the technique");
    want(w, p.inscription.is_some(), "inscription", "what is written on the piece");
    want(w, p.mass.is_some(), "measured.mass", "the mass on the scale");
    want(w, p.measured_on.is_some(), "measured.on", "the day of measuring");
    want(w, p.top.is_some(), "top", "which woven edge is the top");
    want(
        w,
        fibres::any_known(p) && fibres::percentages_known(p),
        "weft.used",
        "the masses or fibres that the percentages need",
    );
    want(w, !view.line.is_empty(), "owners", "the owner");
    want(w, p.issued.is_some(), "issued", "the day of issue: a line to fill in stands there");
    out
}
