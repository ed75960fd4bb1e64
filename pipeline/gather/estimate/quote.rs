//! The quote: a page for the client, from an estimate. A quote that was handed out is never changed.

use super::lean::Leaning;
use super::table::window;
use crate::disk::{self, DiskError, Lock};
use crate::finish::{Letters, press_of};
use crate::paper::{PaperError, QuoteView};
use crate::quantity::{Day, Length, Money, Reading, exact};
use crate::read::Archive;
use crate::reckon::estimate::{DAYS_A_MONTH, Estimate, thirds};
use crate::record::{Finding, Piece, Studio};
use rust_decimal::Decimal;
use std::path::{Path, PathBuf};

/// What the quote says, and where it goes.
pub struct QuoteOrder<'a> {
    /// The name it is kept under.
    pub name: &'a str,
    /// What the piece is called.
    pub title: Option<&'a str>,
    /// Whom it is for.
    pub client: Option<&'a str>,
    /// The price, where it is not the likely one.
    pub price: Option<Money>,
    /// Height and width as they were asked for.
    pub size: (&'a Reading<Length>, &'a Reading<Length>),
    /// The first day at the loom.
    pub start: Option<Day>,
    /// The output folder.
    pub out: &'a Path,
    /// Where to find letters that the papers' own lack.
    pub fonts: Option<&'a Letters>,
    /// Asked now and then; `true` stops the work.
    pub stop: &'a (dyn Fn() -> bool + Sync),
    /// Called once when another run holds the output folder.
    pub waiting: &'a dyn Fn(),
}

/// Why there is no quote.
#[derive(Debug, thiserror::Error)]
pub enum QuoteError {
    /// The machine.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// The page could not be set.
    #[error("the quote could not be set: {0}")]
    Paper(#[from] PaperError),
    /// Another quote of that name says something else.
    #[error(
        "{0}: there is a quote of that name already, and it says something else. It may have been handed out: choose another name"
    )]
    Taken(PathBuf),
}

/// Makes the quote; its file, and what is wrong with the studio's own face.
///
/// # Errors
/// Where the machine fails, or another quote has the name.
pub fn write_quote(
    archive: &Archive,
    studio: &Studio,
    leaning: &Leaning,
    e: &Estimate,
    order: &QuoteOrder,
) -> Result<(PathBuf, Vec<Finding>), QuoteError> {
    let view = view(archive, studio, leaning, e, order);
    let home = order.out.join("quotes");
    let path = home.join(format!("{}.pdf", order.name));
    let (press, findings, _) = press_of(archive, order.fonts)?;
    if !findings.is_empty() {
        return Ok((path, findings));
    }
    let sheet = press.quote(&view)?;
    disk::make_folder(order.out)?;
    let _lock = Lock::take(order.out, &mut || (order.waiting)(), &|| (order.stop)())?;
    disk::make_folder(&home)?;
    match disk::read_limited(&path, LARGEST) {
        Ok(there) if there == sheet.pdf => {}
        Ok(_) => return Err(QuoteError::Taken(path)),
        Err(error) if error.is_missing() => disk::write_new(&path, &sheet.pdf)?,
        Err(error) => return Err(error.into()),
    }
    Ok((path, findings))
}

/// No quote is larger.
const LARGEST: u64 = 16 * 1024 * 1024;

fn view(
    archive: &Archive,
    studio: &Studio,
    leaning: &Leaning,
    e: &Estimate,
    order: &QuoteOrder,
) -> QuoteView {
    let months = |weeks: f64| weeks * 7.0 / DAYS_A_MONTH;
    let weeks = e.weeks.as_ref().and_then(|w| w.range);
    let likely = e.price.as_ref().map(|p| up_to_tens(&p.likely));
    let price = order.price.clone().or(likely);
    let mut view = QuoteView::of(studio, order.name, order.size.0, order.size.1);
    view.title = order.title.map(str::to_string);
    view.client = order.client.map(str::to_string);
    view.colours = e.wanted.colours;
    view.months = weeks.map(|(low, high)| (months(low), months(high)));
    view.window = order.start.and_then(|start| {
        let (from, to) = window(e, Some(start))?;
        Some((start, from, to))
    });
    view.stages = price
        .as_ref()
        .map(|price| stages(archive, price))
        .unwrap_or_default();
    view.price = price;
    view.pieces = leaning.with_hours().count();
    view.level = e.level;
    view
}

/// An amount up to the next ten: a price with pence looks surer than any estimate is.
fn up_to_tens(money: &Money) -> Money {
    let ten = Decimal::from(10);
    Money::rounded((money.amount / ten).ceil() * ten, money.currency)
}

/// The stages of the latest piece that was paid in some, in the same shares; else three.
fn stages(archive: &Archive, price: &Money) -> Vec<(Option<String>, Money)> {
    let in_stages = |p: &&Piece| {
        let told = p.money.as_ref().map(|m| m.stages.as_slice());
        told.is_some_and(|s| s.len() > 1)
    };
    let pieces = archive.pieces.iter().filter_map(|f| f.piece.as_ref());
    let latest = pieces.filter(in_stages).max_by_key(|p| p.made.latest());
    latest
        .and_then(|p| as_then(p, price))
        .unwrap_or_else(|| thirds(price).map(|amount| (None, amount)).to_vec())
}

/// The price in the shares of a piece's stages, each to the minor unit; what is left over is with the last.
fn as_then(piece: &Piece, price: &Money) -> Option<Vec<(Option<String>, Money)>> {
    let stages = &piece.money.as_ref()?.stages;
    let one_currency = stages
        .windows(2)
        .all(|w| w[0].amount.currency == w[1].amount.currency);
    let all: Decimal = stages.iter().map(|s| s.amount.amount).sum();
    if !one_currency || all <= exact(0.0)? {
        return None;
    }
    let digits = price.currency.minor_digits();
    let mut left = price.amount;
    let mut out = Vec::new();
    for (i, stage) in stages.iter().enumerate() {
        let share = price
            .amount
            .checked_mul(stage.amount.amount)?
            .checked_div(all)?;
        let amount = if i + 1 == stages.len() {
            left
        } else {
            share.trunc_with_scale(digits)
        };
        left = left.checked_sub(amount)?;
        let money = Money::rounded(amount, price.currency);
        out.push((Some(stage.what.value.clone()), money));
    }
    Some(out)
}
