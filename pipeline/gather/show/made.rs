//! Making everything of a show: arranged, judged, set, written.

use super::arrange::Arranged;
use super::pictures::{Fine, held, plates};
use super::{as_written, conflicts, table, told};
use crate::check::while_setting::KIND as LETTERS;
use crate::check::{has_error, ranked};
use crate::disk::{self, DiskError, Lock};
use crate::finish::{Letters, press_of};
use crate::paper::{PaperError, Press, Sheet};
use crate::read::{Archive, Exhibitions, Sources, nearest};
use crate::record::Finding;
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::Path;

/// What is to be made, and where to.
pub struct Order<'a> {
    /// The exhibition's file name without its ending.
    pub exhibition: &'a str,
    /// The output folder of the archive.
    pub out: &'a Path,
    /// Where to find letters that the papers' own lack.
    pub fonts: Option<&'a Letters>,
    /// Asked now and then; `true` stops the work.
    pub stop: &'a (dyn Fn() -> bool + Sync),
    /// Called once when another run holds the output folder.
    pub waiting: &'a dyn Fn(),
}

/// What came of it.
pub struct Made {
    /// Files made, by their names in the show's folder.
    pub files: Vec<String>,
    /// Every finding, the gravest first.
    pub findings: Vec<Finding>,
    /// The texts, to show findings in.
    pub texts: Sources,
    /// What is to be said of the plan.
    pub said: Vec<String>,
    /// Everything that was reckoned; nothing where the exhibition needs mending.
    pub json: Option<Value>,
}

