//! The figures that follow from a cage's lines and from what is round it.

mod gap_figures;
pub(in crate::domain) mod of_lines;
mod runs;
mod spreads;

pub use gap_figures::gap_figures;
pub use of_lines::{figures, opening_beside};
pub use spreads::spreads;
