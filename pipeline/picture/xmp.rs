//! What a plate says of itself when it travels without its paper: title, alt text, photographer, credit and
//! rights, and the tapestry it shows, as a packet of XMP in the plate's JPEG.
//!
//! Packet: ISO 16684-1 (XMP), in a JPEG's APP1 segment (XMP specification, part 3, 1.1.3). Properties: Dublin
//! Core, and the IPTC Photo Metadata Standard (core and extension schemas). Which words may be said is decided
//! by whoever fills in [`PlateWords`]; nothing of the original's own side data is copied. A wrapper that
//! never changes and no padding: the packet is replaced as a whole and the same words give the same bytes.

/// The words of one plate. Empty texts are left out.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PlateWords {
    /// Title of the picture.
    pub title: String,
    /// What is seen, for those who can not see it.
    pub alt: String,
    /// The day on which the photograph was taken: `2026-06-21`.
    pub taken: String,
    /// Who took the photograph.
    pub photographer: String,
    /// The line to print where the photograph is shown.
    pub credit: String,
    /// Who holds the rights in the photograph.
    pub rights: String,
    /// The work in the picture.
    pub work: Work,
}

/// The work that is seen in a photograph ("artwork or object" of the IPTC standard).
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Work {
    /// Its title.
    pub title: String,
    /// Who made it.
    pub maker: String,
    /// When it was made, where that is one year, month or day: `2026`, `2026-06`, `2026-06-21`.
    pub date: String,
    /// When it was made, in words, where it is not.
    pub about_when: String,
    /// Its size in words.
    pub size: String,
    /// Who keeps its record.
    pub registered_by: String,
    /// The number of its record.
    pub number: String,
}

/// What stands before the packet in its segment.
const SIGNATURE: &[u8] = b"http://ns.adobe.com/xap/1.0/\0";
/// The most bytes, escaped, that one text may take, and the alt text: all of them together fit the 65,533
/// bytes of a segment.
const MOST: usize = 4_000;
const MOST_ALT: usize = 16_000;

/// The plate with these words in it, in place of those it had. `jpeg` is a plate made here; anything else
/// comes back as it was.
pub fn inscribe(jpeg: &[u8], words: &PlateWords) -> Vec<u8> {
    let packet = packet(words);
    let body = [SIGNATURE, packet.as_bytes()].concat();
    let (Some(head), Ok(length)) = (head(jpeg), u16::try_from(body.len() + 2)) else {
        return jpeg.to_vec();
    };
    let mut out = Vec::with_capacity(jpeg.len() + body.len() + 4);
    out.extend_from_slice(&jpeg[..head]);
    out.extend_from_slice(&[0xFF, 0xE1]);
    out.extend_from_slice(&length.to_be_bytes());
    out.extend_from_slice(&body);
    let behind = match segment(jpeg, head) {
        Some((0xE1, end)) if jpeg[head + 4..end].starts_with(SIGNATURE) => end,
        _ => head,
    };
    out.extend_from_slice(&jpeg[behind..]);
    out
}

/// Where a plate's JFIF header ends.
fn head(jpeg: &[u8]) -> Option<usize> {
    match segment(jpeg, 2)? {
        (0xE0, end) if jpeg.starts_with(&[0xFF, 0xD8]) => Some(end),
        _ => None,
    }
}

/// Kind and end of the segment that begins at a place.
fn segment(jpeg: &[u8], at: usize) -> Option<(u8, usize)> {
    let &[0xFF, kind, high, low] = jpeg.get(at..at + 4)? else {
        return None;
    };
    let end = at + 2 + usize::from(u16::from_be_bytes([high, low])).max(2);
    (end <= jpeg.len()).then_some((kind, end))
}

/// The packet. Elements only, no attributes with words in them.
fn packet(words: &PlateWords) -> String {
    let mut out = String::from(
        "<?xpacket begin=\"\u{FEFF}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\"\n\
         xmlns:dc=\"http://purl.org/dc/elements/1.1/\"\n\
         xmlns:photoshop=\"http://ns.adobe.com/photoshop/1.0/\"\n\
         xmlns:Iptc4xmpCore=\"http://iptc.org/std/Iptc4xmpCore/1.0/xmlns/\"\n\
         xmlns:Iptc4xmpExt=\"http://iptc.org/std/Iptc4xmpExt/2008-02-29/\">\n",
    );
    let work = &words.work;
    let alt = escaped(&words.alt, MOST_ALT);
    put(&mut out, "dc:title", Form::Spoken, &words.title);
    put(&mut out, "dc:creator", Form::Row, &words.photographer);
    put(&mut out, "photoshop:DateCreated", Form::Plain, &words.taken);
    put(&mut out, "dc:rights", Form::Spoken, &words.rights);
    put(&mut out, "photoshop:Credit", Form::Plain, &words.credit);
    if !alt.is_empty() {
        property(
            &mut out,
            "Iptc4xmpCore:AltTextAccessibility",
            Form::Spoken,
            &alt,
        );
    }
    out.push_str(&of_work(work));
    out.push_str("</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>");
    out
}

