//! READ-ME-FIRST.txt: what somebody needs who has a bundle, a shell and nothing else. Plain text in the
//! studio's languages, in signs that every machine shows.

use super::press::Press;
use super::views::PublicView;
use super::words::{Words, fill};
use super::{dates, figures};
use crate::record::Paper;

/// Signs to a line.
const WIDE: usize = 78;

/// What is told first.
pub struct FirstWords<'a> {
    /// The piece.
    pub view: &'a PublicView,
    /// The revision, counted from 1.
    pub revision: u32,
    /// The papers that lie in the bundle.
    pub papers: &'a [Paper],
    /// Whether it is the owner's edition, in which the studio's own folder is not.
    pub for_owner: bool,
    /// Whether there are plates.
    pub plates: bool,
    /// Who sealed the bundle, as the list of signers names them, and the key's fingerprint.
    pub sealed: Option<(&'a str, &'a str)>,
    /// Whether an authority's time-stamp lies beside the record.
    pub time_stamped: bool,
    /// The line that proves the seal.
    pub proof: &'a str,
}

impl Press {
    /// The text, one language after the other.
    pub fn read_me(&self, first: &FirstWords) -> String {
        let tongues = self.lexicon.choose(&first.view.languages);
        let each: Vec<String> = tongues.iter().map(|w| in_one(first, w)).collect();
        each.join(&format!("\n\n{}\n\n", "=".repeat(WIDE)))
    }
}

fn in_one(first: &FirstWords, w: &Words) -> String {
    let r = &w.read_me;
    let view = first.view;
    let code = w.language.code.as_str();
    let mut out: Vec<String> = Vec::new();
    let mut put = |text: &str| out.push(ascii(text, code));
    put(&r.title);
    put("");
    put(&wrapped(if first.for_owner { &r.owner } else { &r.studio }));
    put("");
    put(&r.what);
    put("");
    let fact = |term: &str, value: &str| format!("  {term}{}{value}", w.colon());
    put(&fact(&r.tapestry, &view.title));
    put(&fact(&w.terms.maker, &view.weaver));
    let studio = [
        Some(&view.studio),
        view.place.as_ref(),
        view.contact.as_ref(),
    ];
    let studio: Vec<&str> = studio.into_iter().flatten().map(String::as_str).collect();
    put(&fact(&r.studio_term, &studio.join(", ")));
    put(&fact(&w.terms.made, &dates::in_words(&view.made, w)));
    put(&fact(
        &w.terms.size,
        &view.extent.in_words(view.measures, w),
    ));
    if let Some(read) = &view.mass {
        put(&fact(&w.terms.mass, &figures::mass(read, view.measures, w)));
    }
    let (groups, check) = view.number.spoken();
    put(&fact(&w.foot.record, &format!("{groups} {check}")));
    let number = format!("r{}", first.revision);
    let revision = match view.issued {
        Some(day) => fill(
            &r.revision,
            &[("number", &number), ("day", &dates::day(day, w))],
        ),
        None => fill(&r.revision_plain, &[("number", &number)]),
    };
    put(&fact(&r.edition, &revision));
    put("");
    put(&r.where_);
    put("");
    for paper in first.papers {
        put(&fact(
            named(*paper, w),
            &format!("data/papers/{}.pdf", paper.name()),
        ));
    }
    put(&format!("  data/record.json{}{}", w.colon(), r.record));
    if first.plates {
        put(&format!("  data/plates{}{}", w.colon(), r.photos));
    }
    if !first.for_owner {
        put(&format!("  data/piece{}{}", w.colon(), r.originals));
    }
    put("");
    put(&r.whole);
    put("");
    put(&wrapped(&r.whole_said));
    put("");
    put("  sha256sum --check --quiet manifest-sha256.txt && echo OK");
    put("  sha256sum --check --quiet tagmanifest-sha256.txt && echo OK");
    put("  find data ! -type d | wc -l; wc -l < manifest-sha256.txt");
    put("");
    put(&wrapped(&r.whole_other));
    put("");
    put(&r.who);
    put("");
    match first.sealed {
        Some((_, key)) => {
            put(&wrapped(&r.who_said));
            put("");
            for line in first.proof.lines() {
                put(&format!("  {line}"));
            }
            put("");
            put(&fact(&r.key, key));
        }
        None => put(&wrapped(&r.nobody)),
    }
    if first.time_stamped {
        put("");
        put(&r.when);
        put("");
        put(&wrapped(&r.when_said));
        put("");
        put("  openssl ts -verify -data data/record.json -in data/record.tsr \\");
        put("    -CAfile AUTHORITY.pem");
        put("  openssl ts -reply -in data/record.tsr -text");
    }
    put("");
    put(&r.keep);
    put("");
    put(&wrapped(&r.keep_said));
    out.join("\n") + "\n"
}

