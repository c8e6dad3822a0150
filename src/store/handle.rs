//! A handle on one shop: opening it, changing it, closing it.

use std::fs::File;
use std::path::Path;
use std::sync::Arc;

use sqlx::sqlite::{SqlitePool, SqlitePoolOptions};
use sqlx::{ConnectOptions as _, SqliteConnection};

use super::engine;
use super::error::StoreError;
use super::lane::{Lane, Work, Write};
use super::vault::Vault;

/// One shop's rows and files. Cheap to clone.
#[derive(Debug, Clone)]
pub struct Store {
    inner: Arc<Inner>,
}

#[derive(Debug)]
struct Inner {
    lane: Lane,
    readers: SqlitePool,
    vault: Vault,
    lock: File,
}

impl Store {
    /// Opens the shop in a folder, making it where there is none. One program at a time holds a folder.
    pub async fn open(folder: &Path) -> Result<Self, StoreError> {
        let lock = engine::take_folder(folder)?;
        let options = engine::options(folder);
        let mut writer = options.connect().await?;
        check_version(&mut writer).await?;
        sqlx::migrate!("./migrations").run(&mut writer).await?;
        engine::sync_folder(folder)?;
        let readers = SqlitePoolOptions::new()
            .max_connections(4)
            .connect_with(options.create_if_missing(false).read_only(true))
            .await?;
        let inner = Inner { lane: Lane::start(writer, folder), readers, vault: Vault::of(folder), lock };
        Ok(Self { inner: Arc::new(inner) })
    }

    /// The only way to write: the work runs in the writer's lane with its log entry, or neither is kept.
    /// Answers once it is on the disk.
    pub async fn change<T, E, F>(&self, work: F) -> Result<T, E>
    where
        T: Send + 'static,
        E: From<StoreError> + Send + 'static,
        F: for<'w> FnOnce(&'w mut Write) -> Work<'w, T, E> + Send + 'static,
    {
        self.inner.lane.change(work).await
    }

    /// The shop's files.
    pub fn vault(&self) -> &Vault {
        &self.inner.vault
    }

    /// Ends in good order: what waits is done, the write-ahead log folded in, the folder free for another.
    pub async fn close(&self) {
        self.inner.lane.stop().await;
        self.inner.readers.close().await;
        if let Err(error) = self.inner.lock.unlock() {
            tracing::warn!(%error, "the folder's lock could not be given back; it goes with the program");
        }
    }

    /// What a connection of each kind is set to: `(pragma, writing, reading)`, for the health page and the test.
    pub async fn settings(&self) -> Result<Vec<(&'static str, String, String)>, StoreError> {
        let writing = self
            .change::<_, StoreError, _>(|write| {
                Box::pin(async move { Ok((settings_of(&mut write.connection).await?, None)) })
            })
            .await?;
        let mut reader = self.readers().acquire().await?;
        let reading = settings_of(&mut reader).await?;
        Ok(PRAGMAS.into_iter().zip(writing).zip(reading).map(|((name, w), r)| (name, w, r)).collect())
    }

    pub(super) fn readers(&self) -> &SqlitePool {
        &self.inner.readers
    }
}

const PRAGMAS: [&str; 6] =
    ["journal_mode", "synchronous", "foreign_keys", "busy_timeout", "trusted_schema", "cell_size_check"];

async fn settings_of(connection: &mut SqliteConnection) -> Result<Vec<String>, StoreError> {
    let mut found = Vec::with_capacity(PRAGMAS.len());
    for pragma in PRAGMAS {
        let words = format!("SELECT CAST({pragma} AS TEXT) FROM pragma_{pragma}");
        let column = if pragma == "busy_timeout" { words.replace("(busy_timeout", "(timeout") } else { words };
        found.push(sqlx::query_scalar(sqlx::AssertSqlSafe(column)).fetch_one(&mut *connection).await?);
    }
    Ok(found)
}

async fn check_version(connection: &mut SqliteConnection) -> Result<(), StoreError> {
    let version: String = sqlx::query_scalar("SELECT sqlite_version()").fetch_one(connection).await?;
    if engine::version_is_safe(&version) {
        return Ok(());
    }
    Err(StoreError::Folder(format!(
        "SQLite {version} is too old to be trusted with these records; 3.51.3 or newer is needed."
    )))
}
