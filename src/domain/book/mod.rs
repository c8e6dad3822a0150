//! Rule books as data: one edition of one body's book, read from TOML with every mistake at its line.

pub mod terms;
pub mod kinds;
mod rule_book;
mod class;
pub mod asks;
pub mod reading;
pub mod forms;
mod compared;
pub mod in_force;

pub use class::{ClassAnswer, ClassTubes, Neighbour, NoClass};
pub use compared::{Beside, Difference, Otherwise, RuleBeside, Sayings};
pub use forms::faults_of;
pub use forms::short::{ClassRow, ClassTable, NeededBars, NewBook, Source};
pub use reading::{MOST_RULES, read};
pub use rule_book::{BookHead, RuleBook};
pub use terms::{AppliesWhen, Compare, Evidence, Force, Mistake, NeededIf, Of, Place, Rule, RuleKind, Sure};