fn named(paper: Paper, w: &Words) -> &str {
    match paper {
        Paper::CareLabel => &w.label.name,
        Paper::Certificate => &w.certificate.name,
        Paper::CataloguePage => &w.catalogue.name,
        Paper::OwnerSheet => &w.keeping.name,
        Paper::HangingSheet => &w.drawn.hanging.name,
        Paper::PackingSheet => &w.drawn.packing.name,
        Paper::ConditionSheet => &w.drawn.condition.name,
        Paper::StudioSheet => &w.ledger.name,
    }
}

/// Lines of a readable length.
fn wrapped(text: &str) -> String {
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        let long = lines.last().map_or(0, |l| l.chars().count());
        if long > 0 && long + 1 + word.chars().count() > WIDE {
            lines.push(String::new());
        } else if long > 0 {
            lines.last_mut().into_iter().for_each(|l| l.push(' '));
        }
        lines.last_mut().into_iter().for_each(|l| l.push_str(word));
    }
    lines.join("\n")
}

/// The text in ASCII where it can be told in it: letters without their accents (German with `e` behind the
/// vowel), plain quotation marks and blanks. Letters of other scripts stay as they are.
fn ascii(text: &str, code: &str) -> String {
    use unicode_normalization::UnicodeNormalization;
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        let plain = match c {
            'ä' if code == "de" => "ae",
            'ö' if code == "de" => "oe",
            'ü' if code == "de" => "ue",
            'Ä' if code == "de" => "Ae",
            'Ö' if code == "de" => "Oe",
            'Ü' if code == "de" => "Ue",
            'ß' => "ss",
            'æ' => "ae",
            'œ' => "oe",
            'Œ' => "Oe",
            'Æ' => "Ae",
            'ø' => "o",
            'Ø' => "O",
            'ł' => "l",
            'Ł' => "L",
            'đ' => "d",
            'ı' => "i",
            '’' | '‘' => "'",
            '“' | '”' | '„' | '«' | '»' => "\"",
            '–' | '—' => "-",
            '×' => "x",
            '…' => "...",
            '\u{A0}' | '\u{202F}' => " ",
            '¿' | '¡' => "",
            _ => {
                let folded: String = c.nfd().filter(char::is_ascii).collect();
                if folded.is_empty() {
                    out.push(c)
                } else {
                    out.push_str(&folded)
                }
                continue;
            }
        };
        out.push_str(plain);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn accents_go_and_other_scripts_stay() {
        assert_eq!(
            ascii("Schlüssel, groß – „oben“", "de"),
            "Schluessel, gross - \"oben\""
        );
        assert_eq!(
            ascii("¿Está entero? 1,2\u{202F}m × 3", "es"),
            "Esta entero? 1,2 m x 3"
        );
        assert_eq!(ascii("pääte Łódź", "fi"), "paate Lodz");
        assert_eq!(ascii("Θάλασσα", "en"), "Θάλασσα");
    }

    #[test]
    fn lines_stay_readable() {
        let text = wrapped(&"word ".repeat(60));
        assert!(text.lines().all(|l| l.chars().count() <= WIDE));
        assert_eq!(text.split_whitespace().count(), 60);
    }
}
