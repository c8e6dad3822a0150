//! The database engine: everything of the store that is SQLite's own stands here, and nothing else names it.

mod folder;
mod connecting;
mod schema;
mod upkeep;
mod json;
mod rows;
mod touched;

/// One connection to the records.
pub(super) use sqlx::SqliteConnection as Connection;
/// Whatever a query can run on.
pub(super) use sqlx::SqliteExecutor as Executor;
/// The connections that only read.
pub(super) use sqlx::SqlitePool as Readers;

pub use connecting::version_is_safe;
pub(super) use connecting::{RECORDS, backed_up, in_memory, read_only, readers, settings_of, version, writer};
pub(super) use folder::{FOLDERS, Held, keep_private, sync_folder, take_folder};
pub(super) use json::OF_SHOT;
pub(super) use rows::{add_any, any_rows, columns};
pub use schema::BroughtUp;
pub use schema::form;
pub(super) use schema::{begun, bring_up, in_our_form, is_behind, known_form, to_form};
pub use touched::UNCOVERED;
pub(super) use touched::{Touched, covered, note_touched, rows_of, take_touched};
pub(super) use upkeep::{begin, disk_failed, end, fold_in, fold_in_when_long, moment, no_room, page_faults, snapshot};
