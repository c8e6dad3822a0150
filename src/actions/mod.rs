//! What people do, one function each.

mod error;
mod memory;
mod context;
mod secrets;
pub mod book;
pub mod shop;
pub mod weight;
pub mod recorded;

pub use context::Context;
pub use error::ActionError;
pub use memory::{Looked, Memory, worked_apart};
