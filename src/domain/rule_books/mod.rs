//! Rule books as data: one edition of one body's book, read from TOML with every mistake at its line.

mod agreeing;
pub mod asked;
mod asked_of;
mod beside;
pub mod bound;
pub mod asks;
mod book;
mod class;
mod class_edges;
mod dated;
pub mod editing;
mod exceptions;
mod fields;
pub mod kinds;
mod mistake;
mod reading;
mod rule;
mod rule_kinds;
mod said;
pub mod shipped;
mod unit_of;
mod words;

pub use asked_of::faults_of;
pub use beside::{Beside, Otherwise, RuleBeside, Stands};
pub use book::{BookHead, RuleBook};
pub use class::{ClassAnswer, ClassTubes, Neighbour, NoClass};
pub use dated::AppliesWhen;
pub use mistake::Mistake;
pub use reading::{MOST_RULES, read};
pub use rule::{Compare, Evidence, Force, NeededIf, Of, Rule, Sure};
pub use rule_kinds::{Place, RuleKind};
pub use said::Sayings;
