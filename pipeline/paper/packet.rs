//! The artwork's fields in a paper's own metadata: title, maker, date, size and record number of the piece, as
//! the plates have them, beside what the typesetter writes of the paper itself.
//!
//! The typesetter has no way in for them, so the packet (ISO 16684-1) is taken out of the finished file, added
//! to, and put back, and the places of what stands behind it are moved (ISO 32000-1, 7.5.4, cross-reference
//! table). A file that does not look as expected is given back as an error and never half changed.

/// The IPTC extension schema, whose fields PDF/A does not know unless the file describes them (ISO 19005-3,
/// 6.6.2.3.2, from memory).
const NAMESPACE: &str = "http://iptc.org/std/Iptc4xmpExt/2008-02-29/";
/// The fields of a work: name, kind of value, what it says.
const FIELDS: [(&str, &str, &str); 7] = [
    ("AOTitle", "Lang Alt", "Title of the work"),
    ("AOCreator", "seq Text", "Who made the work"),
    ("AODateCreated", "Date", "When the work was made"),
    ("AOCircaDateCreated", "Text", "About when the work was made"),
    ("AOPhysicalDescription", "Lang Alt", "Size of the work"),
    ("AOSource", "Text", "Who keeps the record of the work"),
    ("AOSourceInvNo", "Text", "Number of that record"),
];

/// The paper with the work in its metadata; why not, where the file is not built as expected. `work` is the
/// property as XMP, with the prefix `Iptc4xmpExt`, its texts escaped.
pub fn with_work(pdf: &[u8], work: &str) -> Result<Vec<u8>, &'static str> {
    if work.is_empty() {
        return Ok(pdf.to_vec());
    }
    let table = Table::of(pdf).ok_or("its cross-reference table is not where it should be")?;
    let stream = table
        .packet(pdf)
        .ok_or("its metadata are not where they should be")?;
    let old = pdf
        .get(stream.from..stream.to)
        .and_then(|p| std::str::from_utf8(p).ok())
        .ok_or("its metadata are no text")?;
    let new = amended(old, work).ok_or("its metadata are not built as expected")?;
    let head = format!("/Length {}", new.len());
    let mut out = Vec::with_capacity(pdf.len() + new.len());
    out.extend_from_slice(&pdf[..stream.length.0]);
    out.extend_from_slice(head.as_bytes());
    out.extend_from_slice(&pdf[stream.length.1..stream.from]);
    out.extend_from_slice(new.as_bytes());
    out.extend_from_slice(&pdf[stream.to..table.at]);
    // What is behind the packet lies so much further on.
    let more = out.len() - table.at;
    out.extend_from_slice(&pdf[table.at..table.entries]);
    for (i, line) in pdf[table.entries..table.trailer].chunks(ENTRY).enumerate() {
        match table.offsets.get(i) {
            Some(Some(offset)) if *offset > stream.object => {
                out.extend_from_slice(format!("{:010}", offset + more).as_bytes());
                out.extend_from_slice(&line[10..]);
            }
            _ => out.extend_from_slice(line),
        }
    }
    out.extend_from_slice(&pdf[table.trailer..table.start]);
    out.extend_from_slice(format!("{}\n%%EOF", table.at + more).as_bytes());
    Ok(out)
}

/// Bytes of a line of the table.
const ENTRY: usize = 20;

/// The cross-reference table, by places in the file.
struct Table {
    /// Where it begins.
    at: usize,
    /// Its first line behind the head.
    entries: usize,
    /// The trailer behind it.
    trailer: usize,
    /// The figure behind `startxref`.
    start: usize,
    /// The place of each object; `None` for a free line.
    offsets: Vec<Option<usize>>,
    /// The catalogue's number.
    root: usize,
}

/// The metadata stream, by places in the file.
struct Stream {
    /// Where its object begins.
    object: usize,
    /// `/Length` and its figure.
    length: (usize, usize),
    from: usize,
    to: usize,
}

impl Table {
    fn of(pdf: &[u8]) -> Option<Table> {
        let word = b"startxref\n";
        let start = last(pdf, word)? + word.len();
        let (at, _) = number(pdf, start)?;
        let mut next = expect(pdf, at, b"xref\n0 ")?;
        let (count, end) = number(pdf, next)?;
        next = expect(pdf, end, b"\n")?;
        let entries = next;
        let trailer = entries.checked_add(count.checked_mul(ENTRY)?)?;
        expect(pdf, trailer, b"trailer")?;
        let offsets = pdf
            .get(entries..trailer)?
            .chunks(ENTRY)
            .map(|line| match line.get(17) {
                Some(b'n') => number(line, 0).map(|(n, _)| Some(n)),
                _ => Some(None),
            })
            .collect::<Option<Vec<_>>>()?;
        let root = trailer + find(pdf.get(trailer..)?, b"/Root ")? + b"/Root ".len();
        Some(Table {
            at,
            entries,
            trailer,
            start,
            offsets,
            root: number(pdf, root)?.0,
        })
    }

