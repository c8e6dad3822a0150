//! What the program does for the shop while people work in it, said on each sheet.

use std::sync::{Arc, PoisonError, RwLock};

/// One sentence for all sheets, or none. Cheap to clone; clones say the same.
#[derive(Debug, Clone, Default)]
pub struct UnderWay(Arc<RwLock<String>>);

impl UnderWay {
    /// Says something on each sheet that is asked for from now on; empty where nothing is under way any more.
    pub fn say(&self, words: String) {
        *self.0.write().unwrap_or_else(PoisonError::into_inner) = words;
    }

    /// What is said; empty where nothing is under way.
    pub fn words(&self) -> String {
        self.0.read().unwrap_or_else(PoisonError::into_inner).clone()
    }
}
