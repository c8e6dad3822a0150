//! How the shop runs: what whoever keeps it going has to know, without anything of its builds.

use crate::actions::error::ActionError;
use crate::store::backup::Last;
use crate::store::checked::LastCheck;
use crate::store::recorded::build_log::LogEntry;
use crate::store::vault::Room;
use crate::store::{Store, form};

/// How a shop runs.
#[derive(Debug, Clone, PartialEq)]
pub struct Running {
    /// The program's version.
    pub program: &'static str,
    /// The form that the records are in.
    pub form: i64,
    /// The version of SQLite that keeps them.
    pub engine: String,
    /// How much room the disk has; none where the system does not say.
    pub room: Option<Room>,
    /// The last backup; none before the first.
    pub backup: Option<Last>,
    /// The last check; none before the first.
    pub check: Option<LastCheck>,
    /// The log's last entry; none before the first.
    pub last_entry: Option<LogEntry>,
}

/// How this shop runs now.
pub async fn running(store: &Store) -> Result<Running, ActionError> {
    Ok(Running {
        program: env!("CARGO_PKG_VERSION"),
        form: form(),
        engine: store.engine_version().await?,
        room: store.room().await?,
        backup: store.last_backup().await?,
        check: store.last_check().await?,
        last_entry: store.last_entry().await?,
    })
}
