//! What a column can be, and the words that head lines use for it.

/// A field of a piece that a column can hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// The folder's name.
    Folder,
    /// Title.
    Title,
    /// When it was made.
    Made,
    /// What it was made for.
    Kind,
    /// The series' name.
    Series,
    /// The number in the series, `4` or `4 of 9`.
    SeriesNumber,
    /// How many the series has.
    SeriesOf,
    /// Technique.
    Technique,
    /// What is written on it.
    Inscription,
    /// Her own words.
    Statement,
    /// Hanging height.
    Height,
    /// Width.
    Width,
    /// Both in one, height first unless the head line says otherwise.
    Size,
    /// Thickness.
    Thickness,
    /// Mass on the scale.
    Mass,
    /// The loom.
    Loom,
    /// Ends over a length.
    Sett,
    /// Warp ends.
    Ends,
    /// The warp's yarn.
    Warp,
    /// Its count.
    WarpCount,
    /// Its fibres.
    WarpFibre,
    /// A weft yarn.
    Weft,
    /// Its count.
    WeftCount,
    /// Its fibres.
    WeftFibre,
    /// Its dye.
    Dye,
    /// Whose it is. Private.
    Owner,
    /// Since when.
    OwnerSince,
    /// Where they live. Private.
    OwnerAddress,
    /// Price paid. Private.
    Price,
    /// Insured for. Private.
    Insured,
    /// Where it hangs.
    Place,
    /// File names of photographs.
    Photo,
    /// Free text for notes.md.
    Notes,
}

/// A field with its name for `--map` and the words of head lines, the plainest first; words are lower case without
/// accents, figures and signs.
pub struct Words {
    /// The field.
    pub field: Field,
    /// Its name.
    pub name: &'static str,
    /// What a head line may call it, in English, German, French, Spanish and Finnish.
    pub words: &'static [&'static str],
}

macro_rules! table {
    ($($field:ident $name:literal [$($word:literal)*])*) => {
        &[$(Words { field: Field::$field, name: $name, words: &[$($word),*] }),*]
    };
}

