//! The words and fields that rules of every kind are written in.

pub(in crate::domain::book) mod words;
pub mod bound;
pub(in crate::domain::book) mod unit_of;
pub(in crate::domain::book) mod mistake;
pub(in crate::domain::book) mod fields;
pub(in crate::domain::book) mod dated;
pub(in crate::domain::book) mod rule;
pub(in crate::domain::book) mod rule_kinds;

pub use dated::AppliesWhen;
pub use mistake::Mistake;
pub use rule::{Compare, Evidence, Force, NeededIf, Of, Rule, Sure};
pub use rule_kinds::{Place, RuleKind};
