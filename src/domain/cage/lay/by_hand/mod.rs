//! Bars by hand laid out between the places that were named for them, and the same on the other side.

mod laying;
mod mirror;
mod station;

pub(in crate::domain::cage) use laying::lay;
pub(in crate::domain::cage) use mirror::negated;
