//! The words of the papers, one file a language, all with the same keys. A key that is missing or
//! unknown is an error when the file is read, and the tests read every file.

use super::PaperError;
use super::community::CommunityWords;
use super::drawn::DrawnWords;
use super::face::Face;
use super::show::ShowWords;
use super::web::PageWords;
use serde::Deserialize;
use std::collections::BTreeMap;

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($field:ident: $kind:ty),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub(super) struct $name { $(pub $field: $kind),* }
    };
}

words!(/** All words of one language. */ Words {
    language: Language, foot: Foot, dates: Dates, join: Join, size: SizeLetters, series: SeriesWords,
    terms: Terms, facts: Facts, care: CareWords, label: LabelWords, certificate: CertificateWords,
    catalogue: CatalogueWords, drawn: DrawnWords, keeping: KeepingWords, ledger: LedgerWords, read_me: ReadMeWords, alt: AltWords, lacks: BTreeMap<String, String>, fibres: BTreeMap<String, String>, show: ShowWords, quote: QuoteWords, page: PageWords,
    community: CommunityWords,
});
words!(/** The language itself. */ Language { code: String, decimal: String });
words!(/** The foot of every page. */ Foot { record: String, page: String });
words!(/** Dates. */ Dates {
    months: [String; 12], months_after_day: [String; 12], seasons: [String; 4],
    first_of_month: String, day: String, day_of_year: String, month: String, season: String,
    decade: String, about: String, uncertain: String, about_and_uncertain: String, span: String,
    span_in_year: String, days: String, days_in_year: String, between: String, since: String, until: String, end_unknown: String,
    start_unknown: String,
});
words!(/** Lists. */ Join { and: String, or: String, and_more: String, semicolon: String });
words!(/** The letters before height, width and depth. */ SizeLetters {
    height: String, width: String, depth: String,
});
words!(/** A piece's place in its series. */ SeriesWords {
    numbered: String, numbered_open: String, unnumbered: String,
});
words!(/** Terms of the list of facts. */ Terms {
    object: String, maker: String, makers: String, made: String, series: String, technique: String, warp: String,
    weft: String, fibres: String, lining: String, size: String, mass: String, way_up: String,
    inscription: String, measured: String, credits: String, owner: String, owners: String,
});
words!(/** Values of the list of facts. */ Facts {
    object: String, made_by_many: String, sett: String, sett_inch: String, one_yarn: String,
    yarns: String, yarns_named: String, reckoned: String, percentages_unknown: String, other_fibres: String,
    exclusive_of_ornament: String, animal_parts: String,
    under_rules: String, measured: String, top_finish: String, top_start: String,
    top_left: String, top_right: String,
});
words!(/** Care in the order of ISO 3758. */ CareWords {
    wash: Treatment, bleach: Treatment, dry: Treatment, iron: Treatment,
    professional: Treatment,
});
words!(/** One group of care: the safe default, and how her own words speak of the group. */ Treatment {
    say: String, stems: Vec<String>,
});
words!(/** The care label's sheet. */ LabelWords {
    name: String, true_size: String, ruler: String, making: String,
});
words!(/** READ-ME-FIRST.txt. */ ReadMeWords {
    title: String, studio: String, owner: String, what: String, tapestry: String,
    studio_term: String, edition: String, revision: String, revision_plain: String,
    where_: String, record: String, photos: String, originals: String, whole: String,
    whole_said: String, whole_other: String, who: String, who_said: String, when: String, when_said: String, key: String,
    nobody: String, keep: String, keep_said: String,
});
words!(/** The certificate. */ CertificateWords {
    name: String, states: String, states_many: String, issued: String,
    date: String, signature: String, verify_attached: String, verify_digest: String,
    verify_short: String, check: String, seal: String, code_alt: String,
});
words!(/** The catalogue page. */ CatalogueWords {
    name: String, making: String, chart_alt: String, photograph: String, photographs: String,
    woven_by: String, names_and_others: String, names_and_one_other: String,
});
words!(/** The owner's sheet. */ KeepingWords {
    name: String, wall: String, weighs: String, weighs_about: String, weighs_not: String, hangs_by: String,
    hangs_by_none: String, loads: String, where_to: String, fire: String, light: String,
    first_colour: String, colours_unknown: String, others_unknown: String, over: String,
    within: String, fade: String, sun: String, air: String, air_said: String, dust: String,
    dust_said: String, dust_light: String, cleaning: String, wet: String, wet_said: String,
    pests: String, food: String, food_none: String, look: String, look_frozen: String,
    treated: String, sprays: String, moving: String, carry: String, roll_out: String,
    roll_in: String, roll_unknown: String, mending: String, mending_said: String, papers: String,
    papers_said: String, insurer: String, ask: String, ask_studio: String, ask_others: String,
    log: String, log_day: String, log_what: String, log_who: String,
});
words!(/** The studio sheet. */ LedgerWords {
    name: String, stays: String, time: String, loom: String, loom_said: String, hours: String,
    hours_said: String, hours_estimated: String, days_without: String, day: String,
    day_said: String, weaving: String, weaving_said: String, whole_said: String,
    slow_fast: String, money: String, price: String, insured: String, materials: String,
    lacking: String, result: String, per_hour: String, per_hour_said: String, asked: String,
    asked_said: String, above: String, below: String, per_area: String, stages: String,
    open: String, left_out: String, yarns: String, yarn: String, count: String, fibre: String,
    dye: String, light: String, wash: String, used: String, cost: String, warp: String,
    figures: String, mass: String, mass_said: String, mass_reckoned: String, mass_weighed: String,
    areal: String, draw_in: String, take_up: String, lean: String, lean_said: String,
    misfit: String, misfit_said: String, finishing: String, warp_ends: String, hems: String,
    slits: String, blocking: String, mothproofing: String, keepers: String, shown: String,
    shown_said: String, wanting: String,
});
words!(/** The quote. */ QuoteWords {
    name: String, piece: String, for_client: String, woven_by: String, colours: String, time: String, months: String,
    window: String, price: String, stages: String, on_order: String, half_woven: String, on_delivery: String,
    rests_on: String, not_in_it: String, no_contract: String, client_line: String, day_line: String, until_line: String,
});
words!(/** What pictures show, for those who can not see them. */ AltWords {
    ladder: String, front: String, second: String,
});

