//! What the rules say of the facts, and of which piece each fact is.

pub mod verdicts;
pub mod ruled;
pub mod pieces;
pub mod shots;
