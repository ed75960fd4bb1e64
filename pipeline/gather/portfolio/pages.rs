//! The pages of the portfolio: one language's worth of them, as texts.

use super::facets::{Facet, facets};
use super::machine::{self, in_page, path_segment};
use super::series::SeriesBlock;
use super::work::{Picture, Work};
use crate::finish::KeptPlate;
use crate::paper::{PageWords, WebPiece, WebPrivate};
use crate::record::{Studio, View};
use minijinja::{AutoEscape, Environment, context};
use serde::Serialize;

/// Cards that stand in the first page itself; the others are drawn from `works.js`.
const FIRST_CARDS: usize = 24;

/// The portfolio in one language.
pub(super) struct Site<'a> {
    pub works: &'a [Work<'a>],
    pub lang: &'a str,
    /// Every language with its own name, the leading one first.
    pub languages: &'a [(String, String)],
    /// The folder of this language: nothing for the leading one, else `fi/`.
    pub folder: String,
    /// The way from a page of this folder to the top.
    pub root: &'static str,
    pub words: PageWords,
    pub studio: &'a str,
    pub weaver: &'a str,
    pub place: Option<&'a str>,
    pub contact: Option<&'a str>,
    /// The address that it will stand at, with a slash at its end.
    pub address: Option<&'a str>,
    pub private: bool,
    pub series: Vec<SeriesBlock>,
}

impl<'a> Site<'a> {
    /// What a studio's portfolio in a language says of the studio.
    pub fn of(
        studio: &'a Studio,
        works: &'a [Work<'a>],
        (lang, leading): (&'a str, bool),
        languages: &'a [(String, String)],
        words: PageWords,
    ) -> Site<'a> {
        let text = |v: &'a Option<crate::record::At<String>>| v.as_ref().map(|v| v.value.trim());
        Site {
            works,
            lang,
            languages,
            folder: if leading {
                String::new()
            } else {
                format!("{lang}/")
            },
            root: if leading { "" } else { "../" },
            words,
            studio: studio.studio.trim(),
            weaver: studio.weaver.trim(),
            place: text(&studio.place),
            contact: text(&studio.contact),
            address: None,
            private: false,
            series: Vec::new(),
        }
    }

    /// The way from a piece's page to the top.
    pub fn up_from_piece(&self) -> &'static str {
        if self.folder.is_empty() {
            "../"
        } else {
            "../../"
        }
    }
}

/// The templates, compiled.
pub(super) struct Printer {
    env: Environment<'static>,
}

