//! The shop's books to choose from, where a build is begun or given one.

use crate::store::book::rule_books::Book;

/// Their names for a form, the newest first, none last.
pub(crate) fn book_choices(books: &[Book]) -> Vec<(String, String)> {
    let none = (String::new(), "no book: log only".to_owned());
    let named = books.iter().rev().map(|book| (book.id.to_string(), format!("{}, {}", book.name, book.edition)));
    named.chain([none]).collect()
}
