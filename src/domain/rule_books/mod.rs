//! Rule books as data: one edition of one body's book, read from TOML with every mistake at its line.

pub mod bound;
pub mod asks;
mod book;
mod class;
mod class_edges;
mod dated;
mod exceptions;
mod fields;
pub mod kinds;
mod mistake;
mod reading;
mod rule;
pub mod shipped;
mod words;

pub use book::{BookHead, RuleBook};
pub use class::{ClassAnswer, ClassTubes, Neighbour, NoClass};
pub use dated::AppliesWhen;
pub use mistake::Mistake;
pub use reading::{MOST_RULES, read};
pub use rule::{Compare, Evidence, Force, NeededIf, Of, Rule, Sure};
