//! The care label: true size, to be printed on tape and sewn to the back. Fibre content, care in
//! words, record number. No care symbols: they are protected marks.

use super::common::{Common, capital, ident, lead, maker, want};
use super::fibres::{self, FibreBlock};
use super::plates::Plates;
use super::press::{Draft, Press};
use super::said::Said;
use super::views::PublicView;
use super::words::{Treatment, Words};
use super::{PaperError, Sheet, Wanting, dates};
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Label {
    common: Common,
    /// Width of the tape in millimetres.
    tape: f64,
    /// One label on a sheet of its own size, or several on a sheet of paper.
    single: bool,
    name: Said,
    true_size: Said,
    ruler: Said,
    making: Said,
    maker: Said,
    title: String,
    year: Said,
    studio: Option<String>,
    fibres: Vec<FibreBlock>,
    reckoned: Option<Said>,
    /// Her own line of care stands first where it speaks of one of the five groups.
    own_first: bool,
    own: Option<String>,
    care: Vec<Said>,
    record: String,
}

impl Press {
    /// A sheet of care labels, to be cut apart. It is public.
    pub fn care_label(&self, view: &PublicView, plates: &Plates) -> Result<Sheet, PaperError> {
        self.labels(view, plates, false)
    }

    /// One care label, its page as large as the label: for a printer that holds tape. It is public.
    pub fn single_label(&self, view: &PublicView, plates: &Plates) -> Result<Sheet, PaperError> {
        self.labels(view, plates, true)
    }

    fn labels(
        &self,
        view: &PublicView,
        plates: &Plates,
        single: bool,
    ) -> Result<Sheet, PaperError> {
        let tongues = self.lexicon.choose(&view.languages);
        let words = lead(&tongues);
        let own_first = processes(view, &tongues, words).1;
        let care = (tongues.iter())
            .filter_map(|w| {
                let text = processes(view, &tongues, w).0?;
                Some(Said::each(&[*w], |_| text.clone()))
            })
            .collect();
        let data = Label {
            common: Common::of(view, &tongues, &words.label.name, plates),
            tape: view.tape.mm(),
            single,
            name: Said::each(&tongues, |w| w.label.name.clone()),
            true_size: Said::each(&tongues, |w| w.label.true_size.clone()),
            ruler: Said::each(&tongues, |w| w.label.ruler.clone()),
            making: Said::each(&tongues, |w| w.label.making.clone()),
            maker: maker(view, &tongues),
            title: view.title.clone(),
            year: Said::each(&tongues, |w| dates::years(&view.made, w)),
            studio: (view.studio != view.weaver).then(|| match &view.place {
                Some(place) => format!("{}, {place}", view.studio),
                None => view.studio.clone(),
            }),
            fibres: fibres::blocks(view, &tongues),
            reckoned: (fibres::any_known(view) && fibres::percentages_known(view))
                .then(|| Said::each(&tongues, |w| w.facts.reckoned.clone())),
            own_first,
            own: own(view),
            care,
            record: words.foot.record.clone(),
        };
        self.set(Draft {
            template: "/care-label.typ",
            ident: ident(
                view,
                if single {
                    "care-label-single"
                } else {
                    "care-label"
                },
            ),
            data: &data,
            plates: &plates.ladder_alone(),
            code: None,
            record: None,
            wanting: wanting(view),
        })
    }
}

/// Her own words on care, with the reason.
pub(super) fn own(view: &PublicView) -> Option<String> {
    let text = capital(view.cleaning.as_ref()?);
    let text = text.trim_end_matches('.');
    Some(match &view.cleaning_because {
        Some(why) => format!("{text}: {}.", why.trim_end_matches('.')),
        None => format!("{text}."),
    })
}

/// The five groups in the order of ISO 3758, each with its safe default for a hanging of mixed fibres and
/// dyes, save those that her own words already speak of in one of the languages; and whether there is one
/// of those, so that her words come first.
pub(super) fn processes(
    view: &PublicView,
    tongues: &[&Words],
    w: &Words,
) -> (Option<String>, bool) {
    let groups: [fn(&Words) -> &Treatment; 5] = [
        |w| &w.care.wash,
        |w| &w.care.bleach,
        |w| &w.care.dry,
        |w| &w.care.iron,
        |w| &w.care.professional,
    ];
    let own = view.cleaning.as_deref().unwrap_or_default().to_lowercase();
    let spoken_of = |get: fn(&Words) -> &Treatment| {
        tongues
            .iter()
            .any(|w| get(w).stems.iter().any(|stem| own.contains(stem.as_str())))
    };
    let left: Vec<&str> = groups
        .into_iter()
        .filter(|g| !spoken_of(*g))
        .map(|g| g(w).say.as_str())
        .collect();
    ((!left.is_empty()).then(|| left.join(" ")), left.len() < 5)
}

/// What the paper leaves out.
pub(super) fn wanting(view: &PublicView) -> Vec<Wanting> {
    let mut out = Vec::new();
    let w = &mut out;
    want(w, fibres::any_known(view), "weft.fibre", "the fibres");
    want(
        w,
        fibres::percentages_known(view),
        "weft.used",
        "the masses or fibres that the percentages need",
    );
    want(
        w,
        view.cleaning.is_some(),
        "care.cleaning",
        "how it may be cleaned",
    );
    out
}
