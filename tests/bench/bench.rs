//! How fast it is: a packet, photographs coming in, the list pages. `cargo bench`; nothing here is asserted.
#![expect(clippy::unwrap_used, clippy::disallowed_methods, reason = "a bench may stop, and its files are no evidence")]

mod cage;
#[path = "../fixture/folder.rs"]
mod folder;
mod intake;
mod packet;
mod pages;
mod phones;
mod picture;
mod shop;

#[global_allocator]
static ALLOCATED: divan::AllocProfiler = divan::AllocProfiler::system();

fn main() {
    divan::main();
}
