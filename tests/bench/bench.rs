//! How fast it is: a packet, photographs coming in, the list pages. `cargo bench`; nothing here is asserted.
#![expect(clippy::unwrap_used, reason = "a bench may stop")]

mod cage;
mod car_file;
mod cuts;
#[path = "../fixture/folder.rs"]
mod folder;
mod intake;
#[path = "../fixture/long_books.rs"]
mod long_books;
mod packet;
mod pages;
mod phones;
mod picture;
mod rule_books;
mod shop;

#[global_allocator]
static ALLOCATED: divan::AllocProfiler = divan::AllocProfiler::system();

fn main() {
    divan::main();
}
