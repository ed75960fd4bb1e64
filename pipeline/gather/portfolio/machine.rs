//! The portfolio for machines: what the filters work on, schema.org in JSON-LD, the feed (Atom, RFC 4287) and the site
//! map with its images (sitemaps.org 0.9 and the image extension 1.1).

use super::facets::Facet;
use super::pages::{Site, plate_name};
use super::work::Work;
use crate::paper::WebPiece;
use serde_json::{Map, Value, json};
use std::fmt::Write;

/// How many pieces a feed tells of.
const IN_FEED: usize = 50;

/// `works.js`: a script, since a page that is opened from a disk may not fetch.
pub(super) fn script(site: &Site, facets: &[Facet], pieces: &[WebPiece]) -> String {
    let works: Vec<Value> = site
        .works
        .iter()
        .zip(pieces)
        .enumerate()
        .map(|(i, (work, piece))| {
            let mut w = Map::new();
            w.insert("slug".into(), json!(work.piece.slug));
            w.insert("title".into(), json!(piece.title));
            w.insert("made".into(), json!(piece.made));
            if let Some(year) = work.year {
                w.insert("year".into(), json!(year));
            }
            if let Some(front) = &work.front {
                w.insert(
                    "thumb".into(),
                    json!(plate_name(&work.piece.slug, &front.thumb, "thumb")),
                );
                w.insert(
                    "size_px".into(),
                    json!([front.print.size.0, front.print.size.1]),
                );
            }
            for facet in facets {
                match facet.of[i].as_slice() {
                    [] => {}
                    [one] => {
                        w.insert(facet.id.into(), json!(one));
                    }
                    several => {
                        w.insert(facet.id.into(), json!(several));
                    }
                }
            }
            Value::Object(w)
        })
        .collect();
    let facets: Vec<Value> = facets
        .iter()
        .map(|f| {
            let mut all = json!({ "id": f.id, "values": f.values });
            if let Some(keys) = &f.keys {
                all["keys"] = json!(keys);
            }
            all
        })
        .collect();
    let words = &site.words;
    let data = json!({
        "root": site.root,
        "words": {
            "none": words.none, "count_one": words.count_one, "count": words.count, "by_year": words.by_year,
            "no_picture": words.no_picture,
        },
        "facets": facets,
        "works": works,
    });
    format!("globalThis.OFFLOOM_WORKS = {data};\n")
}

/// JSON for a script element: nothing in it can end the element.
pub(super) fn in_page(value: &Value) -> String {
    value
        .to_string()
        .replace('<', "\\u003c")
        .replace('>', "\\u003e")
        .replace('&', "\\u0026")
}

/// The whole portfolio in the words of schema.org.
pub(super) fn collection(site: &Site) -> Value {
    let mut all = json!({
        "@context": "https://schema.org",
        "@type": "CollectionPage",
        "name": format!("{}: {}", site.studio, site.words.works),
        "inLanguage": site.lang,
        "about": { "@type": "Person", "name": site.weaver, "jobTitle": "Tapestry weaver" },
        "mainEntity": { "@type": "ItemList", "numberOfItems": site.works.len() },
    });
    if let Some(address) = site.address {
        all["url"] = json!(address);
    }
    all
}

/// One work in the words of schema.org. Only what is public is in it.
pub(super) fn artwork(site: &Site, work: &Work, piece: &WebPiece) -> Value {
    let size = &work.reckoning.size;
    let cm = |mm: f64| json!({ "@type": "QuantitativeValue", "value": (mm * 10.0).round() / 100.0, "unitCode": "CMT" });
    let mut all = json!({
        "@context": "https://schema.org",
        "@type": "VisualArtwork",
        "name": piece.title,
        "artform": "Tapestry",
        "creator": { "@type": "Person", "name": site.weaver },
        "identifier": work.number.ni(),
        "height": cm(size.height.value.mm()),
        "width": cm(size.width.value.mm()),
        "inLanguage": site.lang,
    });
    if let Some(medium) = &piece.medium {
        all["artMedium"] = json!(medium);
    }
    if let Some(date) = plain_date(&work.piece.made_text) {
        all["dateCreated"] = json!(date);
    }
    if let Some(first) = piece.statement.first() {
        all["description"] = json!(first);
    }
    if let Some(series) = &work.piece.series {
        all["isPartOf"] = json!({ "@type": "CreativeWorkSeries", "name": series.name.value });
        if let Some([one]) = series.number.as_ref().map(|n| n.value.as_slice()) {
            all["position"] = json!(one);
        }
    }
    if let Some(front) = &work.front {
        let path = plate_name(&work.piece.slug, &front.print, "print");
        all["image"] = json!(match site.address {
            Some(address) => format!("{address}{path}"),
            None => format!("{}{path}", site.up_from_piece()),
        });
    }
    if let Some(address) = site.address {
        all["url"] = json!(format!("{address}{}", page_of(site, work)));
    }
    all
}

