//! The words of the papers of a piece made by many, as the language files have them under `community`.

use serde::Deserialize;

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($field:ident),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub(in crate::paper) struct $name { $(pub $field: String),* }
    };
}

/// Words of all papers of a piece made by many.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::paper) struct CommunityWords {
    pub names: Names,
    pub panel: PanelWords,
    pub map: MapWords,
    pub list: ListWords,
    pub thanks: ThanksWords,
}

words!(/** The papers' names. */ Names { panel, map, list, roll, thanks });
words!(/** The panel for the wall. */ PanelWords { made, made_squares, others, one_other, nobody });
words!(/** The map for mounting. */ MapWords {
    front, back, alt, grid, numbers, behind, wall, by_squares, each, mass, mass_reckoned, load, unmapped, overhead, hanging, sewing
});
words!(/** The list of squares and the roll. */ ListWords {
    private, number, maker, age, consent, more, squares, adult, minor, may, may_not, unknown, untold, off_roll, people, named, sums
});
words!(/** The sheets of thanks. */ ThanksWords {
    cover, count, to_parent, to, one, several, none, whole, whole_plain, alt
});
