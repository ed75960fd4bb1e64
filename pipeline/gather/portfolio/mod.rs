//! The portfolio: the life's work as pages that open from a disk and can be put on any web host. Everything is made from
//! the archive and what was finished; what is there already and the same is left alone.

mod facets;
mod machine;
mod pages;
mod put;
mod series;
mod work;

pub use pages::PageError;
pub use put::PutError;

use crate::disk::{self, DiskError, Lock};
use crate::finish::{Letters, press_of};
use crate::paper::{Press, WebPiece, WebPrivate};
use crate::read::Archive;
use crate::record::{Finding, Studio};
use pages::{Printer, Site};
use put::{Copy, Shelf};
use rayon::prelude::*;
use std::path::{Path, PathBuf};
use work::{Picture, Work, works};

/// Whom the portfolio is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edition {
    /// Everybody: the public circle alone.
    Public,
    /// The studio: with owners, prices and hours, and marked private on every page.
    Studio,
}

/// What is asked for.
pub struct Order<'a> {
    /// The output folder of the archive.
    pub out: &'a Path,
    /// Whom it is for.
    pub edition: Edition,
    /// The address it will stand at, with a slash at its end: for the site map and the feed.
    pub address: Option<&'a str>,
    /// Asked now and then; `true` stops the work.
    pub stop: &'a (dyn Fn() -> bool + Sync),
    /// Called once when another run holds the output folder.
    pub waiting: &'a dyn Fn(),
}

/// What came of it.
#[derive(Debug)]
pub struct Made {
    /// The folder.
    pub folder: PathBuf,
    /// Works in it.
    pub works: usize,
    /// Those without a front plate: not finished, or without a photograph.
    pub without_plate: Vec<String>,
    /// Files written, unchanged, taken away.
    pub written: usize,
    /// Files that were there already.
    pub unchanged: usize,
    /// Files of an earlier portfolio that belong to no work any more.
    pub removed: usize,
    /// What is wrong with the studio's own face; with any, nothing is made.
    pub findings: Vec<Finding>,
}

