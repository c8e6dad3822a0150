//! What can be measured, with which tool, and how sure a figure is.

pub mod bolts;
pub mod amounts;
pub mod measures;
pub mod tools;
pub mod figures;
pub mod guard;
