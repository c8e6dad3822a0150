//! Tube, what it weighs and how it bends.

pub mod tube;
pub mod two_tubes;
pub mod heat_input;
pub mod dies;
