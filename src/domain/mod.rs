//! What the trade knows: data and pure functions, in rooms; each names only those above it here.

pub mod words;
pub mod measure;
pub mod steel;
pub mod cage;
pub mod book;
pub mod weight;
pub mod shop;
pub mod recorded;
pub mod judge;
pub mod work;
pub mod derived;
