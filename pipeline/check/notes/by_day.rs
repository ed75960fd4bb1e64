//! The hours of each day, all its entries together.

use crate::quantity::Day;
use crate::record::{Note, Notes, Place};
use std::collections::BTreeMap;

/// One day at the loom.
pub(in crate::check) struct WorkDay<'a> {
    /// Hours of all entries together.
    pub hours: f64,
    /// Entries that give hours.
    pub entries: Vec<&'a Note>,
}

impl WorkDay<'_> {
    /// Where the hours of its last entry stand.
    pub fn place(&self) -> Option<&Place> {
        let last = self.entries.last()?;
        last.hours.as_ref().map(|h| &h.place)
    }

    /// Where those of the first stand, if that is another entry.
    pub fn first(&self) -> Option<&Place> {
        let first = self.entries.first().filter(|_| self.entries.len() > 1)?;
        first.hours.as_ref().map(|h| &h.place)
    }

    /// What the entries say, for a sentence.
    pub fn written(&self) -> String {
        let texts: Vec<String> = self
            .entries
            .iter()
            .filter_map(|e| e.hours.as_ref())
            .map(|h| format!("`{}`", h.value.text))
            .collect();
        texts.join(" + ")
    }
}

/// Every day with hours.
pub(in crate::check) fn work_days(notes: &Notes) -> BTreeMap<Day, WorkDay<'_>> {
    let mut days: BTreeMap<Day, WorkDay> = BTreeMap::new();
    for entry in &notes.entries {
        if let Some(hours) = &entry.hours {
            let day = days.entry(entry.day.value).or_insert(WorkDay {
                hours: 0.0,
                entries: Vec::new(),
            });
            day.hours += hours.value.value.hours();
            day.entries.push(entry);
        }
    }
    days
}
