//! What the engine is told beside queries: transactions, the write-ahead log, copies of the whole, checks of its pages.

use std::path::Path;

use jiff::Timestamp;

use super::connecting::RECORDS;
use super::{Connection, Executor};
use crate::store::error::StoreError;
use crate::store::text::parsed;

/// A write-ahead log longer than this is folded back into the database.
const LONG_WAL: u64 = 32 << 20;

/// Begins a transaction that will write: it waits here for its turn, not at its first change.
pub(in crate::store) async fn begin(connection: &mut Connection) -> Result<(), StoreError> {
    sqlx::query("BEGIN IMMEDIATE").execute(connection).await?;
    Ok(())
}

/// What the engine's clock says.
pub(in crate::store) async fn moment(on: impl Executor<'_>) -> Result<Timestamp, StoreError> {
    let said: String = sqlx::query_scalar("SELECT strftime('%Y-%m-%dT%H:%M:%fZ', 'now')").fetch_one(on).await?;
    parsed("log", "at", &said)
}

/// Ends a transaction: what was written in it is kept.
pub(in crate::store) async fn end(connection: &mut Connection) -> Result<(), StoreError> {
    sqlx::query("COMMIT").execute(connection).await?;
    Ok(())
}

/// An input or output error at commit: the kernel may have dropped the pages, so trying again could say yes to lost data.
pub(in crate::store) fn disk_failed(error: &sqlx::Error) -> bool {
    // SQLITE_IOERR is 10; what stands above the low byte says which (sqlite.org/rescode.html)
    let code = error.as_database_error().and_then(sqlx::error::DatabaseError::code);
    code.and_then(|code| code.parse::<u32>().ok()).is_some_and(|code| code & 0xff == 10)
}

/// Folds the write-ahead log into the database, and leaves none.
pub(in crate::store) async fn fold_in(connection: &mut Connection) -> Result<(), StoreError> {
    sqlx::query("PRAGMA wal_checkpoint(TRUNCATE)").execute(connection).await?;
    Ok(())
}

/// Folds a write-ahead log in that has grown long.
pub(in crate::store) async fn fold_in_when_long(connection: &mut Connection, folder: &Path) -> Result<(), StoreError> {
    let log = folder.join(format!("{RECORDS}-wal"));
    if std::fs::metadata(log).is_ok_and(|file| file.len() > LONG_WAL) {
        sqlx::query("PRAGMA wal_checkpoint(RESTART)").execute(connection).await?;
    }
    Ok(())
}

/// The whole database as it is at this moment, in one new file. It is consistent, and not synced (by what
/// `sqlite.org/lang_vacuum.html` says): whoever keeps it syncs it.
pub(in crate::store) async fn snapshot(connection: &mut Connection, into: &Path) -> Result<(), StoreError> {
    let into = into.to_str().ok_or_else(|| StoreError::Folder("The folder's name is no text".to_owned()))?;
    sqlx::query("VACUUM INTO $1").bind(into).execute(connection).await?;
    Ok(())
}

/// What is wrong with the pages of the database, in the engine's own words; the first twenty faults.
pub(in crate::store) async fn page_faults(on: impl Executor<'_>) -> Result<Vec<String>, StoreError> {
    let said: Vec<String> = sqlx::query_scalar("PRAGMA integrity_check(20)").fetch_all(on).await?;
    Ok(said.into_iter().filter(|said| said != "ok").collect())
}