/// Why there is no portfolio.
#[derive(Debug, thiserror::Error)]
pub enum PortfolioError {
    /// The machine.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// A template.
    #[error(transparent)]
    Page(#[from] PageError),
    /// What lies in the folder is not ours.
    #[error(transparent)]
    Put(#[from] PutError),
    /// A stop was asked for.
    #[error("stopped")]
    Stopped,
}

/// Makes the portfolio.
///
/// # Errors
/// Where the machine fails, or something that is not of a portfolio lies in its place.
pub fn portfolio(
    archive: &Archive,
    studio: &Studio,
    order: &Order,
    letters: Option<&Letters>,
) -> Result<Made, PortfolioError> {
    let folder = order.out.join(match order.edition {
        Edition::Public => "portfolio",
        Edition::Studio => "portfolio-studio",
    });
    let (press, findings, _) = press_of(archive, letters)?;
    let works = works(archive, studio, order.out, order.edition);
    let mut made = Made {
        folder,
        works: works.len(),
        without_plate: Vec::new(),
        written: 0,
        unchanged: 0,
        removed: 0,
        findings,
    };
    if !made.findings.is_empty() {
        return Ok(made);
    }
    made.without_plate = works
        .iter()
        .filter(|w| w.front.is_none())
        .map(|w| w.piece.slug.clone())
        .collect();
    let files = files(studio, &press, &works, order)?;
    let copies = copies(&works);
    if (order.stop)() {
        return Err(PortfolioError::Stopped);
    }
    disk::make_folder(order.out)?;
    let _lock = Lock::take(order.out, &mut || (order.waiting)(), &|| (order.stop)())?;
    let shelf = Shelf::open(&made.folder)?;
    let put = shelf.put(files, copies, order.stop)?;
    made.written = put.written;
    made.unchanged = put.unchanged;
    made.removed = put.removed;
    if put.stopped {
        return Err(PortfolioError::Stopped);
    }
    Ok(made)
}

/// Every text file by its path.
fn files(
    studio: &Studio,
    press: &Press,
    works: &[Work],
    order: &Order,
) -> Result<Vec<(String, Vec<u8>)>, PageError> {
    let languages: Vec<(String, String)> = studio
        .languages
        .iter()
        .map(|l| (l.value.clone(), press.page_words(&l.value).language))
        .collect();
    let printer = Printer::new()?;
    let ladders = works.iter().filter_map(|w| {
        let ladder = w.kept.as_ref()?.ladder()?;
        // It stands as tall as the plate beside it.
        let stretched = ladder.replacen("<svg ", "<svg preserveAspectRatio=\"none\" ", 1);
        let path = format!("plates/{}/colour-ladder.svg", w.piece.slug);
        Some((path, stretched.into_bytes()))
    });
    let mut sites = Vec::new();
    let mut files: Vec<(String, Vec<u8>)> = vec![
        text(
            "portfolio.css",
            include_str!("../../../templates/portfolio/portfolio.css"),
        ),
        text(
            "portfolio.js",
            include_str!("../../../templates/portfolio/portfolio.js"),
        ),
    ];
    files.extend(ladders);
    for (i, (lang, _)) in languages.iter().enumerate() {
        let words = press.page_words(lang);
        let mut site = Site::of(studio, works, (lang, i == 0), &languages, words);
        site.address = order.address.filter(|_| order.edition == Edition::Public);
        site.private = order.edition == Edition::Studio;
        site.series = series::blocks(studio, works, &site.words);
        let told: Vec<(WebPiece, Option<WebPrivate>)> = works
            .par_iter()
            .map(|w| {
                let who = photographers(w);
                let secret = w.private.as_ref().map(|p| press.web_private(p, lang));
                (press.web_piece(&w.public, lang, &who), secret)
            })
            .collect();
        let (pieces, secrets): (Vec<WebPiece>, Vec<Option<WebPrivate>>) = told.into_iter().unzip();
        files.extend(printer.pages(&site, &pieces, &secrets)?);
        if i == 0 && !site.private {
            files.push((
                "feed.xml".into(),
                machine::feed(&site, &pieces).into_bytes(),
            ));
        }
        sites.push(site);
    }
    if let Some(address) = order.address.filter(|_| order.edition == Edition::Public) {
        let all: Vec<&Site> = sites.iter().collect();
        files.push((
            "sitemap.xml".into(),
            machine::site_map(address, &all).into_bytes(),
        ));
    }
    Ok(files)
}

fn text(name: &str, text: &str) -> (String, Vec<u8>) {
    (name.to_string(), text.as_bytes().to_vec())
}

/// Everybody whose photographs a page shows.
fn photographers(work: &Work) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for picture in work.front.iter().chain(&work.further) {
        if let Some(credit) = &picture.photo.credit {
            let name = credit.value.trim().to_string();
            if !name.is_empty() && !all.contains(&name) {
                all.push(name);
            }
        }
    }
    all
}

/// Every plate that a page shows.
fn copies(works: &[Work]) -> Vec<Copy> {
    let mut all = Vec::new();
    for work in works {
        let slug = &work.piece.slug;
        let mut add = |name: String, from: &Path, sha256: &str| {
            all.push(Copy {
                path: format!("plates/{slug}/{name}"),
                from: from.to_path_buf(),
                sha256: sha256.to_string(),
            });
        };
        for Picture {
            thumb,
            screen,
            print,
            ..
        } in work.front.iter().chain(&work.further)
        {
            for (plate, kind) in [(thumb, "thumb"), (screen, "screen"), (print, "print")] {
                add(
                    format!("{}-{kind}.jpg", plate.name),
                    &plate.path,
                    &plate.sha256,
                );
            }
        }
    }
    all
}
