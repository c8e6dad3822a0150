//! Opening a shop for a call, with what became of its records said to the person who called.

use std::path::Path;

use crate::store::{BroughtUp, Store, StoreError};

/// Opens the shop that is in a folder; none is made.
pub(super) async fn opened(folder: &Path) -> Result<Store, StoreError> {
    let store = Store::open_there(folder).await?;
    tell(store.brought_up());
    Ok(store)
}

/// Opens the shop in a folder to read it: beside another program that works in it, without touching anything; else as
/// `opened` does.
pub(super) async fn opened_to_read(folder: &Path) -> Result<Store, StoreError> {
    match opened(folder).await {
        Err(StoreError::InUse(_)) => Store::open_beside(folder).await,
        done => done,
    }
}

/// Says that records of an earlier program were copied and brought into this one's form, where they were.
pub(super) fn tell(brought_up: Option<&BroughtUp>) {
    if let Some(BroughtUp { from, to, copy }) = brought_up {
        eprintln!("An earlier Tackbook made these records (form {from}); they are now in this one's form ({to}).");
        eprintln!("As they were, they lie in {}. Delete that when all is well.", copy.display());
    }
}
