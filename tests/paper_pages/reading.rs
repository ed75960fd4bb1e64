//! Reads finished papers back with `lopdf`, a general-purpose PDF library that has no part in making
//! them.

use lopdf::{Dictionary, Document, Object};

/// A paper read back.
pub struct Read(Document);

impl Read {
    pub fn of(pdf: &[u8]) -> Read {
        Read(Document::load_mem(pdf).unwrap())
    }

    /// The text of all pages with every blank taken out, since layout breaks lines where it likes.
    pub fn text(&self) -> String {
        let pages: Vec<u32> = self.0.get_pages().keys().copied().collect();
        let text = self.0.extract_text(&pages).unwrap();
        squeezed(&text)
    }

    pub fn says(&self, words: &str) -> bool {
        self.text().contains(&squeezed(words))
    }

    /// The XMP packet.
    pub fn xmp(&self) -> String {
        let catalog = self.0.catalog().unwrap();
        let id = catalog.get(b"Metadata").unwrap().as_reference().unwrap();
        let stream = self.0.get_object(id).unwrap().as_stream().unwrap();
        let bytes = stream
            .decompressed_content()
            .unwrap_or_else(|_| stream.content.clone());
        String::from_utf8(bytes).unwrap()
    }

    /// Every string that stands anywhere in the file outside of its pages' streams.
    pub fn strings(&self) -> String {
        fn walk(object: &Object, out: &mut String) {
            match object {
                Object::String(bytes, _) => {
                    out.push_str(&squeezed(
                        &lopdf::decode_text_string(object)
                            .unwrap_or_else(|_| String::from_utf8_lossy(bytes).into_owned()),
                    ));
                    out.push('\n');
                }
                Object::Array(all) => all.iter().for_each(|o| walk(o, out)),
                Object::Dictionary(d) => d.iter().for_each(|(_, o)| walk(o, out)),
                Object::Stream(s) => s.dict.iter().for_each(|(_, o)| walk(o, out)),
                _ => {}
            }
        }
        let mut out = String::new();
        self.0.objects.values().for_each(|o| walk(o, &mut out));
        out
    }

    fn dictionaries(&self) -> impl Iterator<Item = &Dictionary> {
        self.0.objects.values().filter_map(|o| o.as_dict().ok())
    }

    /// The one attachment: its name, how it relates, its media type and its bytes.
    pub fn attachment(&self) -> (String, String, String, Vec<u8>) {
        let spec = self
            .dictionaries()
            .find(|d| d.get(b"Type").and_then(Object::as_name).ok() == Some(b"Filespec"))
            .unwrap();
        let name = lopdf::decode_text_string(spec.get(b"UF").unwrap()).unwrap();
        let kind = spec.get(b"AFRelationship").unwrap().as_name().unwrap();
        let files = spec.get(b"EF").unwrap().as_dict().unwrap();
        let id = files.get(b"F").unwrap().as_reference().unwrap();
        let stream = self.0.get_object(id).unwrap().as_stream().unwrap();
        let media = stream.dict.get(b"Subtype").unwrap().as_name().unwrap();
        let bytes = stream
            .decompressed_content()
            .unwrap_or_else(|_| stream.content.clone());
        let text = |b: &[u8]| String::from_utf8_lossy(b).into_owned();
        (name, text(kind), text(media), bytes)
    }

    /// Figures in the structure tree, and how many of them have words for those who can not see.
    pub fn figures(&self) -> (usize, usize) {
        let figures: Vec<&Dictionary> = self
            .dictionaries()
            .filter(|d| d.get(b"S").and_then(Object::as_name).ok() == Some(b"Figure"))
            .collect();
        let told = figures
            .iter()
            .filter(|d| matches!(d.get(b"Alt"), Ok(Object::String(s, _)) if !s.is_empty()))
            .count();
        (figures.len(), told)
    }

    /// Fonts that are not embedded.
    pub fn fonts_left_out(&self) -> usize {
        self.dictionaries()
            .filter(|d| d.get(b"Type").and_then(Object::as_name).ok() == Some(b"FontDescriptor"))
            .filter(|d| !d.has(b"FontFile3") && !d.has(b"FontFile2"))
            .count()
    }
}

pub fn squeezed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}