/// A date as ISO 8601 has it: a year, a month, a day, or from one to another.
fn plain_date(text: &str) -> Option<&str> {
    let text = text.trim();
    let plain =
        |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    text.split('/').all(plain).then_some(text)
}

fn page_of(site: &Site, work: &Work) -> String {
    format!(
        "{}piece/{}.html",
        site.folder,
        path_segment(&work.piece.slug)
    )
}

/// A name as a segment of an address (RFC 3986, section 3.3): what is not unreserved is put in percent.
pub(super) fn path_segment(name: &str) -> String {
    let mut out = String::new();
    for b in name.bytes() {
        if b.is_ascii_alphanumeric() || b"-._~".contains(&b) {
            out.push(char::from(b));
        } else {
            // Writing to a string does not fail.
            let _ = write!(out, "%{b:02X}");
        }
    }
    out
}

/// Text in XML. Characters that XML 1.0 does not have are left out.
fn xml(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(c),
            c if c < ' ' || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}

/// The feed: the works that were issued, the latest first. The day is that of the papers; no clock is asked.
pub(super) fn feed(site: &Site, pieces: &[WebPiece]) -> String {
    let mut issued: Vec<(&Work, &WebPiece)> = site.works.iter().zip(pieces).collect();
    issued.retain(|(w, _)| w.piece.issued.is_some());
    issued.sort_by_key(|(w, _)| std::cmp::Reverse(w.piece.issued.as_ref().map(|d| d.value)));
    issued.truncate(IN_FEED);
    let at = |w: &Work| {
        let day = w.piece.issued.as_ref().map(|d| d.value.to_string());
        format!("{}T00:00:00Z", day.unwrap_or_default())
    };
    let base = site.address.unwrap_or_default();
    let updated = issued
        .first()
        .map_or("1970-01-01T00:00:00Z".to_string(), |(w, _)| at(w));
    let id = match site.address {
        Some(address) => address.to_string(),
        // A name that is this studio's own and stays: RFC 4122, version 5 would ask for a library; the digest of its
        // name serves as well (RFC 6920).
        None => {
            crate::record::RecordNumber::of(format!("portfolio of {}", site.studio).as_bytes()).ni()
        }
    };
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"utf-8\"?>\n");
    let _ = writeln!(
        out,
        "<feed xmlns=\"http://www.w3.org/2005/Atom\" xml:lang=\"{}\">\n<title>{}</title>\n<id>{}</id>\n<updated>{updated}</updated>\n<author><name>{}</name></author>\n<link rel=\"alternate\" type=\"text/html\" href=\"{}index.html\"/>",
        site.lang,
        xml(site.studio),
        xml(&id),
        xml(site.weaver),
        xml(base)
    );
    if site.address.is_some() {
        let _ = writeln!(
            out,
            "<link rel=\"self\" type=\"application/atom+xml\" href=\"{}feed.xml\"/>",
            xml(base)
        );
    }
    for (work, piece) in issued {
        let summary = [
            Some(piece.made.clone()),
            piece.medium.clone(),
            Some(piece.size.clone()),
        ];
        let summary: Vec<String> = summary.into_iter().flatten().collect();
        let _ = writeln!(
            out,
            "<entry>\n<title>{}</title>\n<id>{}</id>\n<updated>{}</updated>\n<link rel=\"alternate\" type=\"text/html\" href=\"{}{}\"/>\n<summary>{}</summary>\n</entry>",
            xml(&piece.title),
            xml(&work.number.ni()),
            at(work),
            xml(base),
            page_of(site, work),
            xml(&summary.join(". "))
        );
    }
    out.push_str("</feed>\n");
    out
}

/// The map of the pages with the front of each work. It needs the address: a site map has no relative ones.
pub(super) fn site_map(address: &str, sites: &[&Site]) -> String {
    let mut out = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<urlset xmlns=\"http://www.sitemaps.org/schemas/sitemap/0.9\" xmlns:image=\"http://www.google.com/schemas/sitemap-image/1.1\">\n",
    );
    let mut entry = |page: &str, image: Option<String>| {
        let _ = write!(out, "<url><loc>{}</loc>", xml(&format!("{address}{page}")));
        if let Some(image) = image {
            let _ = write!(
                out,
                "<image:image><image:loc>{}</image:loc></image:image>",
                xml(&format!("{address}{image}"))
            );
        }
        out.push_str("</url>\n");
    };
    for site in sites {
        for page in ["index.html", "list.html"] {
            entry(&format!("{}{page}", site.folder), None);
        }
        if site.works.iter().any(|w| w.piece.series.is_some()) {
            entry(&format!("{}series.html", site.folder), None);
        }
        for work in site.works {
            let front = work.front.as_ref();
            entry(
                &page_of(site, work),
                front.map(|f| plate_name(&work.piece.slug, &f.print, "print")),
            );
        }
    }
    out.push_str("</urlset>\n");
    out
}