/// The work as a property of the IPTC standard's extension schema, with the prefixes `Iptc4xmpExt` and `rdf`
/// declared by whatever it stands in; nothing where nothing is known of it.
pub fn of_work(work: &Work) -> String {
    let mut of_work = String::new();
    for (name, form, text) in [
        ("AOTitle", Form::Spoken, &work.title),
        ("AOCreator", Form::Row, &work.maker),
        ("AODateCreated", Form::Plain, &work.date),
        ("AOCircaDateCreated", Form::Plain, &work.about_when),
        ("AOPhysicalDescription", Form::Spoken, &work.size),
        ("AOSource", Form::Plain, &work.registered_by),
        ("AOSourceInvNo", Form::Plain, &work.number),
    ] {
        put(&mut of_work, &format!("Iptc4xmpExt:{name}"), form, text);
    }
    if of_work.is_empty() {
        return of_work;
    }
    format!(
        "<Iptc4xmpExt:ArtworkOrObject><rdf:Bag><rdf:li rdf:parseType=\"Resource\">\n{of_work}\
         </rdf:li></rdf:Bag></Iptc4xmpExt:ArtworkOrObject>\n"
    )
}

/// How a property holds its text (ISO 16684-1, 6.3 and 8.2.2.4).
#[derive(Debug, Clone, Copy)]
enum Form {
    /// As it is.
    Plain,
    /// One of several, in their order.
    Row,
    /// In a language; here the one that serves everybody.
    Spoken,
}

fn put(out: &mut String, name: &str, form: Form, text: &str) {
    let text = escaped(text, MOST);
    if !text.is_empty() {
        property(out, name, form, &text);
    }
}

fn property(out: &mut String, name: &str, form: Form, escaped: &str) {
    let (open, close) = match form {
        Form::Plain => ("", ""),
        Form::Row => ("<rdf:Seq><rdf:li>", "</rdf:li></rdf:Seq>"),
        Form::Spoken => (
            "<rdf:Alt><rdf:li xml:lang=\"x-default\">",
            "</rdf:li></rdf:Alt>",
        ),
    };
    out.push_str(&format!("<{name}>{open}{escaped}{close}</{name}>\n"));
}

/// Text as XML may hold it (XML 1.0, 2.2 and 2.4), blanks of every kind as one blank: what would be markup is
/// written as its entity, what XML forbids is left out, and what is longer than `most` bytes ends in "…".
fn escaped(text: &str, most: usize) -> String {
    const MORE: &str = "…";
    let mut out = String::new();
    let mut fits = 0;
    for word in text.split_whitespace() {
        let blank = if out.is_empty() { "" } else { " " };
        for c in blank.chars().chain(word.chars()) {
            match c {
                '&' => out.push_str("&amp;"),
                '<' => out.push_str("&lt;"),
                '>' => out.push_str("&gt;"),
                '\u{FFFE}' | '\u{FFFF}' => {}
                c if c.is_control() => {}
                c => out.push(c),
            }
            if out.len() > most {
                out.truncate(fits);
                out.push_str(MORE);
                return out;
            }
            if out.len() + MORE.len() <= most {
                fits = out.len();
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words() -> PlateWords {
        PlateWords {
            title: "Salt & <Pepper>".to_string(),
            alt: "Two\n towers \u{0}of \"salt\"".to_string(),
            work: Work {
                maker: "Ottilie Brackwater".to_string(),
                ..Work::default()
            },
            ..PlateWords::default()
        }
    }

    /// A JFIF header, one more segment, and an end.
    const BARE: &[u8] = b"\xFF\xD8\xFF\xE0\0\x04JF\xFF\xE2\0\x03I\xFF\xD9";

    #[test]
    fn words_are_data_and_never_markup() {
        let packet = packet(&words());
        assert!(packet.contains(">Salt &amp; &lt;Pepper&gt;<"));
        assert!(packet.contains(">Two towers of \"salt\"<"));
        assert!(!packet.contains("dc:rights"));
    }

    #[test]
    fn new_words_take_the_place_of_old_ones() {
        let once = inscribe(BARE, &words());
        assert!(once.starts_with(b"\xFF\xD8\xFF\xE0\0\x04JF\xFF\xE1"));
        assert!(once.ends_with(b"</x:xmpmeta>\n<?xpacket end=\"r\"?>\xFF\xE2\0\x03I\xFF\xD9"));
        assert_eq!(inscribe(&once, &words()), once);
        let other = inscribe(&once, &PlateWords::default());
        assert_eq!(other, inscribe(BARE, &PlateWords::default()));
        assert_eq!(inscribe(&other, &words()), once);
    }

    #[test]
    fn the_longest_words_there_can_be_still_fit_a_segment() {
        let long = "&".repeat(100_000);
        let all = PlateWords {
            taken: "2026-06-21".to_string(),
            title: long.clone(),
            alt: long.clone(),
            photographer: long.clone(),
            credit: long.clone(),
            rights: long.clone(),
            work: Work {
                title: long.clone(),
                maker: long.clone(),
                date: long.clone(),
                about_when: long.clone(),
                size: long.clone(),
                registered_by: long.clone(),
                number: long,
            },
        };
        let plate = inscribe(BARE, &all);
        assert_eq!(segment(&plate, 8).map(|(kind, _)| kind), Some(0xE1));
        assert_eq!(escaped("häät", 5), "h…");
        assert_eq!(escaped("häät", 6), "häät");
        assert!(escaped(&"&".repeat(9), 20).ends_with("&amp;…"));
    }

    #[test]
    fn what_is_no_plate_comes_back_as_it_was() {
        for bytes in [
            &b""[..],
            b"\xFF\xD8",
            b"\xFF\xD8\xFF\xE0\xFF\xFF",
            b"\x89PNG",
        ] {
            assert_eq!(inscribe(bytes, &words()), bytes);
        }
    }
}
