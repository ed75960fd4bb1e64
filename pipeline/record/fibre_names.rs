//! Names of the fibres in the official languages of the European Union, for the label that must speak
//! the language of the country where a piece is sold (Regulation (EU) No 1007/2011, article 16(3)).
//!
//! The names are those of Annex I in each language, and of Annex III for virgin wool, for every natural
//! fibre and the man-made ones met in a tapestry. Not every printing of the Annex could be read: each
//! language says how its names are known, and one that is not `Seen` is to be compared with the
//! Official Journal before it is sewn on.

/// How the names of a language are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// Read in the law of that language, for the fibres of Annex IX at least.
    Seen,
    /// From memory; the words are those of the trade in that language.
    Memory,
    /// From memory, and weakly.
    Weak,
}

/// One language and its names.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tongue {
    /// ISO 639-1.
    pub code: &'static str,
    /// How its names are known.
    pub how: How,
    /// In the order of `KEYS`, parted by semicolons.
    names: &'static str,
}

/// The English names, which are the keys of every table.
const KEYS: &str = "wool; alpaca; llama; camel; cashmere; mohair; angora; vicuna; yak; guanaco; cashgora; \
    beaver; otter; animal hair; horsehair; silk; cotton; kapok; flax; true hemp; jute; \
    abaca; alfa; coir; broom; ramie; sisal; sunn; henequen; maguey; acetate; modal; viscose; \
    acrylic; polyamide; lyocell; polyester; elastane; metal; virgin wool; other fibres";

