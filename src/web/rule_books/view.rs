//! What the rule books' sheet shows.

use askama::Template;

use crate::domain::people::{Deed, may};
use crate::store::books::Book;
use crate::web::form::{Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

/// The books, and the form for one more.
#[derive(Template)]
#[template(path = "rule_books/books.html")]
pub(crate) struct Books {
    sheet: Sheet,
    books: Vec<(String, String)>,
    mistakes: Vec<String>,
    may_add: bool,
    fields: Vec<Field>,
}

impl Books {
    /// From the shop's books, what was typed, and what is wrong with it.
    pub(crate) fn of(who: &SignedIn, books: &[Book], form: &Form, mistakes: &[String]) -> Self {
        let hint = "One edition of one body's book, written as the demo's book.toml is. Check it first with: tackbook book check FILE.";
        Self {
            sheet: Sheet::of_shop(who, "Rule books"),
            books: books.iter().map(|book| (book.name.clone(), book.edition.clone())).collect(),
            mistakes: mistakes.to_vec(),
            may_add: may(who.ctx.by.role, Deed::RunShop),
            fields: vec![form.field("toml", "The book's text, TOML").area().hint(hint)],
        }
    }
}
