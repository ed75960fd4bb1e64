//! What each law asks of a hand-woven wall hanging, and as plainly what it does not ask: as
//! information, never as legal advice. Where a section was not read itself, that is said.

use crate::record::RuleSet;

/// Said with everything here.
pub(super) const STANDING: &str = "as information, not legal advice; reckoned from yarn weights, not \
                                   analysed in a laboratory";

/// Whether the law asks for a fibre label on the piece, with the article.
pub(super) fn required(rule: RuleSet, wool: bool) -> (String, &'static str) {
    let (words, source) = match (rule, wool) {
        (RuleSet::Eu, _) => (
            "a label is required when the piece is put on the market: Annex V exempts tapestries that \
             are hand-embroidered (item 18) and this one is woven, and it has no item for works of art \
             or single pieces. Outside the Regulation are pieces handed to home workers or firms that \
             work on another's material (article 2(3)) and customised products of self-employed tailors \
             (article 2(4)); whether a weaver's commission is like the latter is not said there",
            "Regulation (EU) No 1007/2011, articles 2, 15 and 17(2), Annex V item 18",
        ),
        (RuleSet::Uk, _) => (
            "a label is required as in the Union, in English; hand-embroidered tapestries are exempt, \
             woven ones are not. Northern Ireland follows the Union's text",
            "SI 2012/1102, in Great Britain as amended by the Textile Products (Amendment) (EU Exit) Regulations 2018 (second hand); Regulation (EU) No 1007/2011, Annex V",
        ),
        (RuleSet::Us, true) => (
            "the piece holds wool, so it is a wool product and a label is required where it is sold in \
             commerce: the Wool Act has no list of articles, and excepts carpets, rugs, mats and \
             upholsteries but no wall hangings. The front of the label also names the country of origin, \
             and a responsible firm or its registered number. No federal care label is required for a hanging",
            "15 USC 68(d), 68b and 68j; 16 CFR 300.5 and 423.3",
        ),
        (RuleSet::Us, false) => (
            "the piece holds no wool, and a made-up wall hanging is not among the articles that the \
             Textile Rules cover, so no label is required; the yarns were covered when they were sold as \
             yarn. Whoever states the fibres all the same does so in the full form (from memory). No \
             federal care label is required for a hanging",
            "15 USC 70(g); 16 CFR 303.45, as a guide to the rules lists the articles (second hand)",
        ),
        (RuleSet::Ca, _) => (
            "no label is required: tapestries and wall hangings are exempt by name. One that is put on \
             all the same must be neither false nor misleading, in English and French, with the dealer's \
             name and postal address",
            "Textile Labelling and Advertising Regulations, C.R.C., c. 1551, Schedule II, item 2(c), and section 11(1)",
        ),
    };
    (format!("{words}; {STANDING}"), source)
}

/// How the words are to stand: order, type, language.
pub(super) fn form(rule: RuleSet) -> (&'static str, &'static str) {
    match rule {
        RuleSet::Eu => (
            "in descending order of mass, every fibre named; one size, style and font; no abbreviations; \
             in the official language of the country where it is sold to the consumer; apart from care, \
             size and title, also in catalogues and on line before the purchase",
            "Regulation (EU) No 1007/2011, articles 9(1), 14 and 16(1) to (3)",
        ),
        RuleSet::Uk => (
            "in descending order of mass, every fibre named; one size, style and font; no abbreviations; \
             in English",
            "SI 2012/1102 with Regulation (EU) No 1007/2011, articles 9(1), 14 and 16",
        ),
        RuleSet::Us => (
            "in order of predominance by weight, other fiber last; wool and recycled wool always named; \
             letters of equal size; in English, no abbreviations or asterisks; wool's percentages in words \
             and figures plainly legible",
            "15 USC 68b(a); 16 CFR 303.4, 303.5 and 303.16",
        ),
        RuleSet::Ca => (
            "fibres of 5 % and more by name in descending order, the others by name or as other fibre; in \
             English and French",
            "Competition Bureau, guide to the Textile Labelling and Advertising Regulations",
        ),
    }
}

/// What is left out of the reckoning.
pub(super) fn left_out(rule: RuleSet) -> (&'static str, &'static str) {
    match rule {
        RuleSet::Eu | RuleSet::Uk => (
            "warp waste and thrums, which are not in the piece; labels, edgings and trimmings that are \
             not an integral part, accessories such as the heading and its tape; stitching threads; \
             sizing, dressings and what dyeing added; non-textile parts",
            "Regulation (EU) No 1007/2011, article 19(2) and Annex VII (a) and (g)",
        ),
        RuleSet::Us | RuleSet::Ca => (
            "warp waste and thrums, which are not in the piece; the heading and its tape; sewing threads; \
             non-textile parts",
            "15 USC 70j(a); own reading",
        ),
    }
}

/// What the tolerance of the law is, and that it is none to choose figures by.
pub(super) fn tolerance(rule: RuleSet) -> (&'static str, &'static str) {
    match rule {
        RuleSet::Eu | RuleSet::Uk => (
            "3 points between what is stated and what a laboratory finds: for manufacturing, not for \
             choosing figures. \"100 %\", \"pure\" and \"all\" are for one fibre alone; the 2 % (5 % where \
             carded) of strange fibre beside them are for what can not be avoided, never for an accent",
            "Regulation (EU) No 1007/2011, articles 7 and 20",
        ),
        RuleSet::Us => (
            "variations in manufacture that can not be avoided with due care; the Textile Rules put 3 \
             points to it, the Wool Act no figure. \"All\" and \"100%\" are for one fibre alone, with \
             \"exclusive of ornamentation\" where there is some",
            "15 USC 68b(a); 16 CFR 300.17 and 303.43 (second hand)",
        ),
        RuleSet::Ca => (
            "5 per cent more or less of what is stated by mass",
            "Textile Labelling and Advertising Regulations, C.R.C., c. 1551 (excerpt)",
        ),
    }
}
