//! The car on its scale, what still goes into it, and what it will weigh when it is finished.

pub mod scale_class;
pub mod scale_paper;
pub mod shares;
pub mod weigh_in;
pub mod balance;
pub mod carried;
pub mod foreseen;
pub mod forecast;
