//! What the trade knows: data and pure functions, in the order they build on one another.

pub mod ids;
pub mod fingerprint;
pub mod faults;
pub mod limits;
pub mod glossary;
pub mod roles;
pub mod figures;
pub mod tube;
pub mod people;
pub mod builds;
pub mod cage;
pub mod weigh_in;
pub mod rule_books;
pub mod kit;
pub mod photos;
pub mod questions;
pub mod stock;
pub mod build_log;
pub mod rounds;
pub mod hold;
pub mod facts;
pub mod verdicts;
pub mod shots;
pub mod findings;
pub mod contents;
pub mod open_items;
