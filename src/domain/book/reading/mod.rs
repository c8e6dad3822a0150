//! From a book's text to its rules, with every mistake at its line; and the books that come with the program.

mod agreeing;
mod class_edges;
mod exceptions;
mod reader;
pub mod shipped;

pub use reader::{MOST_RULES, read};
