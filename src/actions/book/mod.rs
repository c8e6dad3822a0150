//! Rule books, their drafts and editions: what people do with it.

pub mod books;
pub mod drafts;
pub mod editions;
