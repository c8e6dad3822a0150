//! What can go wrong with a shop's rows and files.

use std::io;

use super::engine::no_room;

/// The store's trouble, in terms of what was kept and what was not.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// There is no such thing here.
    #[error("there is no such {0} here")]
    NotFound(&'static str),
    /// Somebody else saved first; the version that stands now.
    #[error("somebody else saved first; version {now} stands")]
    Stale {
        /// The version that stands now.
        now: i64,
    },
    /// Something with this name is already there.
    #[error("there is already one with this {0}")]
    Taken(&'static str),
    /// The change would be kept; it was only rehearsed, and nothing of it was.
    #[error("the change was only rehearsed")]
    Rehearsed,
    /// The change was not kept.
    #[error("the change was not kept: {0}")]
    NotKept(String),
    /// Nothing is written any more until a restart: the records are closed, or the writer's lane ended.
    #[error("nothing is written any more")]
    Ended,
    /// The disk is too full to take more.
    #[error("the disk is too full: {free} bytes are free, {reserve} are kept back")]
    Full {
        /// Bytes free.
        free: u64,
        /// Bytes kept back for writing and for leaving in good order.
        reserve: u64,
    },
    /// The disk had no room left for the records themselves.
    #[error("the change was not kept: the disk has no room left for the records")]
    NoRoom,
    /// A row holds what cannot be read.
    #[error("table {table}, column {column} holds what cannot be read")]
    Damaged {
        /// The table.
        table: &'static str,
        /// The column.
        column: &'static str,
    },
    /// The folder cannot be used, and what to do.
    #[error("{0}")]
    Folder(String),
    /// Another program works in the folder, and what to do.
    #[error("{0}")]
    InUse(String),
    /// The database says no.
    #[error("the database says no")]
    Database(#[from] sqlx::Error),
    /// A newer program made the records.
    #[error(
        "a newer Tackbook made these records: their form is number {theirs}, this program knows up to number {ours}. \
         Nothing was changed. Start the newer program, or restore a backup from before it into an empty folder"
    )]
    Newer {
        /// The form of the records.
        theirs: i64,
        /// The newest that this program knows.
        ours: i64,
    },
    /// The records were made by steps that are not this program's.
    #[error(
        "step {step} of the records' form is not the one that this program knows. Nothing was changed. Start the program \
         that made them, or restore a backup into an empty folder"
    )]
    OtherForm {
        /// The first step that differs.
        step: i64,
    },
    /// The records could not be brought into this program's form.
    #[error("the records could not be brought into this program's form")]
    Migrations(#[from] sqlx::migrate::MigrateError),
    /// The disk says no.
    #[error("the disk says no")]
    Disk(#[from] io::Error),
}

impl StoreError {
    /// Whether it was for want of room on the disk that something was not kept.
    pub fn is_no_room(&self) -> bool {
        match self {
            Self::Full { .. } | Self::NoRoom => true,
            Self::Database(error) => no_room(error),
            Self::Disk(error) => matches!(error.kind(), io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded),
            _ => false,
        }
    }

    /// `Taken` where a unique constraint was hit, itself otherwise.
    pub(super) fn taken(error: sqlx::Error, what: &'static str) -> Self {
        match error.as_database_error() {
            Some(said) if said.is_unique_violation() => Self::Taken(what),
            _ => Self::Database(error),
        }
    }
}
