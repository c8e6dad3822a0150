//! What is measured and chosen of a cage, as it is recorded.

pub(in crate::domain::cage) mod basic_structure;
pub(in crate::domain::cage) mod key_words;
pub mod measures;
pub mod options;
pub mod fittings;
pub mod by_hand;
mod describe_hand_bars;
pub mod body;
pub mod seats;
pub(in crate::domain::cage) mod cage_record;
pub mod tape;
pub mod changed;
pub mod example;

pub use basic_structure::BasicStructure;
pub use cage_record::CageRecord;
pub use key_words::words as key_words;
