//! The topics of the owner's sheet in one language.

use super::{KeeperView, light};
use crate::paper::drawn::{about, long};
use crate::paper::figures::{mass, money};
use crate::paper::label;
use crate::paper::words::{Words, fill};
use crate::reckon::{Climate, Pests};
use crate::record::Face;
use serde::Serialize;

/// One topic.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Topic {
    term: String,
    paragraphs: Vec<String>,
    /// What can hurt somebody, said where it could happen.
    caution: Option<String>,
}

/// All topics, in the order in which an owner needs them.
pub(super) fn all(view: &KeeperView, tongues: &[&Words], w: &Words) -> Vec<Topic> {
    let words = &w.keeping;
    let topic = |term: &String, paragraphs: Vec<String>, caution: Option<String>| Topic {
        term: term.clone(),
        paragraphs,
        caution,
    };
    let range = |(low, high): (f64, f64)| (low.to_string(), high.to_string());
    let (low, high) = range(Climate::KEPT_HUMIDITY);
    let (cool, warm) = range(Climate::KEPT_TEMPERATURE);
    let air = fill(
        &words.air_said,
        &[
            ("low", &low),
            ("high", &high),
            ("cool", &cool),
            ("warm", &warm),
            ("damp", &Climate::DAMP.to_string()),
        ],
    );
    let mut dust = words.dust_said.clone();
    if view.light_hand {
        dust = format!("{dust} {}", words.dust_light);
    }
    let mut papers = vec![words.papers_said.clone()];
    papers.extend(view.owner.price().map(|price| {
        let price = money(price, w);
        fill(&words.insurer, &[("price", &price)])
    }));
    let mut ask = Vec::new();
    ask.extend(
        (view.owner.public.contact.as_ref())
            .map(|contact| fill(&words.ask_studio, &[("contact", contact)])),
    );
    ask.push(words.ask_others.clone());
    vec![
        topic(
            &words.wall,
            wall(view, w),
            Some(format!("{} {}", w.drawn.hanging.overhead, words.fire)),
        ),
        topic(&words.light, light::said(view, w), None),
        topic(&words.air, vec![air], None),
        topic(&words.dust, vec![dust], None),
        topic(&words.cleaning, vec![cleaning(view, tongues, w)], None),
        topic(&words.wet, vec![words.wet_said.clone()], None),
        topic(
            &words.pests,
            vec![pests(view, w)],
            Some(words.sprays.clone()),
        ),
        topic(&words.moving, vec![moving(view, w)], None),
        topic(&words.mending, vec![words.mending_said.clone()], None),
        topic(&words.papers, papers, None),
        topic(&words.ask, vec![ask.join(" ")], None),
    ]
}

fn wall(view: &KeeperView, w: &Words) -> Vec<String> {
    let words = &w.keeping;
    let measures = view.owner.public.measures;
    let weighs = match (&view.owner.public.mass, &view.mass) {
        (Some(read), _) => fill(&words.weighs, &[("mass", &mass(read, measures, w))]),
        (None, Some(kg)) => fill(
            &words.weighs_about,
            &[("mass", &about(kg.value, measures, w))],
        ),
        (None, None) => words.weighs_not.clone(),
    };
    let hangs = match view.support {
        Some(support) => fill(
            &words.hangs_by,
            &[("support", w.drawn.hanging.hung_by(support))],
        ),
        None => words.hangs_by_none.clone(),
    };
    vec![
        [weighs, hangs, words.loads.clone()].join(" "),
        words.where_to.clone(),
    ]
}

/// Her own words on cleaning and the five processes, as they stand on the label.
fn cleaning(view: &KeeperView, tongues: &[&Words], w: &Words) -> String {
    let (processes, own_first) = label::processes(&view.owner.public, tongues, w);
    let own = label::own(&view.owner.public);
    let parts = if own_first {
        [own, processes]
    } else {
        [processes, own]
    };
    parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

fn pests(view: &KeeperView, w: &Words) -> String {
    let words = &w.keeping;
    let mut out = Vec::new();
    if !view.eaten.is_empty() {
        let fibres: Vec<String> = view.eaten.iter().map(|f| w.fibre(f).to_string()).collect();
        out.push(fill(&words.food, &[("fibres", &w.all_of(&fibres))]));
    } else if !view.fibres_unknown {
        out.push(words.food_none.clone());
    }
    let months = Pests::INSPECT_MONTHS.to_string();
    out.push(fill(&words.look, &[("months", &months)]));
    if view.not_to_freeze {
        out.push(words.look_frozen.clone());
    }
    out.extend((view.treated.as_ref()).map(|what| fill(&words.treated, &[("what", what)])));
    out.join(" ")
}

fn moving(view: &KeeperView, w: &Words) -> String {
    let words = &w.keeping;
    let measures = view.owner.public.measures;
    let length = long(view.tube_length, measures, w);
    let tube = view.tube.map(|t| long(t, measures, w));
    let pattern = match (&tube, view.face) {
        (None, _) => &words.roll_unknown,
        (Some(_), Face::Out) => &words.roll_out,
        (Some(_), Face::In) => &words.roll_in,
    };
    let values = [
        ("length", length.as_str()),
        ("tube", tube.as_deref().unwrap_or_default()),
    ];
    format!("{} {}", words.carry, fill(pattern, &values))
}
