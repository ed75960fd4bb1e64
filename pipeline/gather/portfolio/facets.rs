//! The filters of the portfolio: by kind, series, technique, size, place and colour.

use super::pages::{Site, place_of};
use super::work::Work;
use crate::picture::Family;
use crate::record::Kind;
use std::collections::BTreeMap;

/// The values of one filter, and which of them each work has.
pub(super) struct Facet {
    pub id: &'static str,
    pub name: String,
    /// What is shown, in the order of the list.
    pub values: Vec<String>,
    /// What stands in the address where it is not the value itself.
    pub keys: Option<Vec<String>>,
    /// For each work the values it has.
    pub of: Vec<Vec<usize>>,
}

/// The filters.
pub(super) fn facets(site: &Site) -> Vec<Facet> {
    let w = &site.words;
    let fixed = |id,
                 name: &str,
                 all: Vec<(&str, &BTreeMap<String, String>)>,
                 of: &dyn Fn(&Work) -> Vec<&'static str>| {
        // Only what some work has, in the fixed order.
        let has: Vec<Vec<&str>> = site.works.iter().map(of).collect();
        let used: Vec<(&str, &BTreeMap<String, String>)> = all
            .into_iter()
            .filter(|(key, _)| has.iter().any(|h| h.contains(key)))
            .collect();
        Facet {
            id,
            name: name.to_string(),
            values: used
                .iter()
                .map(|(k, words)| words.get(*k).cloned().unwrap_or_default())
                .collect(),
            keys: Some(used.iter().map(|(k, _)| k.to_string()).collect()),
            of: has
                .iter()
                .map(|h| {
                    h.iter()
                        .filter_map(|k| used.iter().position(|(u, _)| u == k))
                        .collect()
                })
                .collect(),
        }
    };
    let free = |id, name: &str, of: &dyn Fn(&Work) -> Option<String>| {
        let has: Vec<Option<String>> = site
            .works
            .iter()
            .map(|w| of(w).filter(|v| !v.is_empty()))
            .collect();
        let mut values: Vec<String> = has.iter().flatten().cloned().collect();
        values.sort();
        values.dedup();
        Facet {
            id,
            name: name.to_string(),
            of: has
                .iter()
                .map(|h| {
                    h.iter()
                        .filter_map(|v| values.binary_search(v).ok())
                        .collect()
                })
                .collect(),
            values,
            keys: None,
        }
    };
    let kinds = Kind::ALL.iter().map(|(k, _)| (*k, &w.kinds)).collect();
    let sizes = ["small", "middle", "large"].map(|k| (k, &w.sizes)).to_vec();
    let colours = Family::ALL.iter().map(|(k, _)| (*k, &w.colours)).collect();
    vec![
        fixed("kind", &w.kind, kinds, &|work| {
            work.piece.kind.iter().map(|k| k.value.word()).collect()
        }),
        free("series", &w.series, &|work| {
            work.piece
                .series
                .as_ref()
                .map(|s| s.name.trim().to_string())
        }),
        free("technique", &w.technique, &|work| work.technique_group()),
        fixed("size", &w.size, sizes, &|work| vec![work.size_group()]),
        free("place", &w.place, &|work| Some(place_of(site, work))),
        fixed("colour", &w.colour, colours, &|work| {
            work.colours.iter().map(|f| f.word()).collect()
        }),
    ]
}
