//! Two editions beside each other, rule by rule.

mod beside;
mod said;

pub use beside::{Beside, Otherwise, RuleBeside, Stands};
pub use said::Sayings;
