//! Measuring with the tape: where each measurement lies in the car, and one that is taken by itself.

pub mod taped;
pub mod where_measured;