pub(super) const FILES: &[(&str, &str)] = &[
    ("en", include_str!("../../templates/words/en.yaml")),
    ("fr", include_str!("../../templates/words/fr.yaml")),
    ("de", include_str!("../../templates/words/de.yaml")),
    ("fi", include_str!("../../templates/words/fi.yaml")),
    ("es", include_str!("../../templates/words/es.yaml")),
];

/// The languages papers can speak, by their ISO 639-1 letters.
pub const LANGUAGES: &[&str] = &["en", "fr", "de", "fi", "es"];

/// A phrase of the papers of a piece made by many.
pub(super) type CommunityPart = fn(&CommunityWords) -> &String;

/// The words of every language.
pub(super) struct Lexicon {
    all: Vec<Words>,
}

impl Lexicon {
    #[cfg(test)]
    pub(super) fn new() -> Lexicon {
        Lexicon::with(&Face::default()).unwrap_or_else(|_| panic!("the embedded words are whole"))
    }

    /// The words, a face's own in the place of the embedded ones. Every fault of its files, not the
    /// first alone.
    pub(super) fn with(face: &Face) -> Result<Lexicon, Vec<PaperError>> {
        let mut faults = face.strange_words(LANGUAGES);
        let mut all = Vec::new();
        for (code, embedded) in FILES {
            let own = face.words(code);
            let is_own = own.is_some();
            let read = own
                .unwrap_or(Ok(embedded))
                .and_then(|text| words_from(code, text, is_own));
            match read {
                Ok(words) => all.push(words),
                Err(fault) => faults.push(fault),
            }
        }
        if faults.is_empty() {
            Ok(Lexicon { all })
        } else {
            Err(faults)
        }
    }

    /// The words of the chosen languages, two at most, the leading one first. A language without
    /// words is passed over; English speaks where nothing is left.
    pub(super) fn choose(&self, codes: &[String]) -> Vec<&Words> {
        let mut chosen: Vec<&Words> = Vec::new();
        for code in codes {
            let found = self.all.iter().find(|w| w.language.code == *code);
            if let Some(words) = found
                && chosen.len() < 2
                && chosen.iter().all(|w| w.language.code != *code)
            {
                chosen.push(words);
            }
        }
        if chosen.is_empty() {
            chosen.extend(self.all.first());
        }
        chosen
    }
}

fn words_from(code: &str, text: &str, own: bool) -> Result<Words, PaperError> {
    let fault = |line, column, message: String| PaperError {
        own,
        template: format!("words/{code}.yaml"),
        line,
        column,
        message,
    };
    let words: Words = serde_yaml::from_str(text).map_err(|error| {
        let (line, column) = error.location().map_or((0, 0), |l| (l.line(), l.column()));
        fault(line, column, error.to_string())
    })?;
    if words.language.code == code {
        Ok(words)
    } else {
        let said = format!(
            "`language.code` is `{}`, the file's name says `{code}`",
            words.language.code
        );
        Err(fault(0, 0, said))
    }
}

impl Words {
    /// A fibre's permitted name in this language. The table is complete; a test holds it.
    pub(super) fn fibre<'a>(&'a self, name: &'a str) -> &'a str {
        if name == "other fibres" {
            return &self.facts.other_fibres;
        }
        self.fibres.get(name).map_or(name, String::as_str)
    }

