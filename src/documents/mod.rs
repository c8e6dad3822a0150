//! The papers: packet, fabrication sheets, stickers, tables.

pub mod error;
pub mod pdf;
pub mod fabrication;
pub mod packet;
pub mod stickers;
pub mod contact_sheet;
pub mod csv;
pub mod car_page;
pub mod chapters;
pub mod hand_over;
pub mod part_figures;
mod paper;
mod teller;

pub use error::DocumentError;
