//! Typed lengths, masses, angles and areas, and how people type and read them.

pub mod base;
mod bounds;
pub mod fraction;
mod tokens;
mod reading;
pub mod typed;
mod kinds;
pub mod measures;
mod safe;
pub mod show;
pub mod share;
mod stress;
mod welding;

pub use base::{Angle, Area, Current, Hours, Length, Mass, Money, Share, Speed, Stress, Temperature, Units, Voltage};
pub use fraction::Fraction;
pub use show::Show;
pub use typed::{FromTyped, Said, Typed, Unreadable, with_unit};
