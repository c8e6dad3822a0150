//! Tackbook: a fabrication shop's build log, its calculator, and the maker of the packet a scrutineer decides from.
//!
//! The floors of the house, bottom to top; a floor names only floors above it in this list (`tests/tidy` holds the table).

pub mod quantity;
pub mod geometry;
pub mod domain;
pub mod drawing;
pub mod documents;
pub mod imaging;
pub mod clock;
pub mod store;
pub mod actions;
pub mod web;
pub mod cli;
pub mod demo;
pub mod startup;
pub mod telemetry;