/// A page that could not be made: a fault of the program, or of a template.
#[derive(Debug, thiserror::Error)]
#[error("a page could not be made: {0}")]
pub struct PageError(#[from] minijinja::Error);

impl Printer {
    /// Compiles the templates.
    pub fn new() -> Result<Printer, PageError> {
        let mut env = Environment::new();
        env.set_auto_escape_callback(|_| AutoEscape::Html);
        for (name, text) in [
            (
                "base.html",
                include_str!("../../../templates/portfolio/base.html"),
            ),
            (
                "index.html",
                include_str!("../../../templates/portfolio/index.html"),
            ),
            (
                "list.html",
                include_str!("../../../templates/portfolio/list.html"),
            ),
            (
                "series.html",
                include_str!("../../../templates/portfolio/series.html"),
            ),
            (
                "piece.html",
                include_str!("../../../templates/portfolio/piece.html"),
            ),
        ] {
            env.add_template(name, text)?;
        }
        Ok(Printer { env })
    }

    fn print(&self, template: &str, page: minijinja::Value) -> Result<Vec<u8>, PageError> {
        let mut text = self.env.get_template(template)?.render(page)?;
        text.push('\n');
        Ok(text.into_bytes())
    }

    fn frame(&self, site: &Site, page: &str, deep: bool) -> minijinja::Value {
        let (root, home) = if deep {
            (site.up_from_piece(), "../")
        } else {
            (site.root, "")
        };
        let languages: Vec<minijinja::Value> = site
            .languages
            .iter()
            .enumerate()
            .map(|(i, (code, name))| {
                let folder = if i == 0 {
                    String::new()
                } else {
                    format!("{code}/")
                };
                let href = format!("{root}{folder}{page}");
                context! { code, name, href, here => code == site.lang }
            })
            .collect();
        context! {
            lang => site.lang, languages, root, home, words => site.words, studio => site.studio, weaver => site.weaver,
            place => site.place, contact => site.contact, private => site.private, feed => !site.private,
            has_series => !site.series.is_empty(), here => "",
        }
    }

    /// The pages of a language by their path in the portfolio. `pieces` and `secrets` say what each work's page says.
    pub fn pages(
        &self,
        site: &Site,
        pieces: &[WebPiece],
        secrets: &[Option<WebPrivate>],
    ) -> Result<Vec<(String, Vec<u8>)>, PageError> {
        let facets = facets(site);
        let at = |name: &str| format!("{}{name}", site.folder);
        let mut out = vec![
            (
                at("works.js"),
                machine::script(site, &facets, pieces).into_bytes(),
            ),
            (at("index.html"), self.index(site, &facets, pieces)?),
            (at("list.html"), self.list(site, pieces, secrets)?),
        ];
        if !site.series.is_empty() {
            let page = context! { here => "series", series => site.series, ..self.frame(site, "series.html", false) };
            out.push((at("series.html"), self.print("series.html", page)?));
        }
        for (i, work) in site.works.iter().enumerate() {
            let page = self.piece(site, i, pieces, &secrets[i])?;
            out.push((at(&format!("piece/{}.html", work.piece.slug)), page));
        }
        Ok(out)
    }

    fn index(
        &self,
        site: &Site,
        facets: &[Facet],
        pieces: &[WebPiece],
    ) -> Result<Vec<u8>, PageError> {
        let cards: Vec<minijinja::Value> = site
            .works
            .iter()
            .zip(pieces)
            .take(FIRST_CARDS)
            .map(|(work, piece)| {
                let thumb = Small::of(work);
                context! {
                    slug => path_segment(&work.piece.slug), title => piece.title, made => piece.made,
                    thumb => thumb.as_ref().map(|t| t.path.clone()),
                    width => thumb.as_ref().map(|t| t.size.0), height => thumb.as_ref().map(|t| t.size.1),
                }
            })
            .collect();
        let count = match site.works.len() {
            1 => site.words.count_one.clone(),
            n => site.words.count.replace("{count}", &n.to_string()),
        };
        let facets: Vec<minijinja::Value> = facets
            .iter()
            .map(|f| context! { id => f.id, name => f.name })
            .collect();
        let page = context! {
            here => "works", cards, count, facets, data => in_page(&machine::collection(site)),
            ..self.frame(site, "index.html", false)
        };
        self.print("index.html", page)
    }

    fn list(
        &self,
        site: &Site,
        pieces: &[WebPiece],
        secrets: &[Option<WebPrivate>],
    ) -> Result<Vec<u8>, PageError> {
        let mut terms: Vec<&str> = Vec::new();
        for fact in secrets.iter().flatten().flat_map(|s| &s.facts) {
            if !terms.contains(&fact.term.as_str()) {
                terms.push(&fact.term);
            }
        }
        let rows: Vec<minijinja::Value> = site
            .works
            .iter()
            .zip(pieces)
            .zip(secrets)
            .map(|((work, piece), secret)| {
                let told = |term: &&str| {
                    let fact = secret.iter().flat_map(|s| &s.facts).find(|f| f.term == **term);
                    fact.map_or(String::new(), |f| f.lines.join("; "))
                };
                let private: Vec<String> = terms.iter().map(told).collect();
                context! {
                    slug => path_segment(&work.piece.slug), title => piece.title, made => piece.made,
                    series => piece.series.clone().unwrap_or_default(), size => piece.size,
                    place => place_of(site, work), private,
                }
            })
            .collect();
        let page = context! { here => "list", rows, private_terms => terms, ..self.frame(site, "list.html", false) };
        self.print("list.html", page)
    }

    fn piece(
        &self,
        site: &Site,
        i: usize,
        pieces: &[WebPiece],
        secret: &Option<WebPrivate>,
    ) -> Result<Vec<u8>, PageError> {
        let (work, piece) = (&site.works[i], &pieces[i]);
        let slug = &work.piece.slug;
        let shown = |p: &Picture| {
            let view = view_word(p.photo.view.value);
            let alt = p.photo.alt.as_ref().map_or_else(
                || {
                    format!(
                        "{}: {}",
                        piece.title,
                        site.words.views.get(view).map_or("", String::as_str)
                    )
                },
                |a| a.value.trim().to_string(),
            );
            context! {
                print => plate_name(slug, &p.print, "print"), screen => plate_name(slug, &p.screen, "screen"),
                thumb => plate_name(slug, &p.thumb, "thumb"), width => p.print.size.0, height => p.print.size.1, alt,
                view => site.words.views.get(view),
            }
        };
        let beside = |j: Option<usize>| {
            let j = j.filter(|j| *j < pieces.len())?;
            Some(
                context! { slug => path_segment(&site.works[j].piece.slug), title => pieces[j].title },
            )
        };
        let ladder = work
            .kept
            .as_ref()
            .filter(|k| k.has_ladder())
            .map(|_| ladder_name(slug));
        let page = context! {
            p => piece, front => work.front.as_ref().map(shown), ladder, secret,
            further => work.further.iter().map(shown).collect::<Vec<_>>(),
            // The latest comes first, so the one before it in time comes after it here.
            before => beside(Some(i + 1)), after => beside(i.checked_sub(1)),
            data => in_page(&machine::artwork(site, work, piece)),
            ..self.frame(site, &format!("piece/{}.html", path_segment(slug)), true)
        };
        self.print("piece.html", page)
    }
}

/// A thumb with its pixels.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Small {
    pub path: String,
    pub size: (u32, u32),
}

impl Small {
    pub fn of(work: &Work) -> Option<Small> {
        let front = work.front.as_ref()?;
        Some(Small {
            path: plate_name(&work.piece.slug, &front.thumb, "thumb"),
            size: front.print.size,
        })
    }
}

/// The address of a plate from the top of the portfolio.
pub(super) fn plate_name(slug: &str, plate: &KeptPlate, kind: &str) -> String {
    format!(
        "plates/{}/{}-{kind}.jpg",
        path_segment(slug),
        path_segment(&plate.name)
    )
}

/// The address of a ladder.
fn ladder_name(slug: &str) -> String {
    format!("plates/{}/colour-ladder.svg", path_segment(slug))
}

/// Where a work is now, as the public may hear.
pub(super) fn place_of(site: &Site, work: &Work) -> String {
    let owner = work.piece.owners.last();
    match owner {
        None => site.words.at_studio.clone(),
        Some(owner) => owner
            .public
            .as_ref()
            .map_or(String::new(), |p| p.value.trim().to_string()),
    }
}

/// The word a view is kept under.
fn view_word(view: View) -> &'static str {
    let mut words = View::ALL.iter().filter(|(_, v)| *v == view);
    words.next().map_or("front", |(word, _)| word)
}
