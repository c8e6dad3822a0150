//! The papers: packet, fabrication sheets, stickers, tables.

pub mod error;
pub mod pdf;
pub mod fabrication;
pub mod packet;
pub mod stickers;
pub mod contact_sheet;
pub mod csv;
mod paper;

pub use error::DocumentError;
