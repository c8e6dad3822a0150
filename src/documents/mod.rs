//! The papers: packet, cut list.

pub mod error;
pub mod pdf;

pub use error::DocumentError;
