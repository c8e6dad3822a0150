//! Checks against figures found or computed outside the project; each file names its sources.
#![cfg_attr(
    test,
    expect(
        clippy::unwrap_used,
        clippy::indexing_slicing,
        clippy::panic,
        clippy::format_push_string,
        clippy::format_collect,
        reason = "a test may stop"
    )
)]

mod asked;
mod bend_copes;
mod blanks;
mod claims;
mod classes;
mod copes;
#[path = "../fixture/cut_sets.rs"]
mod cut_sets;
mod cuts;
mod drawing;
mod foreseen;
#[path = "../fixture/full_build.rs"]
mod full_build;
mod geometry;
mod judged;
mod kit;
mod kit_dates;
mod looks;
mod heat_input;
mod imaging;
#[path = "../fixture/known.rs"]
mod known;
mod oracle;
mod quantity;
mod rules;
mod space;
mod tube;
mod weigh;
#[path = "../fixture/wrapped.rs"]
mod wrapped;
mod wrapped_copes;
