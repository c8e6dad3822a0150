//! Connections to the records: how each is set, and which version of the engine may be trusted.

use std::fs::File;
use std::path::Path;
use std::time::Duration;

use sqlx::ConnectOptions as _;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};

use super::folder::sync_folder;
use super::{Connection, Readers};
use crate::store::error::StoreError;

/// The file of the records in a shop's folder.
pub(in crate::store) const RECORDS: &str = "tackbook.db";
/// Below this, two writing connections can corrupt the database (sqlite.org/wal.html, "The WAL Reset Bug").
const FLOOR: [u32; 3] = [3, 51, 3];
/// How many connections only read.
const READERS: u32 = 4;

/// How every connection to the database is opened.
fn options(folder: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(folder.join(RECORDS))
        .create_if_missing(true)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .busy_timeout(Duration::from_secs(5))
        .foreign_keys(true)
        .pragma("trusted_schema", "OFF")
        .pragma("cell_size_check", "ON")
        .pragma("journal_size_limit", "33554432")
}

/// The one connection that writes; makes the records where there are none.
pub(in crate::store) async fn writer(folder: &Path) -> Result<Connection, StoreError> {
    name_first(folder)?;
    let mut writer = options(folder).connect().await?;
    let version = version(&mut writer).await?;
    if version_is_safe(&version) {
        return Ok(writer);
    }
    Err(StoreError::Folder(format!(
        "SQLite {version} is too old to be trusted with these records; 3.51.3 or newer is needed."
    )))
}

/// The engine's version.
pub(in crate::store) async fn version(on: &mut Connection) -> Result<String, StoreError> {
    Ok(sqlx::query_scalar("SELECT sqlite_version()").fetch_one(on).await?)
}

/// Makes the file of the records, empty, for nobody else on the machine to read, and its name safe before the engine puts anything beside it: what lies beside records
/// that are not there would be what is left of a shop.
fn name_first(folder: &Path) -> Result<(), StoreError> {
    let records = folder.join(RECORDS);
    if !records.exists() {
        let mut private = File::options();
        // the engine gives what it puts beside it the same rights
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut private, 0o600);
        private.write(true).create_new(true).open(records)?.sync_all()?;
        sync_folder(folder)?;
    }
    Ok(())
}

/// The connections that only read.
pub(in crate::store) async fn readers(folder: &Path) -> Result<Readers, StoreError> {
    let options = options(folder).create_if_missing(false).read_only(true);
    Ok(SqlitePoolOptions::new().max_connections(READERS).connect_with(options).await?)
}

/// A connection that reads the records of a shop that may be open elsewhere.
pub(in crate::store) async fn read_only(folder: &Path) -> Result<Connection, StoreError> {
    Ok(options(folder).create_if_missing(false).read_only(true).connect().await?)
}

/// A connection to the records of a backup, which nobody writes to any more.
pub(in crate::store) async fn backed_up(records: &Path) -> Result<Connection, StoreError> {
    Ok(SqliteConnectOptions::new().filename(records).read_only(true).immutable(true).connect().await?)
}

/// Records that lie nowhere and are gone with their connection: to try out what may not get near a shop's.
pub(in crate::store) async fn in_memory() -> Result<Connection, StoreError> {
    let options = SqliteConnectOptions::new().in_memory(true).foreign_keys(true).pragma("trusted_schema", "OFF");
    Ok(options.connect().await?)
}

/// Whether an SQLite of this version is safe to use.
pub fn version_is_safe(version: &str) -> bool {
    let parts: Vec<u32> = version.split('.').map_while(|part| part.parse().ok()).collect();
    parts.len() == FLOOR.len() && parts.as_slice() >= FLOOR.as_slice()
}

const PRAGMAS: [&str; 6] =
    ["journal_mode", "synchronous", "foreign_keys", "busy_timeout", "trusted_schema", "cell_size_check"];

/// What a connection is set to, setting by setting.
pub(in crate::store) async fn settings_of(
    connection: &mut Connection,
) -> Result<Vec<(&'static str, String)>, StoreError> {
    let mut found = Vec::with_capacity(PRAGMAS.len());
    for pragma in PRAGMAS {
        let words = format!("SELECT CAST({pragma} AS TEXT) FROM pragma_{pragma}");
        let column = if pragma == "busy_timeout" { words.replace("(busy_timeout", "(timeout") } else { words };
        let value = sqlx::query_scalar(sqlx::AssertSqlSafe(column)).fetch_one(&mut *connection).await?;
        found.push((pragma, value));
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::version_is_safe;

    #[test]
    fn versions_with_the_wal_reset_race_are_refused() {
        for (version, safe) in [
            ("3.51.2", false),
            ("3.51.3", true),
            ("3.52.0", true),
            ("4.0.0", true),
            ("3.7.0", false),
            ("3.51", false),
            ("", false),
        ] {
            assert_eq!(version_is_safe(version), safe, "{version}");
        }
    }
}
