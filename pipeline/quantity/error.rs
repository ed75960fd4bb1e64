//! What can be wrong with a quantity, in words a weaver can act on. The place (file, line, column)
//! is added by whoever read the text.

/// Why a text is not the quantity that was due.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct QuantityError {
    /// Which mistake it is; the finding takes its name from it.
    pub kind: ErrorKind,
    /// What is wrong, naming what was written.
    pub message: String,
    /// What to write instead.
    pub remedy: String,
}

/// The families of mistakes, each with a finding of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ErrorKind {
    /// A number without the unit it needs.
    NoUnit,
    /// A unit of another kind, such as grams where a length is due.
    WrongUnit,
    /// A unit that is not known at all.
    UnknownUnit,
    /// A yarn count that can be read in several ways.
    AmbiguousCount,
    /// Not readable as the quantity.
    Unreadable,
    /// Readable, but not possible (negative, zero, absurd).
    Impossible,
}

impl QuantityError {
    pub(crate) fn new(
        kind: ErrorKind,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        QuantityError {
            kind,
            message: message.into(),
            remedy: remedy.into(),
        }
    }
}
