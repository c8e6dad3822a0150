//! The laid out bars cut: copes in the order of fitting, joints, gussets, plates, and what cannot be built.

pub(in crate::domain::cage) mod ends;
pub mod fitting;
mod members;
pub(in crate::domain::cage) mod clearing;
mod clash;
pub mod angles;
pub(in crate::domain::cage) mod gussets;
pub(in crate::domain::cage) mod plates;
mod masses;
pub(in crate::domain::cage) mod outline;
mod solver;

pub use masses::{Masses, OfSize};
pub use solver::solve;
