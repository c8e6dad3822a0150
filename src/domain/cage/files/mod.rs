//! Cage files: read, drawn or measured, and written.

mod cage_file;
mod drawn;
mod drawn_fittings;
mod entry;
mod measured_file;
mod read;
pub(in crate::domain) mod slips;
mod written;

pub use measured_file::Brought;
pub use read::{measured, solved};
pub use written::written;
