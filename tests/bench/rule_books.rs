//! Reading a rule book: those that come with the program, and texts that would hold a reader up.

use divan::Bencher;
use tackbook::domain::book::read;
use tackbook::domain::book::reading::shipped::SHIPPED;

use crate::long_books::long_books;

/// Every book that comes with the program, one after the other.
#[divan::bench]
fn books_that_come_with_it() -> usize {
    SHIPPED.iter().filter(|shipped| read(shipped.toml).is_ok()).count()
}

/// A text that is long or deep, to its refusal.
#[divan::bench(args = 0..14, sample_count = 5, sample_size = 1)]
fn long_or_deep_text(bencher: Bencher, which: usize) {
    let (what, text) = long_books(include_str!("../../src/demo/book.toml")).into_iter().nth(which).unwrap();
    eprintln!("  {what}, {} bytes", text.len());
    bencher.bench_local(|| read(&text).is_err());
}