    fn packet(&self, pdf: &[u8]) -> Option<Stream> {
        let object = |n: usize| self.offsets.get(n).copied().flatten();
        let catalogue = object(self.root)?;
        let key = b"/Metadata ";
        let named = catalogue + find(pdf.get(catalogue..self.at)?, key)? + key.len();
        let object = object(number(pdf, named)?.0)?;
        let key = b"/Length ";
        let length = object + find(pdf.get(object..self.at)?, key)?;
        let (count, end) = number(pdf, length + key.len())?;
        let word = b"stream\n";
        let from = object + find(pdf.get(object..self.at)?, word)? + word.len();
        let to = from.checked_add(count)?;
        expect(pdf, to, b"\nendstream")?;
        (end < from).then_some(Stream {
            object,
            length: (length, end),
            from,
            to,
        })
    }
}

/// The packet with the work and the description of its schema in it.
fn amended(packet: &str, work: &str) -> Option<String> {
    let list = "</rdf:Bag></pdfaExtension:schemas>";
    let (before, after) = packet.split_once(list)?;
    let (middle, end) = after.rsplit_once("</rdf:RDF>")?;
    let described = "<rdf:Description rdf:about=\"\" xmlns:Iptc4xmpExt=\"";
    Some(format!(
        "{before}{}{list}{middle}{described}{NAMESPACE}\">{work}</rdf:Description></rdf:RDF>{end}",
        schema()
    ))
}

/// The IPTC extension schema, as far as it is used, described as PDF/A asks for.
fn schema() -> String {
    let resource = "<rdf:li rdf:parseType=\"Resource\">";
    let fields: String = FIELDS
        .iter()
        .map(|(name, kind, what)| {
            format!(
                "{resource}<pdfaField:name>{name}</pdfaField:name>\
                 <pdfaField:valueType>{kind}</pdfaField:valueType>\
                 <pdfaField:description>{what}</pdfaField:description></rdf:li>"
            )
        })
        .collect();
    let about = |prefix: &str| {
        format!(
            "<{prefix}:namespaceURI>{NAMESPACE}</{prefix}:namespaceURI>\
             <{prefix}:prefix>Iptc4xmpExt</{prefix}:prefix>"
        )
    };
    format!(
        "<rdf:li rdf:parseType=\"Resource\" xmlns:pdfaType=\"http://www.aiim.org/pdfa/ns/type#\" \
         xmlns:pdfaField=\"http://www.aiim.org/pdfa/ns/field#\">\
         <pdfaSchema:schema>IPTC photo metadata, extension schema</pdfaSchema:schema>{}\
         <pdfaSchema:property><rdf:Seq>{resource}\
         <pdfaProperty:category>external</pdfaProperty:category>\
         <pdfaProperty:description>The work that the paper is about</pdfaProperty:description>\
         <pdfaProperty:name>ArtworkOrObject</pdfaProperty:name>\
         <pdfaProperty:valueType>bag Work</pdfaProperty:valueType></rdf:li></rdf:Seq></pdfaSchema:property>\
         <pdfaSchema:valueType><rdf:Seq>{resource}<pdfaType:type>Work</pdfaType:type>{}\
         <pdfaType:description>A work by its own metadata</pdfaType:description>\
         <pdfaType:field><rdf:Seq>{fields}</rdf:Seq></pdfaType:field></rdf:li></rdf:Seq></pdfaSchema:valueType>\
         </rdf:li>",
        about("pdfaSchema"),
        about("pdfaType"),
    )
}

fn find(within: &[u8], what: &[u8]) -> Option<usize> {
    within.windows(what.len()).position(|w| w == what)
}

fn last(within: &[u8], what: &[u8]) -> Option<usize> {
    within.windows(what.len()).rposition(|w| w == what)
}

/// The place behind a word that has to stand here.
fn expect(pdf: &[u8], at: usize, word: &[u8]) -> Option<usize> {
    let end = at.checked_add(word.len())?;
    (pdf.get(at..end)? == word).then_some(end)
}

/// A whole number and the place behind it.
fn number(pdf: &[u8], at: usize) -> Option<(usize, usize)> {
    let digits: Vec<u8> = pdf
        .get(at..)?
        .iter()
        .copied()
        .take_while(u8::is_ascii_digit)
        .collect();
    let value = std::str::from_utf8(&digits).ok()?.parse().ok()?;
    Some((value, at + digits.len()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_is_built_otherwise_is_left_alone() {
        let work = "<Iptc4xmpExt:ArtworkOrObject/>";
        for bad in [
            &b""[..],
            b"%PDF-1.7",
            b"startxref\n9999999999999999999999\n%%EOF",
            b"startxref\n4\n%%EOF",
            b"xref\n0 99999999999999999\ntrailer<</Root 1 0 R>>\nstartxref\n0\n%%EOF",
        ] {
            assert!(with_work(bad, work).is_err());
            assert_eq!(with_work(bad, "").as_deref(), Ok(bad));
        }
    }
}