/// All twenty-four, in the order in which the Union lists its languages.
#[rustfmt::skip]
pub const LANGUAGES_OF_LAW: &[Tongue] = &[
    Tongue {
        code: "bg",
        how: How::Memory,
        names: "вълна; алпака; лама; камила; кашмир; мохер; ангора; викуня; як; гуанако; \
              кашгора; бобър; видра; животински косми; конски косми; коприна; памук; капок; \
              лен; коноп; юта; абака; алфа; кокосово влакно; жълтуга; рами; сизал; сун; \
              хенекен; магей; ацетат; модал; вискоза; акрил; полиамид; лиосел; полиестер; \
              еластан; метал; необработена вълна; други влакна",
    },
    Tongue {
        code: "es",
        how: How::Memory,
        names: "lana; alpaca; llama; camello; cachemira; mohair; angora; vicuña; yak; guanaco; \
              cashgora; castor; nutria; pelo; crin; seda; algodón; miraguano; lino; cáñamo; \
              yute; abacá; esparto; coco; retama; ramio; sisal; sunn; henequén; maguey; \
              acetato; modal; viscosa; acrílico; poliamida; lyocell; poliéster; elastano; \
              metal; lana virgen; otras fibras",
    },
    Tongue {
        code: "cs",
        how: How::Memory,
        names: "vlna; alpaka; lama; velbloud; kašmír; mohér; angora; vikuňa; jak; guanako; \
              kašgora; bobr; vydra; zvířecí chlupy; žíně; hedvábí; bavlna; kapok; len; \
              konopí; juta; abaka; alfa; kokos; janovec; ramie; sisal; sunn; henequen; \
              maguey; acetát; modal; viskóza; akryl; polyamid; lyocell; polyester; elastan; \
              kov; střižní vlna; ostatní vlákna",
    },
    Tongue {
        code: "da",
        how: How::Memory,
        names: "uld; alpaka; lama; kamel; kashmir; mohair; angora; vikunja; yak; guanako; \
              cashgora; bæver; odder; dyrehår; hestehår; silke; bomuld; kapok; hør; hamp; \
              jute; abaca; alfa; kokos; gyvel; ramie; sisal; sunn; henequen; maguey; acetat; \
              modal; viskose; acryl; polyamid; lyocell; polyester; elastan; metal; ren, ny \
              uld; andre fibre",
    },
    Tongue {
        code: "de",
        how: How::Seen,
        names: "Wolle; Alpaka; Lama; Kamel; Kaschmir; Mohair; Angora; Vikunja; Yak; Guanako; \
              Kaschgora; Biber; Fischotter; Haar; Rosshaar; Seide; Baumwolle; Kapok; Flachs; \
              Hanf; Jute; Manila; Alfa; Kokos; Ginster; Ramie; Sisal; Sunn; Henequen; \
              Maguey; Acetat; Modal; Viskose; Polyacryl; Polyamid; Lyocell; Polyester; \
              Elasthan; Metall; Schurwolle; sonstige Fasern",
    },
    Tongue {
        code: "et",
        how: How::Memory,
        names: "vill; alpaka; laama; kaamel; kašmiir; mohäär; angoora; vikunja; jakk; guanako; \
              kašgora; kobras; saarmas; loomakarv; hobusejõhv; siid; puuvill; kapokk; lina; \
              kanep; džuut; abakaa; alfa; kookos; leetpõõsas; ramjee; sisal; sunn; henekeen; \
              maguey; atsetaat; modaal; viskoos; akrüül; polüamiid; lüotsell; polüester; \
              elastaan; metall; uus vill; muud kiud",
    },
    Tongue {
        code: "el",
        how: How::Memory,
        names: "μαλλί; αλπακά; λάμα; καμήλα; κασμίρι; μοχέρ; αγκορά; βιγκόνια; γιακ; \
              γκουανάκο; κασγκόρα; κάστορας; ενυδρίδα; τρίχα; αλογότριχα; μετάξι; βαμβάκι; \
              καπόκ; λινάρι; κάνναβη; γιούτα; αμπάκα; άλφα; κόκος; σπάρτο; ραμί; σιζάλ; \
              σουν; χενεκέν; μαγκέι; οξεικό; μοντάλ; βισκόζη; ακρυλικό; πολυαμίδιο; λυοσέλ; \
              πολυεστέρας; ελαστάνη; μέταλλο; παρθένο μαλλί; άλλες ίνες",
    },
    Tongue {
        code: "en",
        how: How::Seen,
        names: KEYS,
    },
    Tongue {
        code: "fr",
        how: How::Seen,
        names: "laine; alpaga; lama; chameau; cachemire; mohair; angora; vigogne; yack; \
              guanaco; cashgora; castor; loutre; poil; crin de cheval; soie; coton; kapok; \
              lin; chanvre; jute; abaca; alfa; coco; genêt; ramie; sisal; sunn; henequen; \
              maguey; acétate; modal; viscose; acrylique; polyamide; lyocell; polyester; \
              élasthanne; métal; laine vierge; autres fibres",
    },
    Tongue {
        code: "ga",
        how: How::Weak,
        names: "olann; alpaca; láma; camall; caismír; móihéar; angóra; vicúna; geac; guanácó; \
              caiseagóra; béabhar; dobharchú; fionnadh ainmhithe; rón capaill; síoda; cadás; \
              capóc; líon; fíorchnáib; siúit; abacá; alfa; cócó; giolcach; raimí; siseal; \
              sunn; henequen; maguey; aicéatáit; módal; vioscós; aicrileach; polaimíd; \
              lióicéal; poileistear; éalaistín; miotal; olann lomra; snáithíní eile",
    },
    Tongue {
        code: "hr",
        how: How::Memory,
        names: "vuna; alpaka; ljama; deva; kašmir; moher; angora; vikunja; jak; gvanako; \
              kašgora; dabar; vidra; životinjska dlaka; konjska dlaka; svila; pamuk; kapok; \
              lan; konoplja; juta; abaka; alfa; kokos; žuka; ramija; sisal; sunn; henequen; \
              maguey; acetat; modal; viskoza; akril; poliamid; liocel; poliester; elastan; \
              metal; runska vuna; ostala vlakna",
    },
    Tongue {
        code: "it",
        how: How::Memory,
        names: "lana; alpaca; lama; cammello; kashmir; mohair; angora; vigogna; yack; guanaco; \
              cashgora; castoro; lontra; pelo; crine; seta; cotone; kapok; lino; canapa; \
              iuta; abaca; alfa; cocco; ginestra; ramiè; sisal; sunn; henequen; maguey; \
              acetato; modal; viscosa; acrilica; poliammide; lyocell; poliestere; elastan; \
              metallo; lana vergine; altre fibre",
    },
    Tongue {
        code: "lv",
        how: How::Memory,
        names: "vilna; alpaka; lama; kamielis; kašmirs; mohēra; angora; vikunja; jaks; \
              gvanako; kašgora; bebrs; ūdrs; dzīvnieku spalva; zirgu astri; zīds; kokvilna; \
              kapoks; lini; kaņepes; džuta; abaka; alfa; kokosšķiedra; slotzaris; rāmija; \
              sizals; sunns; henekens; magejs; acetāts; modāls; viskoze; akrils; poliamīds; \
              liocels; poliesters; elastāns; metāls; pirmlietojuma vilna; citas šķiedras",
    },
    Tongue {
        code: "lt",
        how: How::Memory,
        names: "vilna; alpaka; lama; kupranugaris; kašmyras; moheris; angora; vikunija; jakas; \
              gvanakas; kašgora; bebras; ūdra; gyvūnų plaukai; ašutai; šilkas; medvilnė; \
              kapokas; linas; kanapė; džiutas; abaka; alfa; kokoso pluoštas; sausakrūmis; \
              ramė; sizalis; sunas; henekenas; magėja; acetatas; modalas; viskozė; akrilas; \
              poliamidas; liocelas; poliesteris; elastanas; metalas; natūralioji vilna; kiti \
              pluoštai",
    },
    Tongue {
        code: "hu",
        how: How::Memory,
        names: "gyapjú; alpaka; láma; teve; kasmír; moher; angóra; vikunya; jak; guanakó; \
              kasgora; hód; vidra; állati szőr; lószőr; selyem; pamut; kapok; len; kender; \
              juta; abaka; alfa; kókusz; rekettye; rami; szizál; szunn; henequen; maguey; \
              acetát; modál; viszkóz; akril; poliamid; lyocell; poliészter; elasztán; fém; \
              élőgyapjú; egyéb szálak",
    },
    Tongue {
        code: "mt",
        how: How::Weak,
        names: "suf; alpaka; llama; ġemel; kaxmir; moħer; angora; vikunja; jakk; gwanako; \
              kaxgora; kastur; lontra; xagħar tal-annimali; xagħar taż-żiemel; ħarir; qoton; \
              kapok; kittien; qanneb; ġuta; abaka; alfa; kokonut; ġenista; rami; sisal; \
              sunn; henequen; maguey; aċetat; modal; viskoża; akriliku; poliammid; lyocell; \
              poliester; elastan; metall; suf verġni; fibri oħra",
    },
    Tongue {
        code: "nl",
        how: How::Memory,
        names: "wol; alpaca; lama; kameel; kasjmier; mohair; angora; vicuña; jak; guanaco; \
              cashgora; bever; otter; haar; paardenhaar; zijde; katoen; kapok; vlas; hennep; \
              jute; abaca; alfa; kokos; brem; ramee; sisal; sunn; henequen; maguey; acetaat; \
              modal; viscose; acryl; polyamide; lyocell; polyester; elastaan; metaal; \
              scheerwol; overige vezels",
    },
    Tongue {
        code: "pl",
        how: How::Memory,
        names: "wełna; alpaka; lama; wielbłąd; kaszmir; moher; angora; wikunia; jak; guanako; \
              kaszgora; bóbr; wydra; sierść; włosie końskie; jedwab; bawełna; kapok; len; \
              konopie; juta; abaka; alfa; kokos; żarnowiec; ramia; sizal; sunn; henequen; \
              maguey; octan; modal; wiskoza; akryl; poliamid; lyocell; poliester; elastan; \
              metal; żywa wełna; inne włókna",
    },
    Tongue {
        code: "pt",
        how: How::Memory,
        names: "lã; alpaca; lama; camelo; caxemira; mohair; angorá; vicunha; iaque; guanaco; \
              cashgora; castor; lontra; pelo; crina; seda; algodão; sumaúma; linho; cânhamo; \
              juta; abacá; alfa; cairo; giesta; rami; sisal; sunn; henequen; maguey; \
              acetato; modal; viscose; acrílica; poliamida; liocel; poliéster; elastano; \
              metal; lã virgem; outras fibras",
    },
    Tongue {
        code: "ro",
        how: How::Memory,
        names: "lână; alpaca; lamă; cămilă; cașmir; mohair; angora; vigonie; iac; guanaco; \
              cașgora; castor; vidră; păr de animal; păr de cal; mătase; bumbac; capoc; in; \
              cânepă; iută; abaca; alfa; cocos; drobiță; ramie; sisal; sunn; henequen; \
              maguey; acetat; modal; viscoză; acril; poliamidă; lyocell; poliester; elastan; \
              metal; lână virgină; alte fibre",
    },
    Tongue {
        code: "sk",
        how: How::Memory,
        names: "vlna; alpaka; lama; ťava; kašmír; mohér; angora; vikuňa; jak; guanako; \
              kašgora; bobor; vydra; zvieracia srsť; konské vlásie; hodváb; bavlna; kapok; \
              ľan; konope; juta; abaka; alfa; kokos; prútnatec; ramia; sisal; sunn; \
              henequen; maguey; acetát; modal; viskóza; akryl; polyamid; lyocell; polyester; \
              elastan; kov; strižná vlna; ostatné vlákna",
    },
    Tongue {
        code: "sl",
        how: How::Memory,
        names: "volna; alpaka; lama; kamela; kašmir; moher; angora; vikunja; jak; gvanako; \
              kašgora; bober; vidra; živalska dlaka; konjska žima; svila; bombaž; kapok; \
              lan; konoplja; juta; abaka; alfa; kokos; brnistra; ramija; sisal; sunn; \
              henequen; maguey; acetat; modal; viskoza; akril; poliamid; liocel; poliester; \
              elastan; kovina; runska volna; druga vlakna",
    },
    Tongue {
        code: "fi",
        how: How::Memory,
        names: "villa; alpakka; laama; kameli; kašmir; mohair; angora; vikunja; jakki; \
              guanako; kašgora; majava; saukko; eläimen karva; jouhi; silkki; puuvilla; \
              kapokki; pellava; hamppu; juutti; manilla; alfa; kookos; kinsteri; rami; \
              sisal; sunn; henequen; maguey; asetaatti; modaali; viskoosi; akryyli; \
              polyamidi; lyocell; polyesteri; elastaani; metalli; uusi villa; muut kuidut",
    },
    Tongue {
        code: "sv",
        how: How::Memory,
        names: "ull; alpacka; lama; kamel; kashmir; mohair; angora; vikunja; jak; guanaco; \
              cashgora; bäver; utter; hår; tagel; silke; bomull; kapok; lin; hampa; jute; \
              abaca; alfa; kokos; ginst; rami; sisal; sunn; henequen; maguey; acetat; modal; \
              viskos; akryl; polyamid; lyocell; polyester; elastan; metall; ny ull; andra \
              fibrer",
    },
];

