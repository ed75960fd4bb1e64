//! The words of a show's papers, as the language files have them under `show`.

use serde::Deserialize;

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($field:ident),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub(in crate::paper) struct $name { $(pub $field: String),* }
    };
}

/// Words of all papers of a show.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::paper) struct ShowWords {
    pub names: Names,
    pub heads: Heads,
    pub catalogue: BookWords,
    pub plan: PlanWords,
    pub light: LightWords,
    pub lists: ListWords,
}

words!(/** The papers' names. */ Names {
    catalogue, labels, list, plan, light, loans, prices, packing,
});
words!(/** Heads of columns. */ Heads {
    number, piece, made, materials, size, wall, record, price, mass, left, top, across, above,
    yarn, show, elsewhere, year, allowed, verdict, insured, from, to, tube, parcel, volume, out, back,
});
words!(/** The catalogue. */ BookWords {
    contents, compared, compared_alt, person, techniques, materials, colophon, set_in, photographs,
    record_said, open_on, hours,
});
words!(/** The hang plan. */ PlanWords {
    wall, wall_alt, load, load_unknown, limit, eye, common, common_top, mass, clear, left_over, best, not_best, from_corner,
    fixings_known, fixings_usual, rail, overhead, heights,
});
words!(/** The light budget. */ LightWords {
    how, unknown, inside, over_lux, over_day, over_both, over_all, too_bright, unasked, home_unknown, guard,
});
words!(/** Loans, prices, packing. */ ListWords {
    lender, of_studio, total, signed_out, signed_back, condition, terms, transport, no_transport, longest,
    passes, passes_not, passes_unknown, bare, signed_name, signed_day, roll_unknown, boxes, sold_by, taxes, uncounted,
});
