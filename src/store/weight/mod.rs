//! The car on its scale: rows and queries.

pub mod weigh_in;
pub mod scale_papers;
pub mod forecasts;
pub mod foreseen;
pub mod balance;
