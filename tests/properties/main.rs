//! Laws that hold for every input, tried on many.
#![cfg_attr(test, expect(clippy::unwrap_used, reason = "a test may stop"))]

mod beside;
mod books;
mod cage;
mod cuts;
mod foreseen;
mod geometry;
#[path = "../fixture/known.rs"]
mod known;
mod quantity;
mod rules;
mod units;
