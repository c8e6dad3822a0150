//! What is wrong with something entered: where, and why, in the words of the person who entered it.

use serde::{Deserialize, Serialize};

/// One thing wrong. `at` is the field's name, the same word in the struct, the form and the page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fault {
    /// The field or balloon it is about.
    pub at: String,
    /// A sentence that says what is wrong and what would do.
    pub why: String,
}

impl Fault {
    /// A fault at a field.
    pub fn new(at: impl Into<String>, why: impl Into<String>) -> Self {
        Self { at: at.into(), why: why.into() }
    }
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.at, self.why)
    }
}
