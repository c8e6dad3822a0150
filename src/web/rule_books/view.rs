//! What the rule books' sheet shows.

use askama::Template;

use crate::domain::book::read;
use crate::domain::book::reading::shipped::{SHIPPED, Shipped};
use crate::domain::shop::people::{Deed, may};
use crate::store::book::drafts::Draft;
use crate::store::book::rule_books::Book;
use crate::web::form::{Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

/// The books, and the form for one more.
#[derive(Template)]
#[template(path = "rule_books/books.html")]
pub(crate) struct Books {
    sheet: Sheet,
    /// Address, name and edition of each.
    books: Vec<(String, String, String)>,
    /// Books that come with the program and are not here yet: key, name, edition, and what to know first.
    offered: Vec<(&'static str, String, String, &'static str)>,
    mistakes: Vec<String>,
    drafts: Vec<super::draft_view::Title>,
    may_add: bool,
    fields: Vec<Field>,
}

impl Books {
    /// From the shop's books and drafts, what was typed, and what is wrong with it.
    pub(crate) fn of(who: &SignedIn, (books, drafts): (&[Book], &[Draft]), form: &Form, mistakes: &[String]) -> Self {
        let hint = "One edition of one body's book, written as the demo's book.toml is. Check it first with: tackbook book check FILE.";
        Self {
            sheet: Sheet::of_shop(who, "Rule books"),
            books: books
                .iter()
                .map(|book| (format!("/books/{}", book.id), book.name.clone(), book.edition.clone()))
                .collect(),
            offered: SHIPPED.iter().filter_map(|shipped| offer(shipped, books)).collect(),
            mistakes: mistakes.to_vec(),
            drafts: drafts.iter().map(super::draft_view::Title::of).collect(),
            may_add: may(who.ctx.by.role, Deed::RunShop),
            fields: vec![form.field("toml", "The book's text, TOML").area().hint(hint)],
        }
    }
}

/// A book that comes with the program, where its edition is not in the shop.
fn offer(shipped: &Shipped, books: &[Book]) -> Option<(&'static str, String, String, &'static str)> {
    let head = read(shipped.toml).ok()?.book;
    let name = head.full_name();
    let here = books.iter().any(|book| book.name == name && book.edition == head.edition);
    (!here).then_some((shipped.key, name, head.edition, shipped.about))
}
