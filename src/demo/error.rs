//! Why the demo shop could not be made.

use crate::actions::ActionError;
use crate::imaging::ImageError;
use crate::store::StoreError;

/// Why the demo shop could not be made.
#[derive(Debug, thiserror::Error)]
pub enum DemoError {
    /// A deed was refused.
    #[error("a deed was refused: {error}. {}", faults(error))]
    Refused {
        /// Why.
        #[from]
        error: ActionError,
    },
    /// A photograph could not be drawn.
    #[error("a photograph could not be drawn: {0}")]
    NotDrawn(#[from] ImageError),
    /// The records could not be used.
    #[error("the demo shop's records could not be used: {0}")]
    Store(#[from] StoreError),
    /// What was typed for the demo does not read.
    #[error("the demo's own text does not read: {0}")]
    Unreadable(String),
}

fn faults(error: &ActionError) -> String {
    match error {
        ActionError::Refused(faults) => faults.iter().map(|fault| fault.why.clone()).collect::<Vec<_>>().join(" "),
        _ => String::new(),
    }
}
