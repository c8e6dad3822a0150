//! What the trade knows: data and pure functions, in the order they build on one another.

pub mod ids;
pub mod faults;
pub mod limits;
pub mod tube;
pub mod people;
pub mod builds;
pub mod weigh_in;
