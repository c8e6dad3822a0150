//! A book's text as a form edits it, rule by rule: what is not touched stays byte for byte, comments and order among it.

mod comments;
mod lists;
mod pairs;
mod rows;
mod text;
mod values;

pub use pairs::Pairs;
pub use text::{Editing, RuleLine};
