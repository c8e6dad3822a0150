//! Rule books, their drafts and editions: what people do with it.

pub mod rule_books;
pub mod drafts;
pub mod begun;
pub mod editions;
