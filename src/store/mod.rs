//! One shop's rows and files.

mod error;
mod text;
mod engine;
mod found;
pub mod covered;
mod stated;
mod lane;
mod handle;
pub mod vault;
pub mod backup;
pub mod checked;
pub mod book;
pub mod shop;
pub mod weight;
pub mod recorded;
pub mod car_file;

pub use engine::{BroughtUp, form, version_is_safe};
pub use error::StoreError;
pub use handle::Store;
pub use lane::{Work, Write};
pub use recorded::build_log::Entry;
pub use recorded::facts::Seen;
pub use stated::Stated;
