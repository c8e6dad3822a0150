//! Bars laid out from the record: the basic structure, the bracing, those by hand; numbers for all of them.

pub(in crate::domain::cage) mod draft;
pub(in crate::domain::cage) mod stations;
mod structures;
pub(in crate::domain::cage) mod bracing;
pub(in crate::domain::cage) mod by_hand;
pub(in crate::domain::cage) mod joints;
pub(in crate::domain::cage) mod laid_out;
pub(in crate::domain::cage) mod numbers;
pub(in crate::domain::cage) mod typical;
