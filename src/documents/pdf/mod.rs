//! Sheets as a PDF: lines as lines, words that can be searched, photographs byte for byte, an outline, and tags for who has them read out.

mod attached;
mod finishing;
mod jpeg;
mod marks;
mod tags;
mod typefaces;
mod writer;

pub use attached::{Attached, Sort, attached};
pub use jpeg::Jpeg;
pub use writer::{About, write, write_with};
