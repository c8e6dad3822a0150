//! The demo in a real browser: the phone's walk, the desk's round, at the sizes people hold.
#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a test may stop, and keeps pictures that are no evidence"
)]

mod access;
mod begin;
mod cage;
mod chromium;
mod cuts;
mod demo;
mod every_sheet;
mod desk;
#[path = "../fixture/folder.rs"]
mod folder;
#[path = "../fixture/kept.rs"]
mod kept;
mod folder_sent;
mod https;
mod link;
mod marks;
mod never_lost;
mod offline;
mod page;
mod phone;
mod pointed;
mod queue;
mod review;
mod sending;
mod tape;
mod two_outputs;
mod unsaved;
mod weld_walk;
mod wire;
