//! Laws that hold for every input, tried on many.
#![cfg_attr(test, expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test may stop"))]

mod bend_copes;
mod beside;
mod books;
mod cage;
#[path = "../fixture/cut_sets.rs"]
mod cut_sets;
mod cuts;
mod foreseen;
mod frozen;
#[path = "../fixture/full_build.rs"]
mod full_build;
mod geometry;
mod guesses;
mod hold;
#[path = "../fixture/known.rs"]
mod known;
#[path = "../fixture/long_books.rs"]
mod long_books;
mod lowering;
mod mirrored;
mod quantity;
mod rules;
mod taken_away;
mod units;
mod welds;
