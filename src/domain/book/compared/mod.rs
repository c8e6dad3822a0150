//! Two editions beside each other, rule by rule.

mod beside;
mod said;

pub use beside::{Beside, Difference, Otherwise, RuleBeside};
pub use said::Sayings;