/// Every field. Where one head line could be two of them, the first counts.
pub const FIELDS: &[Words] = table! {
    Title "title" ["title" "title of work" "titel" "titre" "titulo" "nimi" "teoksen nimi" "work" "werk" "oeuvre" "obra" "teos" "piece" "tapestry" "name" "bezeichnung" "nom" "nombre"]
    Made "made" ["made" "date made" "date" "year" "completed" "date completed" "finished" "year made" "year completed" "year finished" "entstanden" "entstehungsjahr" "jahr" "datum" "annee" "date de creation" "ano" "fecha" "vuosi" "valmistumisvuosi" "valmistunut" "aika" "pvm"]
    Kind "kind" ["kind" "made for" "art des auftrags"]
    Series "series" ["series" "series name" "name of series" "serie" "reihe" "sarja"]
    SeriesNumber "series-number" ["series number" "series no" "number in series" "no in series" "nr in serie" "seriennummer" "numero dans la serie" "numero de serie" "numero sarjassa"]
    SeriesOf "series-of" ["series of" "of" "series total" "number of series" "von"]
    Technique "technique" ["technique" "techniques" "technik" "tecnica" "tekniikka" "weaving technique" "webtechnik"]
    Inscription "inscription" ["inscription" "signature" "signed" "signed marked" "signatur" "signiert" "signe" "firma" "signeeraus" "signeerattu" "marks" "monogram"]
    Statement "statement" ["statement" "artist statement" "artists statement" "text" "about" "description of the work" "werktext" "texte" "kuvaus"]
    Height "height" ["height" "h" "ht" "hgt" "hoehe" "hohe" "hauteur" "alto" "altura" "korkeus"]
    Width "width" ["width" "w" "wd" "wdth" "breite" "b" "largeur" "l" "ancho" "anchura" "leveys"]
    Size "size" ["size" "sizes" "dimensions" "dimension" "measurements" "dims" "masse" "mass h b" "format" "grosse" "groesse" "abmessungen" "dimensiones" "medidas" "tamano" "taille" "mitat" "koko" "height width" "h w" "width height" "w h" "hohe breite" "hoehe breite" "breite hohe" "h b" "b h" "hauteur largeur" "h l" "l h" "alto ancho"]
    Thickness "thickness" ["thickness" "dicke" "epaisseur" "espesor" "paksuus"]
    Mass "mass" ["mass" "weight" "wt" "gewicht" "poids" "peso" "paino"]
    Loom "loom" ["loom" "webstuhl" "rahmen" "metier" "telar" "kangaspuut"]
    Sett "sett" ["sett" "set" "epi" "ends per inch" "ends per cm" "warp sett" "kettdichte" "faden pro cm" "faden cm" "fils par cm" "fils cm" "tiheys" "loimitiheys" "hilos por cm"]
    Ends "ends" ["ends" "warp ends" "number of ends" "kettfaden" "loimilankoja"]
    WarpCount "warp-count" ["warp count" "warp yarn count" "warp size" "kettgarnnummer"]
    WarpFibre "warp-fibre" ["warp fibre" "warp fiber" "warp fibres" "warp fibers" "kettfaser"]
    Warp "warp" ["warp" "warp yarn" "warp material" "kette" "kettgarn" "kettmaterial" "chaine" "urdimbre" "loimi" "loimilanka"]
    WeftCount "weft-count" ["weft count" "weft yarn count" "schussgarnnummer"]
    WeftFibre "weft-fibre" ["weft fibre" "weft fiber" "weft fibres" "weft fibers" "schussfaser"]
    Weft "weft" ["weft" "weft yarn" "weft yarns" "wefts" "weft material" "schuss" "schussgarn" "schussmaterial" "trame" "trama" "kude" "kudelanka"]
    Dye "dye" ["dye" "dyes" "weft dye" "farbung" "farbstoff" "teinture" "tinte" "varjays"]
    OwnerSince "owner-since" ["owner since" "owned since" "sold on" "date sold" "sold date" "sale date" "sold" "verkauft am" "verkauft" "date de vente" "vendu le" "fecha de venta" "myyty" "myyntipaiva"]
    OwnerAddress "owner-address" ["owner address" "address" "adresse" "direccion" "osoite" "collector address" "buyer address"]
    Owner "owner" ["owner" "collector" "buyer" "bought by" "sold to" "client" "collection" "besitzer" "eigentumer" "kaufer" "sammlung" "proprietaire" "acheteur" "propietario" "comprador" "omistaja" "ostaja"]
    Price "price" ["price" "sale price" "selling price" "retail" "retail price" "price paid" "preis" "verkaufspreis" "prix" "prix de vente" "precio" "hinta"]
    Insured "insured" ["insured" "insurance" "insurance value" "insured for" "insured value" "versicherungswert" "versichert" "valeur d assurance" "assurance" "valor de seguro" "seguro" "vakuutusarvo"]
    Place "place" ["place" "location" "where" "hangs" "hangs in" "current location" "ort" "standort" "lieu" "emplacement" "lugar" "ubicacion" "paikka" "sijainti"]
    Photo "photo" ["photo" "photos" "photograph" "photographs" "photo file" "photo files" "image" "images" "image file" "image files" "picture" "pictures" "foto" "fotos" "bild" "bilder" "bilddatei" "imagen" "imagenes" "kuva" "kuvat" "valokuva" "valokuvat" "file name" "filename"]
    Folder "folder" ["folder" "slug" "ordner" "dossier" "carpeta" "kansio"]
    Notes "notes" ["notes" "note" "remarks" "comments" "comment" "notizen" "bemerkungen" "anmerkungen" "notas" "observaciones" "remarques" "huomautuksia" "huomioita" "muistiinpanot"]
};

