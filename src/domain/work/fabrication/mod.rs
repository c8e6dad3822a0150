//! What a fabricator cuts, bends and copes by: all worked out from the cage, nothing stored.

pub mod bar_sheet;
pub mod blanks;
pub mod checks;
pub mod numbers;
pub mod tool;

pub use bar_sheet::{BarSheet, Bench, BendStep, EndCut};
pub use blanks::Blank;
pub use checks::Check;
pub use tool::{NoSaw, Tool};
