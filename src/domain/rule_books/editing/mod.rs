//! A book's text as a form edits it, rule by rule: what is not touched stays byte for byte, comments and order among it.

mod comments;
mod lists;
mod rows;
mod text;
mod values;

pub use text::{Editing, Pairs, RuleLine};
