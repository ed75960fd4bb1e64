//! The ledger of works: a row for each piece, for spreadsheets and for machines. It holds owners and sums and is the
//! studio's own.

mod columns;
mod entry;

pub use columns::{COLUMNS, Column};
pub use entry::Entry;

use super::spreadsheet::{sheet, tamed};
use crate::bundle::{BundleName, Edition};
use crate::disk::{self, DiskError};
use crate::quantity::{Currency, Money};
use crate::read::{Archive, Exhibitions};
use crate::record::Studio;
use rayon::prelude::*;
use rust_decimal::Decimal;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;

/// The newest revision of each piece's bundles: the studio's, and the owner's.
pub(super) type Shelf = BTreeMap<String, (Option<u32>, Option<u32>)>;

/// The ledger.
#[derive(Debug)]
pub struct Ledger {
    /// A row for each piece that could be read, in the order of the folders.
    pub rows: Vec<Entry>,
    /// Folders that could not be read.
    pub unread: Vec<String>,
    /// Sums insured, added up in each currency.
    pub insured: Vec<Money>,
    /// Pieces without a sum insured.
    pub uninsured: usize,
}

impl Ledger {
    /// Gathers it from the archive, its exhibitions and what lies in the output folder.
    ///
    /// # Errors
    /// Where the output folder can not be listed.
    pub fn of(
        archive: &Archive,
        exhibitions: &Exhibitions,
        studio: &Studio,
        out: &Path,
    ) -> Result<Ledger, DiskError> {
        let shelf = shelf(out)?;
        let rows: Vec<Entry> = archive
            .pieces
            .par_iter()
            .filter_map(|folder| folder.piece.as_ref())
            .map(|piece| Entry::of(studio, piece, exhibitions, out, &shelf))
            .collect();
        let unread = archive.pieces.iter().filter(|f| f.piece.is_none());
        Ok(Ledger {
            insured: summed(&rows),
            uninsured: rows.iter().filter(|r| r.insured.is_none()).count(),
            unread: unread.map(|f| f.slug.clone()).collect(),
            rows,
        })
    }

    /// The table.
    ///
    /// # Errors
    /// None but those of writing to memory.
    pub fn to_csv(&self) -> Result<Vec<u8>, csv::Error> {
        let mut out = sheet();
        out.write_record(COLUMNS.iter().map(|c| c.name))?;
        for row in &self.rows {
            out.write_record(COLUMNS.iter().map(|c| tamed(&(c.cell)(row))))?;
        }
        out.into_inner().map_err(|e| e.into_error().into())
    }

    /// Everything for machines: the same columns, and the chain of owners.
    pub fn to_json(&self) -> Value {
        let rows: Vec<Value> = self.rows.iter().map(Entry::to_json).collect();
        let insured: Vec<String> = self.insured.iter().map(Money::to_string).collect();
        json!({
            "works": rows, "unread": self.unread,
            "insured_together": insured, "without_sum_insured": self.uninsured,
        })
    }
}

/// Writes works.csv and works.json into the output folder.
///
/// # Errors
/// Where the machine fails.
pub fn write(ledger: &Ledger, out: &Path) -> Result<[std::path::PathBuf; 2], LedgerError> {
    disk::make_folder(out)?;
    let (table, document) = (out.join("works.csv"), out.join("works.json"));
    let mut text = serde_json::to_vec_pretty(&ledger.to_json()).unwrap_or_default();
    text.push(b'\n');
    disk::write_whole(&table, &ledger.to_csv()?)?;
    disk::write_whole(&document, &text)?;
    Ok([table, document])
}

/// Why there is no ledger.
#[derive(Debug, thiserror::Error)]
pub enum LedgerError {
    /// The machine.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// The table could not be written.
    #[error("the table could not be written: {0}")]
    Table(#[from] csv::Error),
}

fn shelf(out: &Path) -> Result<Shelf, DiskError> {
    let listing = match disk::list_folder(&out.join("bundles")) {
        Ok(listing) => listing,
        Err(error) if error.is_missing() => return Ok(Shelf::new()),
        Err(error) => return Err(error),
    };
    let mut shelf = Shelf::new();
    for name in listing
        .files
        .iter()
        .filter_map(|f| BundleName::from_file_name(&f.relative))
    {
        let (studio, owner) = shelf.entry(name.slug().to_string()).or_default();
        let edition = match name.edition() {
            Edition::Studio => studio,
            Edition::Owner => owner,
        };
        *edition = (*edition).max(Some(name.revision()));
    }
    Ok(shelf)
}

/// Sums by currency, in the order of its letters.
fn summed(rows: &[Entry]) -> Vec<Money> {
    let mut sums: BTreeMap<Currency, Decimal> = BTreeMap::new();
    for money in rows.iter().filter_map(|r| r.insured.as_ref()) {
        let sum = sums.entry(money.currency).or_default();
        *sum = sum.saturating_add(money.amount);
    }
    sums.into_iter()
        .map(|(currency, amount)| Money::rounded(amount, currency))
        .collect()
}
