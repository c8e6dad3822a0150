//! What people do, one function each.

mod context;
mod error;
mod secrets;
pub mod people;
pub mod builds;
pub mod books;

pub use context::Context;
pub use error::ActionError;
