//! What every request needs: the shop, the clock, and how the server is reached.

use super::memory::Memory;
use crate::clock::Clock;
use crate::store::Store;

/// The running program, handed to each request. Cheap to clone.
#[derive(Debug, Clone)]
pub struct App {
    /// The shop's records.
    pub store: Store,
    /// What time it is.
    pub clock: Clock,
    /// Host names, beside addresses in figures and `localhost`, that this server answers to.
    pub names: Vec<String>,
    /// What was worked out of each build since it last changed.
    pub memory: Memory,
}

impl App {
    /// A program that has worked nothing out yet.
    pub fn new(store: Store, clock: Clock, names: Vec<String>) -> Self {
        Self { store, clock, names, memory: Memory::default() }
    }
}
