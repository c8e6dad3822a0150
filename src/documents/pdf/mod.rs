//! Sheets as a PDF: lines as lines, words that can be searched, photographs byte for byte, an outline.

mod finishing;
mod jpeg;
mod marks;
mod writer;

pub use jpeg::Jpeg;
pub use writer::{About, write};
