//! Values that can not be read as what is due.

use crate::check::{Check, Example, Rule};
use crate::read::kinds;

pub const NO_UNIT: Check = Check {
    kind: kinds::NO_UNIT,
    doc: "A number has no unit where one is needed. A unit is never guessed: 48 may be inches.",
    bad: Example {
        piece: "measured: {height: 121.4, width: 166.0 cm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm}",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const WRONG_UNIT: Check = Check {
    kind: kinds::WRONG_UNIT,
    doc: "The unit belongs to another kind of quantity: a mass where a length is due.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 kg}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm}",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const UNKNOWN_UNIT: Check = Check {
    kind: kinds::UNKNOWN_UNIT,
    doc: "The unit is not known. The known ones are listed with the finding; capitals count, for \
          `M` and `m` are not the same.",
    bad: Example {
        piece: "measured: {height: 121.4 cn, width: 166.0 cm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm}",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const AMBIGUOUS_COUNT: Check = Check {
    kind: kinds::AMBIGUOUS_COUNT,
    doc: "A yarn count can be read in several ways. `8/2` alone is 148 tex as cotton, 221 as worsted, \
          250 as metric and 413 as linen, so the system must stand before it.",
    bad: Example {
        piece: "weft: [{name: sea green, count: 8/2, fibre: {wool: 100}}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "weft: [{name: sea green, count: Nm 8/2, fibre: {wool: 100}}]",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const UNREADABLE_VALUE: Check = Check {
    kind: kinds::UNREADABLE_VALUE,
    doc: "A value can not be read as the number, date, amount or name that is due.",
    bad: Example {
        piece: "made: spring 2026",
        ..Example::PLAIN
    },
    good: Example {
        piece: "made: 2026-21",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const IMPOSSIBLE_VALUE: Check = Check {
    kind: kinds::IMPOSSIBLE_VALUE,
    doc: "A value can be read but can not be: a length below zero, a share over 100 %, an interval \
          that ends before it begins.",
    bad: Example {
        piece: "made: 2026-06/2026-03",
        ..Example::PLAIN
    },
    good: Example {
        piece: "made: 2026-03/2026-06",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const UNKNOWN_WORD: Check = Check {
    kind: kinds::UNKNOWN_WORD,
    doc: "A field takes one of a few words, and this is none of them. The finding lists them all.",
    bad: Example {
        piece: "kind: comission",
        ..Example::PLAIN
    },
    good: Example {
        piece: "kind: commission",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const UNREADABLE_NOTE: Check = Check {
    kind: kinds::UNREADABLE_NOTE,
    doc: "A heading in notes.md begins like a day's entry but can not be read as one: day, hours and \
          height woven so far. Its figures would be missing from the hours and the chart.",
    bad: Example {
        notes: "## 2026-03-04 · 5.5 · 42 cm\n",
        ..Example::PLAIN
    },
    good: Example {
        notes: "## 2026-03-04 · 5.5 h · 42 cm\n",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};
