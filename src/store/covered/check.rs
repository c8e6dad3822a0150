//! Whether the rows there are are those that the log tells of.

use std::collections::{BTreeMap, HashMap};

use sqlx::FromRow;

use super::{Line, Mark, digest, mark};
use crate::store::engine::{self, Connection};
use crate::store::error::StoreError;
use crate::store::handle::Store;

/// A row, or a list of rows, that is not as the log says.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum RowFault {
    /// The list of what an entry covers is not the one that it was written with.
    List {
        /// The entry.
        entry: i64,
    },
    /// A row is not there any more as the log wrote it last: altered, or taken away.
    Gone {
        /// Its table.
        table: String,
        /// The entry that wrote it last.
        entry: i64,
    },
    /// A row stands there that no entry wrote so: put in, or altered.
    Unknown {
        /// Its table.
        table: String,
    },
}

/// What comparing the rows with the log found.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct RowsCheck {
    /// How many rows were read.
    pub rows: usize,
    /// What is not as the log says.
    pub faults: Vec<RowFault>,
}

#[derive(Debug, FromRow)]
struct LineRow {
    entry: i64,
    name: String,
    before: Option<Vec<u8>>,
    after: Option<Vec<u8>>,
}

/// What the log says is there: for each row the entries that wrote it, as often as it stands there.
#[derive(Debug, Default)]
struct Told {
    rows: HashMap<String, HashMap<Mark, Vec<i64>>>,
    faults: Vec<RowFault>,
}

impl Told {
    fn apply(&mut self, entry: i64, line: Line) {
        if line == Line::anew() {
            self.rows.clear();
            return;
        }
        let rows = self.rows.entry(line.name).or_default();
        if let Some(before) = line.before
            && rows.get_mut(&before).and_then(Vec::pop).is_none()
        {
            self.faults.push(RowFault::List { entry });
        }
        if let Some(after) = line.after {
            rows.entry(after).or_default().push(entry);
        }
    }
}

fn mark_of(bytes: Option<Vec<u8>>) -> Result<Option<Mark>, StoreError> {
    let whole =
        |bytes: Vec<u8>| bytes.try_into().map_err(|_| StoreError::Damaged { table: "log_rows", column: "after" });
    bytes.map(whole).transpose()
}

/// What the log tells of the rows, entry by entry.
async fn told(on: &mut Connection) -> Result<Told, StoreError> {
    let lines: Vec<LineRow> = sqlx::query_as("SELECT entry, name, before, after FROM log_rows ORDER BY entry, place")
        .fetch_all(&mut *on)
        .await?;
    let mut by_entry: BTreeMap<i64, Vec<Line>> = BTreeMap::new();
    for LineRow { entry, name, before, after } in lines {
        by_entry.entry(entry).or_default().push(Line { name, before: mark_of(before)?, after: mark_of(after)? });
    }
    // what a car's file brought covers rows of the shop it came from
    let said: Vec<(i64, Option<String>)> = sqlx::query_as(
        "SELECT number, CASE WHEN EXISTS (SELECT 1 FROM log_brought WHERE entry = log.number) THEN NULL ELSE rows END
         FROM log ORDER BY number",
    )
    .fetch_all(on)
    .await?;
    let mut told = Told::default();
    for (entry, rows) in said {
        let lines = by_entry.remove(&entry).unwrap_or_default();
        if digest(&lines) != rows {
            told.faults.push(RowFault::List { entry });
        }
        for line in lines {
            told.apply(entry, line);
        }
    }
    told.faults.extend(by_entry.into_keys().map(|entry| RowFault::List { entry }));
    Ok(told)
}

/// Compares all rows of the records, in one state of them, with what the log tells.
pub(super) async fn compare(on: &mut Connection) -> Result<RowsCheck, StoreError> {
    let mut told = told(on).await?;
    let mut rows = 0;
    for table in engine::covered(on).await? {
        let there = told.rows.entry(table.name.clone()).or_default();
        for row in engine::rows_of(on, &table).await? {
            rows += 1;
            if there.get_mut(&mark(&row)).and_then(Vec::pop).is_none() {
                told.faults.push(RowFault::Unknown { table: table.name.clone() });
            }
        }
    }
    for (table, rows) in told.rows {
        let left = rows.into_values().flatten();
        told.faults.extend(left.map(|entry| RowFault::Gone { table: table.clone(), entry }));
    }
    told.faults.sort();
    told.faults.dedup();
    Ok(RowsCheck { rows, faults: told.faults })
}

impl RowFault {
    /// The entry it is about; none where no entry is known.
    pub fn entry(&self) -> Option<i64> {
        match self {
            Self::List { entry } | Self::Gone { entry, .. } => Some(*entry),
            Self::Unknown { .. } => None,
        }
    }
}

impl Store {
    /// Compares every row that the log covers with what the log says of it, as of one moment. All rows are read.
    pub async fn verify_rows(&self) -> Result<RowsCheck, StoreError> {
        compare(&mut *self.readers().begin().await?).await
    }
}
