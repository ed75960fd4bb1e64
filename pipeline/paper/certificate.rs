//! The certificate of provenance, for the owner: what the piece is, who states it, and how anybody
//! can check the record without this program. Neither price nor address stands on it.

use super::common::{Common, Described, front_alt, ident, lead, want};
use super::plates::{Plate, Plates};
use super::press::{Draft, Press};
use super::said::{Fact, Run, Said, with_title};
use super::views::{OwnerView, PublicView};
use super::words::{Words, fill};
use super::{PaperError, Sheet, Wanting, dates, facts, fibres, qr};
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Certificate {
    common: Common,
    name: Said,
    title: String,
    plate: Option<Plate>,
    /// A further view, for a second side.
    second: Option<Plate>,
    groups: Vec<Vec<Fact>>,
    states: Said,
    issued: Option<Said>,
    date: Said,
    signature: Said,
    /// How it is published that the studio may be asked.
    contact: Option<String>,
    /// Three steps, in each language.
    verify: Vec<[Said; 3]>,
    check: Said,
    /// By which key the bundle is sealed.
    seal: Option<Said>,
    /// SHA-256 of record.json, in sixteen groups of four.
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
            second: plates
                .second
                .as_ref()
                .map(|p| p.plate(fill(&words.alt.second, &[("title", &piece.title)]))),
            groups: facts::groups(view, &tongues),
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
            contact: piece.contact.clone(),
            verify: tongues
                .iter()
                .map(|w| {
                    let step = |get: fn(&Words) -> &String| Said::each(&[*w], |w| get(w).clone());
                    [
                        step(|w| &w.certificate.verify_attached),
                        step(|w| &w.certificate.verify_digest),
                        step(|w| &w.certificate.verify_short),
                    ]
                })
                .collect(),
            check: Said::each(&tongues, |w| {
                let check = piece.number.spoken().1.to_string();
                fill(&w.certificate.check, &[("check", &check)])
            }),
            seal: view.seal_key.as_ref().map(|key| {
                Said::each(&tongues, |w| {
                    fill(&w.certificate.seal, &[("fingerprint", key)])
                })
            }),
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
            plates,
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

/// What the paper leaves out.
pub(super) fn wanting(view: &OwnerView, plates: &Plates) -> Vec<Wanting> {
    let p = &view.public;
    let mut out = Vec::new();
    let w = &mut out;
    want(
        w,
        plates.front.is_some(),
        "photos",
        "a photograph of the front",
    );
    want(w, p.technique.is_some(), "technique", "the technique");
    want(
        w,
        p.inscription.is_some(),
        "inscription",
        "what is written on the piece",
    );
    want(
        w,
        p.mass.is_some(),
        "measured.mass",
        "the mass on the scale",
    );
    want(
        w,
        p.measured_on.is_some(),
        "measured.on",
        "the day of measuring",
    );
    want(w, p.top.is_some(), "top", "which woven edge is the top");
    want(
        w,
        fibres::any_known(p) && fibres::percentages_known(p),
        "weft.used",
        "the masses or fibres that the percentages need",
    );
    want(w, !view.line.is_empty(), "owners", "the owner");
    want(w, p.issued.is_some(), "issued", "the day of issue");
    out
}