/// A language by its code.
pub fn tongue(code: &str) -> Option<&'static Tongue> {
    LANGUAGES_OF_LAW.iter().find(|t| t.code == code)
}

impl Tongue {
    /// A fibre's name in this language, by its English one; `other fibres` is among them. `None` for a
    /// fibre that the table does not have.
    pub fn name(&self, english: &str) -> Option<&'static str> {
        let key = match english {
            "linen" => "flax",
            "nylon" => "polyamide",
            other => other,
        };
        let at = KEYS.split("; ").position(|k| k == key)?;
        self.names.split("; ").nth(at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    fn names(tongue: &Tongue) -> Vec<&'static str> {
        tongue.names.split("; ").collect()
    }

    #[test]
    fn all_official_languages_are_there_and_whole() {
        // Source, published: Regulation No 1 of 1958, article 1, as it stands since Croatia joined in
        // 2013: twenty-four official languages.
        let codes: Vec<&str> = LANGUAGES_OF_LAW.iter().map(|t| t.code).collect();
        let official = "bg es cs da de et el en fr ga hr it lv lt hu mt nl pl pt ro sk sl fi sv";
        assert_eq!(codes, official.split(' ').collect::<Vec<_>>());
        let keys = KEYS.split("; ").count();
        for tongue in LANGUAGES_OF_LAW {
            assert_eq!(names(tongue).len(), keys, "{}", tongue.code);
            assert!(names(tongue).iter().all(|n| !n.trim().is_empty()));
        }
    }