impl Field {
    /// Its name for `--map`.
    pub fn name(self) -> &'static str {
        let mut all = FIELDS.iter();
        all.find(|w| w.field == self).map_or("", |w| w.name)
    }

    /// The field of a name.
    pub fn named(name: &str) -> Option<Field> {
        let mut all = FIELDS.iter();
        all.find(|w| w.name == name).map(|w| w.field)
    }

    /// What it needs a unit of, if any.
    pub fn unit_of(self) -> Option<Needs> {
        match self {
            Field::Height | Field::Width | Field::Size | Field::Thickness => Some(Needs::Length),
            Field::Mass => Some(Needs::Mass),
            Field::Sett => Some(Needs::Sett),
            Field::Price | Field::Insured => Some(Needs::Money),
            _ => None,
        }
    }

    /// Whether several columns may hold it.
    pub fn may_repeat(self) -> bool {
        matches!(self, Field::Weft | Field::Photo | Field::Notes)
    }
}

/// Which kind of unit a field needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needs {
    /// cm, in …
    Length,
    /// kg, oz …
    Mass,
    /// ends/cm, epi
    Sett,
    /// GBP, EUR …
    Money,
}

/// Units as head lines write them, and as they are written here.
pub const UNITS: &[(Needs, &str, &str)] = &[
    (Needs::Length, "cm", "cm"),
    (Needs::Length, "cms", "cm"),
    (Needs::Length, "centimetres", "cm"),
    (Needs::Length, "centimeters", "cm"),
    (Needs::Length, "zentimeter", "cm"),
    (Needs::Length, "centimetros", "cm"),
    (Needs::Length, "mm", "mm"),
    (Needs::Length, "m", "m"),
    (Needs::Length, "metres", "m"),
    (Needs::Length, "meters", "m"),
    (Needs::Length, "in", "in"),
    (Needs::Length, "ins", "in"),
    (Needs::Length, "inch", "in"),
    (Needs::Length, "inches", "in"),
    (Needs::Length, "zoll", "in"),
    (Needs::Length, "pouces", "in"),
    (Needs::Length, "pulgadas", "in"),
    (Needs::Length, "tuumaa", "in"),
    (Needs::Length, "\"", "in"),
    (Needs::Length, "ft", "ft"),
    (Needs::Length, "feet", "ft"),
    (Needs::Length, "yd", "yd"),
    (Needs::Mass, "kg", "kg"),
    (Needs::Mass, "kgs", "kg"),
    (Needs::Mass, "kilograms", "kg"),
    (Needs::Mass, "g", "g"),
    (Needs::Mass, "gr", "g"),
    (Needs::Mass, "grams", "g"),
    (Needs::Mass, "gramm", "g"),
    (Needs::Mass, "lb", "lb"),
    (Needs::Mass, "lbs", "lb"),
    (Needs::Mass, "pounds", "lb"),
    (Needs::Mass, "oz", "oz"),
    (Needs::Mass, "ounces", "oz"),
    (Needs::Sett, "epi", "epi"),
    (Needs::Sett, "ends per inch", "epi"),
    (Needs::Sett, "ends inch", "epi"),
    (Needs::Sett, "ends cm", "ends/cm"),
    (Needs::Sett, "ends per cm", "ends/cm"),
    (Needs::Sett, "faden cm", "ends/cm"),
    (Needs::Sett, "faden pro cm", "ends/cm"),
    (Needs::Sett, "fils cm", "ends/cm"),
    (Needs::Sett, "fils par cm", "ends/cm"),
    (Needs::Sett, "hilos por cm", "ends/cm"),
    (Needs::Sett, "per cm", "ends/cm"),
    (Needs::Sett, "per inch", "epi"),
    (Needs::Money, "£", "GBP"),
    (Needs::Money, "€", "EUR"),
    (Needs::Money, "euro", "EUR"),
    (Needs::Money, "euros", "EUR"),
    (Needs::Money, "sterling", "GBP"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_stands_for_two_fields_and_every_one_is_as_it_is_looked_for() {
        let mut seen = std::collections::BTreeSet::new();
        for words in FIELDS {
            assert_eq!(Field::named(words.name), Some(words.field));
            for word in words.words {
                assert!(seen.insert(*word), "{word}");
                assert_eq!(super::super::head::plain(word), *word);
            }
        }
    }
}
