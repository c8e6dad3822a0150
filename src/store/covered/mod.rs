//! The rows that the log covers: each entry says by SHA-256 which rows it put in, changed and took away, so that the rows
//! there are follow from the log, and a row that was altered beside the program is told.

mod check;
mod taken;

use std::fmt::Write as _;

use sha2::{Digest as _, Sha256};

use super::engine::{self, Connection, Touched};
use super::error::StoreError;
use crate::domain::words::fingerprint::hex;

pub use super::engine::UNCOVERED;
pub use check::{RowFault, RowsCheck};
pub(super) use taken::{agree, take_as_they_stand};

/// SHA-256 of a row.
type Mark = [u8; 32];

/// What an entry says of one row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Line {
    /// The row's table; empty where what follows is all there is, whatever stood before.
    name: String,
    before: Option<Mark>,
    after: Option<Mark>,
}

impl Line {
    /// From here on, what follows is all there is.
    const fn anew() -> Self {
        Self { name: String::new(), before: None, after: None }
    }

    fn of(touched: Touched) -> Self {
        let Touched { name, before, after, .. } = touched;
        Self { name, before: before.as_deref().map(mark), after: after.as_deref().map(mark) }
    }
}

fn mark(row: &[u8]) -> Mark {
    Sha256::digest(row).into()
}

/// SHA-256 of an entry's lines, in hexadecimal: for each the table, the mark before and the mark after in hexadecimal, `-`
/// where there is none, with a space between and a line's end behind. None where there are no lines.
pub(super) fn digest(lines: &[Line]) -> Option<String> {
    if lines.is_empty() {
        return None;
    }
    let shown = |mark: &Option<Mark>| mark.as_ref().map_or_else(|| "-".to_owned(), |mark| hex(mark));
    let mut text = String::new();
    for line in lines {
        // writing into a text does not fail
        let _ = writeln!(text, "{} {} {}", line.name, shown(&line.before), shown(&line.after));
    }
    Some(hex(&Sha256::digest(text)))
}

/// What the entry that is about to be written covers: what was touched since the one before.
pub(super) async fn touched(on: &mut Connection) -> Result<Vec<Line>, StoreError> {
    Ok(engine::take_touched(on).await?.into_iter().map(Line::of).collect())
}

/// Keeps what an entry covers.
pub(super) async fn keep(on: &mut Connection, entry: i64, lines: &[Line]) -> Result<(), StoreError> {
    for (place, line) in (1_i64..).zip(lines) {
        sqlx::query("INSERT INTO log_rows (entry, place, name, before, after) VALUES ($1, $2, $3, $4, $5)")
            .bind(entry)
            .bind(place)
            .bind(&line.name)
            .bind(line.before.as_ref().map(<[u8; 32]>::as_slice))
            .bind(line.after.as_ref().map(<[u8; 32]>::as_slice))
            .execute(&mut *on)
            .await?;
    }
    Ok(())
}

/// Refuses a change of rows that no entry of the log tells of.
pub(super) async fn nothing_untold(on: &mut Connection) -> Result<(), StoreError> {
    match engine::take_touched(on).await?.first() {
        None => Ok(()),
        Some(row) => Err(StoreError::NotKept(format!("a change of {} would stand in no entry of the log", row.name))),
    }
}