    #[test]
    fn every_natural_fibre_of_the_law_is_named() {
        // Source, published: Regulation (EU) No 1007/2011, Annex I, table 1, numbers 1 to 18.
        let natural = super::super::FIBRES
            .iter()
            .take_while(|f| f.name != "acetate");
        for fibre in natural {
            for tongue in LANGUAGES_OF_LAW {
                assert!(
                    tongue.name(fibre.name).is_some(),
                    "{} {}",
                    tongue.code,
                    fibre.name
                );
            }
        }
        for wanted in [
            "viscose",
            "polyamide",
            "polyester",
            "acrylic",
            "metal",
            "elastane",
        ] {
            assert!(
                LANGUAGES_OF_LAW.iter().all(|t| t.name(wanted).is_some()),
                "{wanted}"
            );
        }
    }

    #[test]
    fn no_two_fibres_share_a_name_in_one_language() {
        for tongue in LANGUAGES_OF_LAW {
            let all = names(tongue);
            let set: BTreeSet<&str> = all.iter().copied().collect();
            assert_eq!(set.len(), all.len(), "{}", tongue.code);
        }
    }

    #[test]
    fn no_letter_of_another_script_has_slipped_in() {
        for tongue in LANGUAGES_OF_LAW {
            let fits = |c: char| match tongue.code {
                "bg" => ('\u{400}'..='\u{4ff}').contains(&c),
                "el" => ('\u{370}'..='\u{3ff}').contains(&c),
                _ => c < '\u{250}',
            };
            for name in names(tongue) {
                let bad = name.chars().find(|c| c.is_alphabetic() && !fits(*c));
                assert_eq!(bad, None, "{} {name}", tongue.code);
            }
        }
    }

