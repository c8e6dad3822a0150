//! The demo shop's mark: what its log says first and last. A real shop's log never says it.

use jiff::Timestamp;
use serde_json::json;

use super::DemoError;
use crate::store::{Entry, Store, StoreError};

/// The room of the mark's entries.
const ROOM: &str = "demo";
pub(super) const BEGUN: &str = "The demo shop was begun.";
pub(super) const FINISHED: &str = "The demo shop was made.";

/// What a folder holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Nothing yet: a demo shop can be made here.
    Empty,
    /// A demo shop.
    Demo,
    /// A demo shop whose making was broken off.
    Unfinished,
    /// A real shop: nothing may be made over it.
    Real,
}

/// What the shop in a folder is, by its log.
pub async fn standing(store: &Store) -> Result<Standing, StoreError> {
    let log = store.log(u32::MAX).await?;
    let says = |what: &str| log.iter().any(|entry| entry.room == ROOM && entry.what == what);
    Ok(match (log.is_empty(), says(BEGUN), says(FINISHED)) {
        (true, ..) => Standing::Empty,
        (_, true, true) => Standing::Demo,
        (_, true, false) => Standing::Unfinished,
        (_, false, _) => Standing::Real,
    })
}

/// Writes a mark.
pub(super) async fn say(store: &Store, at: Timestamp, what: &str) -> Result<(), DemoError> {
    let entry =
        Entry { build: None, by: "the program".to_owned(), at, room: ROOM, what: what.to_owned(), detail: json!({}) };
    store.change(move |_| Box::pin(async move { Ok(((), Some(entry))) })).await
}
