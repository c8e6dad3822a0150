//! A book's rules as forms: what each asks for, and its text written anew.

pub mod asked;
mod asked_of;
pub mod editing;
pub mod short;

pub use asked_of::faults_of;
