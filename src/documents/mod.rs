//! The papers: packet, fabrication sheets, stickers.

pub mod error;
pub mod pdf;
pub mod fabrication;
pub mod packet;
pub mod stickers;
pub mod contact_sheet;
mod paper;

pub use error::DocumentError;
