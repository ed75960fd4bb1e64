//! Wall labels. What a visitor reads from half a metre is set large enough, in short lines, black on white.
//!
//! Sizes after the Smithsonian Guidelines for Accessible Exhibition Design, labels read from nearby: 24 points (from
//! memory; a Canadian museum's guidelines, seen, have 24 points for object labels too); lines of 45 to 55 characters,
//! at most 75 to 100 words a label (the same guidelines, seen).

use super::views::{ShowPiece, ShowView};
use super::{Paragraphs, Pile, named, paragraphs, term};
use crate::paper::common::{Common, made, maker, series, size};
use crate::paper::said::Said;
use crate::paper::words::Words;
use crate::paper::{PaperError, Press, Sheet, catalogue, qr};
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct WallLabels {
    common: Common,
    name: Said,
    title: String,
    labels: Vec<WallLabel>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct WallLabel {
    number: usize,
    /// The head of the group, where this is the first of one.
    group: Option<String>,
    maker: Said,
    title: String,
    made: Said,
    series: Option<Said>,
    medium: Option<Said>,
    size: Said,
    credit: Option<String>,
    more: Vec<Paragraphs>,
    makers: Option<Said>,
    /// The record number's code as SVG.
    code_svg: Option<String>,
    record: Option<String>,
}

impl Press {
    /// The wall labels. They are public.
    pub fn wall_labels(&self, show: &ShowView) -> Result<Sheet, PaperError> {
        let t = self.tongues(show);
        let mut group: Option<&String> = None;
        let labels = show
            .pieces
            .iter()
            .map(|piece| {
                let first = piece.group.as_ref().filter(|g| group != Some(*g));
                group = piece.group.as_ref();
                label(show, piece, first.cloned(), &t)
            })
            .collect();
        let data = WallLabels {
            common: Common::of_show(show, &t, &named(&t, |w| &w.names.labels)),
            name: term(&t, |w| &w.names.labels),
            title: show.title.clone(),
            labels,
        };
        self.set_of_show(show, "labels", "/wall-labels.typ", &data, Pile::default())
    }
}

fn label(show: &ShowView, piece: &ShowPiece, group: Option<String>, t: &[&Words]) -> WallLabel {
    let view = &piece.public;
    let coded = show.codes && piece.finished;
    let (number, check) = view.number.spoken();
    WallLabel {
        number: piece.number,
        group,
        maker: maker(view, t),
        title: view.title.clone(),
        made: made(view, t),
        series: view
            .series
            .as_ref()
            .map(|_| Said::each(t, |w| series(view, w).unwrap_or_default())),
        medium: catalogue::medium(view, t),
        size: size(view, t),
        credit: view.kept_by.clone(),
        more: paragraphs(&piece.label, &show.languages),
        makers: view.makers.as_ref().and_then(|m| catalogue::makers(m, t)),
        code_svg: coded.then(|| qr::svg(&view.code)).flatten(),
        record: coded.then(|| format!("{number} {check}")),
    }
}
