//! The store's contract: what every engine below it must keep, tried through the actions on a real folder.
#![expect(clippy::unwrap_used, clippy::panic, clippy::disallowed_methods, reason = "a test may stop")]

#[path = "../fixture/folder.rs"]
mod folder;
#[path = "../fixture/kept.rs"]
mod kept;
mod house;
mod backup;
mod kit;
mod memory;
mod engine;
mod log;
mod covered;
mod bits;
mod photos;
mod pieces;
mod rounds;
mod records;
mod people;
mod health;
mod waits;
mod old_shops;
mod car_files;
mod one_engine;
mod plans;
