//! The car on its scale: what people do with it.

pub mod weigh_in;
pub mod foreseen;
pub mod balance;
pub mod scale_papers;
