//! The kinds of finding that reading raises. Their documentation and examples stand in `check/`
//! beside those of the rules; the names are fixed for machines.

use crate::quantity::ErrorKind;
use crate::record::FindingKind;

/// A file that can not be read, or is too large to be what it should be.
pub const UNREADABLE_FILE: FindingKind = FindingKind::error("unreadable-file");
/// YAML that does not parse.
pub const NOT_YAML: FindingKind = FindingKind::error("not-yaml");
/// A tab where YAML wants blanks.
pub const TAB_INDENT: FindingKind = FindingKind::error("tab-indent");
/// The same field twice.
pub const DUPLICATE_FIELD: FindingKind = FindingKind::error("duplicate-field");
/// Aliases that unfold without end, or nesting without end.
pub const UNFOLDS_TOO_FAR: FindingKind = FindingKind::error("unfolds-too-far");
/// Text without quotes that a ` #` has cut short.
pub const REMARK_IN_TEXT: FindingKind = FindingKind::warning("remark-in-text");
/// A field that is not known.
pub const UNKNOWN_FIELD: FindingKind = FindingKind::error("unknown-field");
/// A field that is needed and not there.
pub const MISSING_FIELD: FindingKind = FindingKind::error("missing-field");
/// A list where one value is due, and the like.
pub const WRONG_SHAPE: FindingKind = FindingKind::error("wrong-shape");
/// A number without its unit.
pub const NO_UNIT: FindingKind = FindingKind::error("no-unit");
/// A unit of another kind.
pub const WRONG_UNIT: FindingKind = FindingKind::error("wrong-unit");
/// A unit nobody knows.
pub const UNKNOWN_UNIT: FindingKind = FindingKind::error("unknown-unit");
/// A yarn count that can be read in several ways.
pub const AMBIGUOUS_COUNT: FindingKind = FindingKind::error("ambiguous-count");
/// A value that can not be read.
pub const UNREADABLE_VALUE: FindingKind = FindingKind::error("unreadable-value");
/// A value that can not be.
pub const IMPOSSIBLE_VALUE: FindingKind = FindingKind::error("impossible-value");
/// A word that is not among those known for the field.
pub const UNKNOWN_WORD: FindingKind = FindingKind::error("unknown-word");
/// Two fields that answer the same question.
pub const TWO_ANSWERS: FindingKind = FindingKind::warning("two-answers");
/// A heading in the notes that can not be read.
pub const UNREADABLE_NOTE: FindingKind = FindingKind::warning("unreadable-note");
/// A link or path that leads out of its folder.
pub const LEAVES_FOLDER: FindingKind = FindingKind::error("leaves-folder");
/// A file that can not be archived as it is.
pub const NOT_ARCHIVED: FindingKind = FindingKind::warning("not-archived");
/// No pieces to be found.
pub const NO_PIECES: FindingKind = FindingKind::error("no-pieces");
/// A folder name that makes trouble.
pub const AWKWARD_FOLDER: FindingKind = FindingKind::error("awkward-folder");

/// The kind for a mistake in a quantity.
pub(crate) fn of_quantity(kind: ErrorKind) -> FindingKind {
    match kind {
        ErrorKind::NoUnit => NO_UNIT,
        ErrorKind::WrongUnit => WRONG_UNIT,
        ErrorKind::UnknownUnit => UNKNOWN_UNIT,
        ErrorKind::AmbiguousCount => AMBIGUOUS_COUNT,
        ErrorKind::Unreadable => UNREADABLE_VALUE,
        ErrorKind::Impossible => IMPOSSIBLE_VALUE,
    }
}