    /// What a record does not say, in this language.
    pub(super) fn lacks<'a>(&'a self, what: &'a str) -> &'a str {
        self.lacks.get(what).map_or(what, String::as_str)
    }

    /// The colon with the blanks this language puts around it, as in its list of yarns.
    pub(super) fn colon(&self) -> String {
        let named = self.facts.yarns_named.as_str();
        let after = named.strip_prefix(self.facts.yarns.as_str());
        after.map_or(": ".to_string(), |rest| rest.replace("{names}", ""))
    }

    /// "wool, cotton and silk".
    pub(super) fn all_of(&self, list: &[String]) -> String {
        joined(&self.join.and, list)
    }

    /// "2 or 3".
    pub(super) fn one_of(&self, list: &[String]) -> String {
        joined(&self.join.or, list)
    }
}

fn joined(pattern: &str, list: &[String]) -> String {
    match list {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => fill(pattern, &[("list", &rest.join(", ")), ("last", last)]),
    }
}

/// Puts values into a pattern's braces. A value is never looked into for further braces.
pub(super) fn fill(pattern: &str, values: &[(&str, &str)]) -> String {
    let mut out = String::new();
    let mut rest = pattern;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let Some((name, after)) = after.split_once('}') else {
            break;
        };
        out.push_str(values.iter().find(|(n, _)| *n == name).map_or("", |v| v.1));
        rest = after;
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{FIBRES, WOOL_NAMES};
    use serde_yaml::Value;

    /// Every text of a file with its path.
    fn texts(value: &Value, path: String, out: &mut Vec<(String, String)>) {
        match value {
            Value::Mapping(map) => {
                for (k, v) in map {
                    texts(v, format!("{path}/{}", k.as_str().unwrap()), out);
                }
            }
            Value::Sequence(all) => {
                for (i, v) in all.iter().enumerate() {
                    texts(v, format!("{path}/{i}"), out);
                }
            }
            Value::String(s) => out.push((path, s.clone())),
            other => panic!("{path}: {other:?} is not text"),
        }
    }

    fn braces(text: &str) -> Vec<&str> {
        let mut all: Vec<&str> = text
            .split('{')
            .skip(1)
            .map(|p| p.split('}').next().unwrap())
            .collect();
        all.sort_unstable();
        all
    }

    #[test]
    fn every_language_is_whole() {
        let codes: Vec<String> = FILES
            .iter()
            .map(|(_, f)| serde_yaml::from_str::<Words>(f).unwrap().language.code)
            .collect();
        assert_eq!(codes, LANGUAGES);
    }

    #[test]
    fn every_language_fills_in_what_english_fills_in() {
        let table = |file: &str| {
            let mut out = Vec::new();
            texts(
                &serde_yaml::from_str(file).unwrap(),
                String::new(),
                &mut out,
            );
            out.retain(|(path, _)| !path.contains("/stems/"));
            out
        };
        let english = table(FILES[0].1);
        for (_, file) in &FILES[1..] {
            for ((path, en), (_, other)) in english.iter().zip(table(file)) {
                assert_eq!(braces(en), braces(&other), "{path}: {other}");
            }
        }
    }

    #[test]
    fn no_language_has_typewriter_quotes_or_dashes() {
        for (_, file) in FILES {
            let mut out = Vec::new();
            texts(
                &serde_yaml::from_str(file).unwrap(),
                String::new(),
                &mut out,
            );
            for (path, text) in out {
                // A command is typed as it stands.
                let text = text.replace(" --check", "");
                for bad in ["'", "\"", "--", " - ", " x "] {
                    assert!(!text.contains(bad), "{path}: {text}");
                }
            }
        }
    }

    #[test]
    fn every_permitted_fibre_has_a_name_in_every_language() {
        for (_, file) in FILES {
            let words: Words = serde_yaml::from_str(file).unwrap();
            for fibre in FIBRES {
                assert!(words.fibres.contains_key(fibre.name), "{}", fibre.name);
            }
            for name in WOOL_NAMES {
                assert!(words.fibres.contains_key(*name), "{name}");
            }
            assert_eq!(words.fibres.len(), FIBRES.len() + WOOL_NAMES.len());
        }
    }

    #[test]
    fn a_missing_or_an_unknown_key_is_refused() {
        let missing = FILES[0].1.replacen("  record: Record\n", "", 1);
        assert!(serde_yaml::from_str::<Words>(&missing).is_err());
        let unknown = FILES[0].1.replacen("foot:\n", "foot:\n  extra: word\n", 1);
        assert!(serde_yaml::from_str::<Words>(&unknown).is_err());
    }

    #[test]
    fn a_value_with_braces_stays_as_it_is() {
        assert_eq!(
            fill("{a} and {b}", &[("a", "{b}"), ("b", "two")]),
            "{b} and two"
        );
    }
}
