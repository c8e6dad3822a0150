//! Rule books, their drafts and editions: rows and queries.

pub mod rule_books;
pub mod drafts;
pub mod book_moves;
