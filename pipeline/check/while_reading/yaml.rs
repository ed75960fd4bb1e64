//! What can be wrong with a YAML file before its meaning is looked at.

use crate::check::{Check, Example, Rule};
use crate::read::kinds;

pub const NOT_YAML: Check = Check {
    kind: kinds::NOT_YAML,
    doc: "A file can not be read as YAML: a quote or bracket is not closed, a colon is missing, lines \
          are indented unevenly, or the file is empty. Nothing below that place could be read.",
    bad: Example {
        piece: "title: \"Low Water",
        ..Example::PLAIN
    },
    good: Example {
        piece: "title: \"Low Water\"",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const TAB_INDENT: Check = Check {
    kind: kinds::TAB_INDENT,
    doc: "A line begins with a tab, or a tab stands behind a colon. YAML takes blanks only, since nobody \
          can see how wide a tab is meant.",
    bad: Example {
        piece: "measured:\n\theight: 121.4 cm\n\twidth: 166.0 cm",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured:\n  height: 121.4 cm\n  width: 166.0 cm",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const DUPLICATE_FIELD: Check = Check {
    kind: kinds::DUPLICATE_FIELD,
    doc: "The same field is written twice in one group. Only one can be meant, and which is not guessed.",
    bad: Example {
        piece: "title: Low Water\ntitle: High Water",
        ..Example::PLAIN
    },
    good: Example {
        piece: "title: Low Water",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const UNFOLDS_TOO_FAR: Check = Check {
    kind: kinds::UNFOLDS_TOO_FAR,
    doc: "Values are nested, or repeated by aliases, without a sensible end. A file that unfolds to \
          more than the memory of a computer is refused before it does.",
    bad: Example {
        piece: "weft: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[wool]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "weft: [{name: sea green, fibre: {wool: 100}}]",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const REMARK_IN_TEXT: Check = Check {
    kind: kinds::REMARK_IN_TEXT,
    doc: "A text without quotes is cut short: a blank and a `#` begin a remark, and here a letter or \
          figure stands right behind the `#`, as in a number. What follows would be missing from the \
          papers. In quotes a `#` is text; behind a remark's `#` stands a blank.",
    bad: Example {
        piece: "title: Herring Road #2",
        ..Example::PLAIN
    },
    good: Example {
        piece: "title: \"Herring Road #2\"   # the second of three",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};
