//! The bars that brace the basic structure, in the order they get their numbers.

mod across;
mod crossing;
mod doors;
mod frames;
mod lay;

pub(in crate::domain::cage) use crossing::straight_through;
pub(in crate::domain::cage) use lay::lay;