/// Why nothing was made.
#[derive(Debug, thiserror::Error)]
pub enum ShowError {
    /// There is no such exhibition.
    #[error("{0}")]
    Unknown(String),
    /// The machine.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// A paper could not be set.
    #[error("a paper could not be set: {0}")]
    Paper(#[from] PaperError),
    /// The list could not be written.
    #[error("the list could not be written: {0}")]
    List(#[from] csv::Error),
    /// A stop was asked for.
    #[error("stopped")]
    Stopped,
}

/// Makes everything of an exhibition. With a finding of rank error in its file nothing is made.
///
/// # Errors
/// Where there is no such exhibition, or the machine fails.
pub fn exhibit(
    archive: &Archive,
    exhibitions: &Exhibitions,
    order: &Order,
) -> Result<Made, ShowError> {
    let name = order.exhibition;
    let file = format!("exhibitions/{name}.yaml");
    if !exhibitions.names.iter().any(|known| known == name) {
        let known = || exhibitions.names.iter().map(String::as_str);
        return Err(ShowError::Unknown(match nearest(name, known()) {
            Some(near) => format!("there is no exhibition `{name}`; did you mean `{near}`?"),
            None => format!("there is no file `{file}` in the archive"),
        }));
    }
    let mut texts = archive.sources.clone();
    texts.extend(exhibitions.sources.clone());
    let of_interest = |f: &&Finding| *f.place.file == *file || *f.place.file == *"studio.yaml";
    let mut findings: Vec<Finding> = exhibitions
        .findings
        .iter()
        .chain(&archive.findings)
        .filter(of_interest)
        .cloned()
        .collect();
    let exhibition = exhibitions.all.iter().find(|e| e.slug == name);
    if let Some(exhibition) = exhibition {
        findings.extend(as_written::as_written(archive, exhibitions, exhibition));
    }
    let unmade = |findings: Vec<Finding>, texts: Sources| Made {
        files: Vec::new(),
        findings: ranked(findings),
        texts,
        said: Vec::new(),
        json: None,
    };
    let (Some(exhibition), Some(studio)) = (exhibition, archive.studio.as_ref()) else {
        return Ok(unmade(findings, texts));
    };
    if has_error(&findings) {
        return Ok(unmade(findings, texts));
    }
    let show = Arranged::of(archive, exhibitions, studio, exhibition, order.out);
    findings.extend(conflicts::arranged(&show));
    let (press, of_face, face_texts) = press_of(archive, order.fonts)?;
    findings.extend(of_face);
    texts.extend(face_texts);
    if has_error(&findings) {
        return Ok(unmade(findings, texts));
    }
    let Written {
        files,
        json,
        lacking,
    } = write(&show, &press, order)?;
    if !lacking.is_empty() {
        let all: Vec<String> = lacking.iter().map(char::to_string).collect();
        findings.push(LETTERS.at(
            &exhibition.place,
            format!(
                "the papers' letters lack {}; a plain mark stands in their place",
                all.join(" ")
            ),
            "give letters that have them with `--fonts`",
        ));
    }
    Ok(Made {
        files,
        findings: ranked(findings),
        texts,
        said: super::sentences(&show),
        json: Some(json),
    })
}

type Files = Vec<(&'static str, Vec<u8>)>;

/// What was written.
struct Written {
    files: Vec<String>,
    json: Value,
    /// Characters that the papers' letters lack.
    lacking: BTreeSet<char>,
}

fn write(show: &Arranged, press: &Press, order: &Order) -> Result<Written, ShowError> {
    let view = told::public(show);
    let plan = told::plan(show);
    let registered = told::registered(show);
    let openings = told::openings(&show.exhibition.openings, &registered);
    let going = || {
        if (order.stop)() {
            Err(ShowError::Stopped)
        } else {
            Ok(())
        }
    };
    let mut files: Files = Vec::new();
    let mut lacking = BTreeSet::new();
    let mut paper = |name, sheet: Result<Sheet, PaperError>| -> Result<(), ShowError> {
        let sheet = sheet?;
        lacking.extend(sheet.missing_glyphs);
        files.push((name, sheet.pdf));
        going()
    };
    going()?;
    paper("wall-labels.pdf", press.wall_labels(&view))?;
    paper("object-list.pdf", press.list_of_works(&view))?;
    paper("light-budget.pdf", press.light_budget(&view, &registered))?;
    paper("loan-papers.pdf", press.loan_papers(&view, &registered))?;
    paper(
        "packing-list.pdf",
        press.packing_list(&view, &registered, &openings),
    )?;
    if show.exhibition.lists_prices() {
        paper(
            "price-list.pdf",
            press.price_list(&view, &told::prices(show)),
        )?;
    }
    {
        let small = held(show, Fine::Thumb);
        paper(
            "hang-plan.pdf",
            press.hang_plan(&view, &plan, &plates(&small)),
        )?;
    }
    {
        let fine = held(show, Fine::Print);
        paper("catalogue.pdf", press.show_catalogue(&view, &plates(&fine)))?;
    }
    files.push(("hang-plan.svg", plan.to_svg(&view).into_bytes()));
    files.push(("object-list.csv", table::csv(show)?));
    let json = table::json(show, &view, &plan, &registered);
    let mut text = serde_json::to_vec_pretty(&json).unwrap_or_default();
    text.push(b'\n');
    files.push(("exhibition.json", text));
    files.sort_by_key(|(name, _)| *name);
    put(show, order, &files)?;
    Ok(Written {
        files: files.iter().map(|(name, _)| (*name).to_owned()).collect(),
        json,
        lacking,
    })
}

/// The papers that a run may leave out and an earlier one may have made.
const OPTIONAL: [&str; 1] = ["price-list.pdf"];

fn put(show: &Arranged, order: &Order, files: &Files) -> Result<(), ShowError> {
    disk::make_folder(order.out)?;
    let lock = Lock::take(order.out, &mut || (order.waiting)(), &|| (order.stop)())?;
    let home = order.out.join("exhibitions").join(&show.exhibition.slug);
    disk::make_folder(&home)?;
    disk::sweep_leftovers(&home, &lock)?;
    for (name, octets) in files {
        disk::write_whole(&home.join(name), octets)?;
    }
    for name in OPTIONAL {
        let path = home.join(name);
        if files.iter().all(|(made, _)| *made != name) && disk::open_file(&path).is_ok() {
            disk::remove(&path)?;
        }
    }
    Ok(())
}
