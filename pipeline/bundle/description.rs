//! The bundle described for machines: `ro-crate-metadata.json` (RO-Crate 1.2: JSON-LD, flattened). It says
//! what the tapestry is, what every file is, and which was made from which. Its root is the payload folder.
//!
//! It is told nothing but what it may say; what is public, and what an edition holds, is decided elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value, json};

/// Its name below `data/`.
pub const DESCRIPTION_FILE: &str = "ro-crate-metadata.json";
const CONTEXT: &str = "https://w3id.org/ro/crate/1.2/context";
const VERSION: &str = "https://w3id.org/ro/crate/1.2";

/// What is told of a bundle.
#[derive(Debug, Clone, PartialEq)]
pub struct Description {
    /// The tapestry.
    pub artwork: Artwork,
    /// Who made it.
    pub maker: String,
    /// The studio.
    pub studio: String,
    /// The day on the papers, or the last day the record tells of, as `2026-07-02` or `2026`.
    pub published: String,
    /// Which revision.
    pub revision: u32,
    /// Whose the rights are, in words.
    pub rights: String,
    /// The program and its version.
    pub program: (String, String),
    /// Every file below `data/`, but for this description.
    pub files: Vec<DescribedFile>,
}

/// The tapestry, as far as everybody may know it.
#[derive(Debug, Clone, PartialEq)]
pub struct Artwork {
    /// Title.
    pub title: String,
    /// When it was made, in EDTF (ISO 8601-2).
    pub made: String,
    /// The same where it is one plain day, month or year.
    pub made_plain: Option<String>,
    /// Where it was made.
    pub place: Option<String>,
    /// Technique.
    pub technique: Option<String>,
    /// Fibres by name.
    pub materials: Vec<String>,
    /// Name, value, and code (UN/CEFACT Recommendation 20): height in CMT, mass in KGM.
    pub measures: Vec<Quantity>,
    /// The maker's words.
    pub statement: Option<String>,
    /// The record number as a URI, and to read aloud.
    pub record: (String, String),
}

/// A measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// The property of schema.org: `height`, `width`, `depth`, `weight`.
    pub property: &'static str,
    /// The value.
    pub value: f64,
    /// Its unit, by UN/CEFACT Recommendation 20.
    pub unit: &'static str,
    /// The unit as it is written.
    pub written: &'static str,
}

/// A file.
#[derive(Debug, Clone, PartialEq)]
pub struct DescribedFile {
    /// Its path below `data/`, as it is in the bag.
    pub path: String,
    /// Octets.
    pub size: u64,
    /// What it is, in a few words.
    pub name: String,
    /// What it shows, for a photograph.
    pub caption: Option<String>,
    /// Who took it.
    pub credit: Option<String>,
    /// Who holds the rights in it.
    pub rights: Option<String>,
    /// Whether it shows the tapestry.
    pub is_picture: bool,
    /// Paths of the files it was made from.
    pub from: Vec<String>,
}

