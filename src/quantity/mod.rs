//! Typed lengths, masses, angles and areas, and how people type and read them.

pub mod base;
pub mod typed;
pub mod show;

pub use base::{Angle, Area, Hours, Length, Mass, Money, Units};
pub use show::Show;
pub use typed::{FromTyped, Typed, Unreadable};
