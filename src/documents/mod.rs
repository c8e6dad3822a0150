//! The papers: packet, cut list.

pub mod error;
pub mod pdf;
pub mod fabrication;
pub mod packet;
mod paper;

pub use error::DocumentError;
