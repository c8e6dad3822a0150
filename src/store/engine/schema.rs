//! The form of the records: which steps made it, bringing an older one up with a copy before, and refusing a newer one.

use std::path::{Path, PathBuf};

use sqlx::migrate::Migrator;

use super::Connection;
use super::connecting::RECORDS;
use super::folder::sync_folder;
use super::upkeep::snapshot;
use crate::store::error::StoreError;
use crate::store::vault::{blocking, disk};

/// The steps from nothing to the form that this program reads and writes.
static STEPS: Migrator = sqlx::migrate!("./migrations");

/// Records that were made by an earlier program and are now in this one's form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BroughtUp {
    /// The form they were in: the number of its last step.
    pub from: i64,
    /// The form they are in.
    pub to: i64,
    /// A copy of them as they were, beside them.
    pub copy: PathBuf,
}

/// The newest form that this program knows, which all records that it opened are in.
pub fn form() -> i64 {
    STEPS.iter().map(|step| step.version).max().unwrap_or_default()
}

/// Makes records, empty ones or those of an earlier form, into those of a form.
pub(in crate::store) async fn to_form(records: &mut Connection, form: i64) -> Result<(), StoreError> {
    if !STEPS.iter().any(|step| step.version == form) {
        return Err(StoreError::OtherForm { step: form });
    }
    Ok(STEPS.run_to(form, records).await?)
}

/// The steps that records were made by; none of records that were never written to.
async fn steps_of(records: &mut Connection) -> Result<Vec<(i64, Vec<u8>)>, StoreError> {
    let begun: i64 = sqlx::query_scalar("SELECT COUNT(*) FROM sqlite_schema WHERE name = '_sqlx_migrations'")
        .fetch_one(&mut *records)
        .await?;
    if begun == 0 {
        return Ok(Vec::new());
    }
    Ok(sqlx::query_as("SELECT version, checksum FROM _sqlx_migrations ORDER BY version").fetch_all(records).await?)
}

/// Whether records were ever written to.
pub(in crate::store) async fn begun(records: &mut Connection) -> Result<bool, StoreError> {
    Ok(!steps_of(records).await?.is_empty())
}

/// Refuses records in a form that this program does not know; nothing is written. Says whether a step is still to be made.
fn check(made: &[(i64, Vec<u8>)]) -> Result<bool, StoreError> {
    let theirs = made.last().map_or(0, |(step, _)| *step);
    for (step, checksum) in made {
        match STEPS.iter().find(|known| known.version == *step) {
            Some(known) if *known.checksum == *checksum.as_slice() => {}
            None if *step > form() => return Err(StoreError::Newer { theirs, ours: form() }),
            _ => return Err(StoreError::OtherForm { step: *step }),
        }
    }
    Ok(STEPS.iter().any(|step| made.iter().all(|(there, _)| *there != step.version)))
}

/// Whether there is a step that is still to be made.
pub(in crate::store) async fn is_behind(records: &mut Connection) -> Result<bool, StoreError> {
    check(&steps_of(records).await?)
}

/// Refuses records that are not in this program's form, and leaves them as they are.
pub(in crate::store) async fn in_our_form(records: &mut Connection) -> Result<(), StoreError> {
    if is_behind(records).await? {
        return Err(StoreError::InUse(
            "An earlier Tackbook works in this folder. Stop it, and start this one there first.".to_owned(),
        ));
    }
    Ok(())
}

/// Refuses records that this program could not read.
pub(in crate::store) async fn known_form(records: &mut Connection) -> Result<(), StoreError> {
    check(&steps_of(records).await?).map(drop)
}

/// Brings the records in a folder into this program's form. Before an older form is touched, a copy of it is put beside it;
/// says so, where there was one.
pub(in crate::store) async fn bring_up(
    folder: &Path,
    records: &mut Connection,
) -> Result<Option<BroughtUp>, StoreError> {
    let made = steps_of(records).await?;
    let to_do = check(&made)?;
    let before = match made.last() {
        Some((from, _)) if to_do => {
            Some(BroughtUp { from: *from, to: form(), copy: keep(folder, *from, records).await? })
        }
        _ => None,
    };
    STEPS.run(records).await?;
    sync_folder(folder)?;
    Ok(before)
}

/// Puts a copy of the records beside them, named for their form and their bytes: the same records are copied once.
async fn keep(folder: &Path, form: i64, records: &mut Connection) -> Result<PathBuf, StoreError> {
    disk::room_for(folder, disk::length(&folder.join(RECORDS))?)?;
    let part = folder.join("arriving").join("records-before.part");
    disk::discard(&part)?;
    snapshot(records, &part).await?;
    let folder = folder.to_owned();
    blocking(move || {
        let sha256 = disk::fingerprint(&part)?;
        let name = format!("tackbook-form-{form:04}-{}.db", sha256.text().get(..16).unwrap_or_default());
        let copy = folder.join(name);
        disk::place(&part, &copy)?;
        Ok(copy)
    })
    .await
}
