//! Where in the weaver's files a value stands, so that every finding can point at it.

use std::sync::Arc;

/// A stretch of one line in a file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The file, relative to the archive, with `/` between folders.
    pub file: Arc<str>,
    /// Line, from 1; 0 where the whole file is meant.
    pub line: u32,
    /// Column in characters, from 1; 0 where the whole file is meant.
    pub column: u32,
    /// Length in characters on that line.
    pub length: u32,
}

impl Place {
    /// The file as a whole.
    pub fn file(file: &Arc<str>) -> Place {
        Place {
            file: file.clone(),
            line: 0,
            column: 0,
            length: 0,
        }
    }
}

/// A value and its place.
#[derive(Debug, Clone, PartialEq)]
pub struct At<T> {
    /// The value.
    pub value: T,
    /// Where it is written.
    pub place: Place,
}

impl<T> At<T> {
    /// The same place with another value.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> At<U> {
        At {
            value: f(self.value),
            place: self.place,
        }
    }
}

impl<T> std::ops::Deref for At<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}
