//! The demo in a real browser: the phone's walk, the desk's round, at the sizes people hold.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

mod chromium;
mod cuts;
mod demo;
mod desk;
#[path = "../fixture/folder.rs"]
mod folder;
mod page;
mod phone;