impl Description {
    /// The file's octets. Equal descriptions give equal octets.
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut graph = vec![
            json!({
                "@id": DESCRIPTION_FILE, "@type": "CreativeWork",
                "about": {"@id": "./"}, "conformsTo": {"@id": VERSION},
            }),
            self.root(),
            json!({
                "@id": "#rights", "@type": "CreativeWork",
                "name": "Rights", "description": self.rights,
            }),
            json!({ "@id": "#maker", "@type": "Person", "name": self.maker }),
            json!({ "@id": "#studio", "@type": "Organization", "name": self.studio }),
            // A SoftwareApplication would need a web address here, and there is none to name.
            json!({
                "@id": "#program", "@type": "CreativeWork",
                "name": self.program.0, "version": self.program.1,
            }),
            json!({
                "@id": "#record-number", "@type": "PropertyValue", "name": "Record number",
                "propertyID": "RFC 6920", "value": self.artwork.record.0,
                "description": self.artwork.record.1,
            }),
            self.tapestry(),
        ];
        graph.extend(self.artwork.measures.iter().map(|q| {
            json!({
                "@id": format!("#{}", q.property), "@type": "QuantitativeValue",
                "name": format!("{} {} {}", q.property, q.value, q.written),
                "value": q.value, "unitCode": q.unit, "unitText": q.written,
            })
        }));
        if let Some(place) = &self.artwork.place {
            graph.push(json!({ "@id": "#place", "@type": "Place", "name": place }));
        }
        graph.extend(self.files.iter().map(file));
        graph.extend(self.makings());
        let whole = json!({ "@context": CONTEXT, "@graph": graph });
        format!("{whole:#}\n").into_bytes()
    }

    fn root(&self) -> Value {
        let art = &self.artwork;
        json!({
            "@id": "./", "@type": "Dataset",
            "name": format!("{}, tapestry by {}: archive, revision {}", art.title, self.maker, self.revision),
            "description": format!(
                "Papers, photographs and record of the hand-woven tapestry {}, made {}.", art.title, art.made
            ),
            "datePublished": self.published,
            "license": {"@id": "#rights"},
            "identifier": {"@id": "#record-number"},
            "creator": {"@id": "#studio"},
            "about": {"@id": "#tapestry"},
            "hasPart": references(self.files.iter().map(|f| id(&f.path))),
            "mentions": references(self.makings().iter().filter_map(|m| m["@id"].as_str().map(str::to_string))),
        })
    }

    fn tapestry(&self) -> Value {
        let art = &self.artwork;
        let mut out = Map::new();
        let mut put = |name: &str, value: Value| {
            if !value.is_null() {
                out.insert(name.to_string(), value);
            }
        };
        put("@id", json!("#tapestry"));
        put("@type", json!("VisualArtwork"));
        put("name", json!(art.title));
        put("artform", json!("tapestry"));
        put("artMedium", json!(art.technique));
        if !art.materials.is_empty() {
            put("material", json!(art.materials));
        }
        put("creator", json!({"@id": "#maker"}));
        put("identifier", json!({"@id": "#record-number"}));
        put("dateCreated", json!(art.made_plain));
        // schema.org wants plain ISO 8601 for a date; spans and doubts are told as EDTF here.
        put("temporalCoverage", json!(art.made));
        put("description", json!(art.statement));
        if art.place.is_some() {
            put("locationCreated", json!({"@id": "#place"}));
        }
        for q in &art.measures {
            put(q.property, json!({"@id": format!("#{}", q.property)}));
        }
        let pictures = self
            .files
            .iter()
            .filter(|f| f.is_picture)
            .map(|f| id(&f.path));
        let pictures: Vec<String> = pictures.collect();
        if !pictures.is_empty() {
            put("image", references(pictures.into_iter()));
        }
        let others = self
            .files
            .iter()
            .filter(|f| !f.is_picture)
            .map(|f| id(&f.path));
        put("subjectOf", references(others));
        Value::Object(out)
    }

    /// One making for all files that were made from the same ones, as far as those are here.
    fn makings(&self) -> Vec<Value> {
        let here: BTreeSet<&String> = self.files.iter().map(|f| &f.path).collect();
        let mut by_source: BTreeMap<Vec<&String>, Vec<&String>> = BTreeMap::new();
        for f in &self.files {
            let from: Vec<&String> = f.from.iter().filter(|p| here.contains(p)).collect();
            if !from.is_empty() {
                by_source.entry(from).or_default().push(&f.path);
            }
        }
        let each = by_source.into_iter().enumerate();
        each.map(|(i, (from, made))| {
            json!({
                "@id": format!("#making-{}", i + 1), "@type": "CreateAction",
                "name": format!("Making of {}", made.iter().map(|p| p.as_str()).collect::<Vec<_>>().join(", ")),
                "instrument": {"@id": "#program"},
                "agent": {"@id": "#studio"},
                "object": references(from.into_iter().map(|p| id(p))),
                "result": references(made.into_iter().map(|p| id(p))),
            })
        })
        .collect()
    }
}

fn file(f: &DescribedFile) -> Value {
    let mut out = Map::new();
    let mut put = |name: &str, value: Value| {
        if !value.is_null() {
            out.insert(name.to_string(), value);
        }
    };
    let kind = if f.is_picture {
        json!(["File", "ImageObject"])
    } else {
        json!("File")
    };
    put("@id", json!(id(&f.path)));
    put("@type", kind);
    put("name", json!(f.name));
    put("encodingFormat", json!(media(&f.path)));
    put("contentSize", json!(f.size.to_string()));
    put("caption", json!(f.caption));
    put("creditText", json!(f.credit));
    put("copyrightNotice", json!(f.rights));
    if f.is_picture {
        put("about", json!({"@id": "#tapestry"}));
    }
    Value::Object(out)
}

/// One reference bare, several as a list.
fn references(ids: impl Iterator<Item = String>) -> Value {
    let mut all: Vec<Value> = ids.map(|id| json!({ "@id": id })).collect();
    if all.len() == 1 {
        all.remove(0)
    } else {
        Value::Array(all)
    }
}

/// The path as a relative URI (RFC 3986): what is not a letter, a figure or one of `-._~/` is encoded.
fn id(path: &str) -> String {
    let mut out = String::with_capacity(path.len());
    for octet in path.bytes() {
        if octet.is_ascii_alphanumeric() || b"-._~/".contains(&octet) {
            out.push(char::from(octet));
        } else {
            out.push_str(&format!("%{octet:02X}"));
        }
    }
    out
}

/// The media type by the ending of a name (IANA).
fn media(path: &str) -> &'static str {
    let ending = path.rsplit_once('.').map(|(_, e)| e.to_ascii_lowercase());
    match ending.as_deref() {
        Some("pdf") => "application/pdf",
        Some("jpg" | "jpeg") => "image/jpeg",
        Some("png") => "image/png",
        Some("tif" | "tiff") => "image/tiff",
        Some("webp") => "image/webp",
        Some("heic") => "image/heic",
        Some("svg") => "image/svg+xml",
        Some("json") => "application/json",
        Some("yaml" | "yml") => "application/yaml",
        Some("md") => "text/markdown",
        Some("txt") => "text/plain",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_with_blanks_and_accents_is_a_uri() {
        // Source, published: RFC 3986, section 2.1 and 2.3: percent-encoding of octets, unreserved signs.
        assert_eq!(
            id("piece/photos/Höhe 1.jpg"),
            "piece/photos/H%C3%B6he%201.jpg"
        );
        assert_eq!(id("a-b_c.d~e/100%"), "a-b_c.d~e/100%25");
    }
}
