//! Fields that are not known, not there, of the wrong shape, or one too many.

use crate::check::{Check, Example, Rule};
use crate::read::kinds;

pub const UNKNOWN_FIELD: Check = Check {
    kind: kinds::UNKNOWN_FIELD,
    doc: "A field is not known where it stands. Mostly its name is mistyped; what nobody reads would \
          be lost from the papers in silence, so it is an error.",
    bad: Example {
        piece: "tecnique: slit tapestry",
        ..Example::PLAIN
    },
    good: Example {
        piece: "technique: slit tapestry",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const MISSING_FIELD: Check = Check {
    kind: kinds::MISSING_FIELD,
    doc: "A field that the papers can not do without is not written. A piece needs `title`, `made`, \
          `warp`, one `weft` yarn, `measured.height` and `measured.width`; all else may be left out.",
    bad: Example {
        piece: "title:",
        ..Example::PLAIN
    },
    good: Example {
        piece: "title: Low Water",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const WRONG_SHAPE: Check = Check {
    kind: kinds::WRONG_SHAPE,
    doc: "A list stands where one value is due, one value where a group of fields is due, or a list \
          has the wrong length, such as one diagonal instead of two.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, diagonals: [205.3 cm]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, diagonals: [205.3 cm, 206.1 cm]}",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const TWO_ANSWERS: Check = Check {
    kind: kinds::TWO_ANSWERS,
    doc: "Two fields answer the same question, such as `used` and `weighed` of one yarn. One is taken \
          and named; the other should go.",
    bad: Example {
        piece: "weft: [{name: sea green, fibre: {wool: 100}, used: 410 g, weighed: {before: 800 g, after: 390 g}}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "weft: [{name: sea green, fibre: {wool: 100}, weighed: {before: 800 g, after: 390 g}}]",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};