    #[test]
    fn the_law_in_german_names_its_fibres_so() {
        // Source, published: Verordnung (EU) Nr. 1007/2011, Anhang IX, German text of the Official
        // Journal, L 272: names of the fibres 4 to 43.
        let de = tongue("de").unwrap();
        for (english, german) in [
            ("silk", "Seide"),
            ("cotton", "Baumwolle"),
            ("true hemp", "Hanf"),
            ("abaca", "Manila"),
            ("coir", "Kokos"),
            ("broom", "Ginster"),
            ("acetate", "Acetat"),
            ("viscose", "Viskose"),
            ("acrylic", "Polyacryl"),
            ("polyamide", "Polyamid"),
            ("elastane", "Elasthan"),
        ] {
            assert_eq!(de.name(english), Some(german));
        }
    }

    #[test]
    fn the_papers_use_the_same_names() {
        // The words of the papers hold these names too; both must stay alike.
        for (code, file) in [
            ("en", include_str!("../../templates/words/en.yaml")),
            ("fr", include_str!("../../templates/words/fr.yaml")),
            ("de", include_str!("../../templates/words/de.yaml")),
            ("fi", include_str!("../../templates/words/fi.yaml")),
            ("es", include_str!("../../templates/words/es.yaml")),
        ] {
            let words: serde_yaml::Value = serde_yaml::from_str(file).unwrap();
            let tongue = tongue(code).unwrap();
            for key in KEYS.split("; ").filter(|k| *k != "other fibres") {
                let printed = words["fibres"][key].as_str();
                assert_eq!(printed, tongue.name(key), "{code} {key}");
            }
            assert_eq!(
                words["facts"]["other_fibres"].as_str(),
                tongue.name("other fibres")
            );
        }
    }
}
