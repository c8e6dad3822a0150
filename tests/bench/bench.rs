//! How fast it is: a packet, photographs coming in, the list pages. `cargo bench`; nothing here is asserted.
#![expect(clippy::unwrap_used, reason = "a bench may stop")]

#[path = "../fixture/folder.rs"]
mod folder;
mod intake;
mod packet;
mod pages;
mod picture;
mod shop;

#[global_allocator]
static ALLOCATED: divan::AllocProfiler = divan::AllocProfiler::system();

fn main() {
    divan::main();
}
