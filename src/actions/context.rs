//! Whose records, when, and who: the first argument of every action.

use serde_json::Value;

use super::error::ActionError;
use super::memory::Memory;
use crate::clock::Clock;
use crate::domain::shop::people::{Deed, Person, Role, may};
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::BuildId;
use crate::store::{Entry, Store};

/// Made by the gate for one request.
#[derive(Debug, Clone)]
pub struct Context {
    /// The shop's records.
    pub store: Store,
    /// What time it is.
    pub clock: Clock,
    /// Who does it.
    pub by: Person,
    /// What was worked out of each build since it last changed.
    pub memory: Memory,
}

impl Context {
    /// Whoever holds the shop's folder on this machine: the command line.
    pub fn of_the_machine(store: Store, clock: Clock) -> Self {
        let by = Person { id: uuid::Uuid::nil().into(), name: "command line".to_owned(), role: Role::Office };
        Self { store, clock, by, memory: Memory::default() }
    }

    /// Refuses a deed that this person's role does not have.
    pub(super) fn allow(&self, deed: Deed) -> Result<(), ActionError> {
        if may(self.by.role, deed) { Ok(()) } else { Err(ActionError::NotAllowed) }
    }

    /// A log entry about a build, by this person, now.
    pub(super) fn entry(&self, room: &'static str, build: BuildId, what: String, detail: Value) -> Entry {
        Entry { build: Some(build), by: self.by.name.clone(), at: self.clock.now(), room, what, detail }
    }

    /// A log entry about the shop as a whole.
    pub(super) fn shop_entry(&self, room: &'static str, what: String, detail: Value) -> Entry {
        Entry { build: None, by: self.by.name.clone(), at: self.clock.now(), room, what, detail }
    }
}

/// Refuses when something is wrong with what was entered.
pub(super) fn refuse(faults: Vec<Fault>) -> Result<(), ActionError> {
    if faults.is_empty() { Ok(()) } else { Err(ActionError::Refused(faults)) }
}
