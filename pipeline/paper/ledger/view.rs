//! What the studio alone may know: everything of the owner's view, and hours, costs, dyes, every owner
//! with address, and how the figures stand to each other.

use crate::paper::OwnerView;
use crate::paper::letters::line;
use crate::quantity::{Edtf, Money};
use crate::reckon::{Finances, Masses, Reckoning, Size, TimeAtWork, Web};
use crate::record::{At, Piece, RecordNumber, Share, Studio};

/// What the studio alone may know of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct StudioView {
    /// The owner's part.
    pub owner: OwnerView,
    /// Days and hours.
    pub(super) time: Option<TimeAtWork>,
    /// Costs and prices.
    pub(super) money: Finances,
    /// When each stage of the price is due or was paid, in their order.
    pub(super) stage_dates: Vec<(String, Option<Edtf>)>,
    /// The warp, then the weft.
    pub(super) yarns: Vec<YarnRow>,
    /// What it weighs and should weigh.
    pub(super) masses: Masses,
    /// The web on the loom against the piece off it.
    pub(super) web: Web,
    /// How large and how true it is.
    pub(super) size: Size,
    /// What was done after cutting off: term by field, and her words.
    pub(super) finishing: Vec<(Done, String)>,
    /// Owners as they are known to the studio.
    pub(super) keepers: Vec<Known>,
    /// Light where it hangs, as written, and hours a day.
    pub(super) shown: Option<(String, Option<f64>)>,
    /// What the papers leave out since the record does not say it.
    pub(super) wanting: Vec<&'static str>,
}

/// What was done after cutting off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Done {
    WarpEnds,
    Hems,
    Slits,
    Blocking,
    Mothproofing,
}

/// An owner as the studio knows them.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::paper) struct Known {
    pub from: Edtf,
    /// Name, else how the public may hear of them.
    pub who: String,
    pub address: Option<String>,
    pub how: Option<String>,
}

/// A yarn with all that the studio notes of it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct YarnRow {
    /// Her name for it; nothing where it has none.
    pub name: Option<String>,
    /// Whether it is the warp.
    pub warp: bool,
    pub count: Option<String>,
    /// Fibre by the record's name and percent.
    pub fibres: Vec<(String, f64)>,
    pub dye: Option<String>,
    pub light: Option<(u8, u8)>,
    pub wash: Option<(u8, u8)>,
    /// In the piece, g.
    pub grams: Option<f64>,
    pub cost: Option<Money>,
}

impl StudioView {
    /// Owners as the studio knows them.
    pub(in crate::paper) fn keepers(&self) -> &[Known] {
        &self.keepers
    }

    /// Prices and sums.
    pub(in crate::paper) fn finances(&self) -> &Finances {
        &self.money
    }

    /// All hours that are known.
    pub(in crate::paper) fn hours(&self) -> Option<f64> {
        let hours = self.time.as_ref().map(|t| t.total().value);
        hours.filter(|h| *h > 0.0)
    }

    /// The studio's part of a piece; `wanting` is what the other papers left out.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        reckoning: &Reckoning,
        number: &RecordNumber,
        wanting: Vec<&'static str>,
    ) -> StudioView {
        let f = &piece.finishing;
        let finishing = [
            (Done::WarpEnds, &f.warp_ends),
            (Done::Hems, &f.hems),
            (Done::Slits, &f.slits),
            (Done::Blocking, &f.blocking),
            (Done::Mothproofing, &f.mothproofing),
        ];
        let text = |value: &Option<At<String>>| value.as_ref().map(|v| line(v));
        let display = piece.display.as_ref();
        StudioView {
            owner: OwnerView::of(studio, piece, reckoning, number),
            time: reckoning.time.clone(),
            money: reckoning.money.clone(),
            stage_dates: piece
                .money
                .iter()
                .flat_map(|m| &m.stages)
                .map(|s| {
                    (
                        s.what.value.clone(),
                        s.on.as_ref().map(|on| on.value.clone()),
                    )
                })
                .collect(),
            yarns: yarns(piece, reckoning),
            masses: reckoning.masses.clone(),
            web: reckoning.web.clone(),
            size: reckoning.size.clone(),
            finishing: finishing
                .into_iter()
                .filter_map(|(what, said)| Some((what, text(said)?)))
                .collect(),
            keepers: piece
                .owners
                .iter()
                .filter_map(|o| {
                    Some(Known {
                        from: o.from.value.clone(),
                        who: text(&o.name).or_else(|| text(&o.public))?,
                        address: text(&o.address),
                        how: text(&o.how),
                    })
                })
                .collect(),
            shown: display.and_then(|d| {
                let light = d.light.as_ref()?.value.text.clone();
                Some((light, d.hours_a_day.as_ref().map(|h| h.value)))
            }),
            wanting,
        }
    }
}

fn yarns(piece: &Piece, reckoning: &Reckoning) -> Vec<YarnRow> {
    let cost = |field: String| {
        let lines = reckoning.money.materials.iter().flat_map(|m| &m.lines);
        lines.into_iter().find(|l| l.field == field)?.sum.clone()
    };
    let fibres = |shares: &[Share]| -> Vec<(String, f64)> {
        shares
            .iter()
            .map(|s| (line(&s.fibre), s.percent.value))
            .collect()
    };
    let text = |value: &Option<At<String>>| value.as_ref().map(|v| line(v));
    let masses = &reckoning.masses;
    let warp = YarnRow {
        name: text(&piece.warp.yarn),
        warp: true,
        count: piece.warp.count.as_ref().map(|c| line(&c.text)),
        fibres: fibres(&piece.warp.fibre),
        dye: None,
        light: None,
        wash: None,
        grams: masses.warp.as_ref().map(|m| m.value.g()),
        cost: cost("warp.cost".into()),
    };
    let weft = piece.weft.iter().enumerate().map(|(i, w)| YarnRow {
        name: text(&w.name),
        warp: false,
        count: w.count.as_ref().map(|c| line(&c.text)),
        fibres: fibres(&w.fibre),
        dye: text(&w.dye),
        light: w.light.as_ref().map(|l| l.value),
        wash: w.wash.as_ref().map(|l| l.value),
        grams: (masses.weft.get(i))
            .and_then(|m| m.mass.as_ref())
            .map(|m| m.value.g()),
        cost: cost(format!("weft[{i}].cost")),
    });
    std::iter::once(warp).chain(weft).collect()
}
