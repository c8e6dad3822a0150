//! Promises that take a process of its own to try: kills at any moment, and a disk that takes no more.
#![cfg(unix)]
#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a test may stop"
)]

mod cars;
mod child;
#[path = "../fixture/folder.rs"]
mod folder;
#[path = "../fixture/kept.rs"]
mod kept;
mod doors;
mod https;
mod kills;
mod memory;
mod named;
#[cfg(target_os = "linux")]
mod power;
mod promised;
mod rounds;
mod restored;
mod serving;
mod full;
