//! Adding a rule book.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::book;
use crate::domain::book::{Mistake, RuleBook};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::limits;
use crate::store::StoreError;
use crate::store::book::rule_books::Book;

/// Adds one edition of a rule book; its name and edition are those that its text gives. A text with mistakes is refused with
/// every one of them, by line.
pub async fn add(ctx: &Context, toml: String) -> Result<Book, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let book = read(ctx, toml)?;
    let detail = json!({ "name": book.name, "edition": book.edition, "sha256": Fingerprint::of(book.toml.as_bytes()) });
    let entry = ctx.shop_entry("books", format!("The rule book {}, {}, was added.", book.name, book.edition), detail);
    let added = ctx
        .store
        .change(move |write| {
            Box::pin(async move {
                write.add_book(&book).await?;
                Ok::<_, ActionError>((book, Some(entry)))
            })
        })
        .await;
    added.map_err(edition_taken)
}

/// An edition that is here already, in words.
pub(in crate::actions) fn edition_taken(error: ActionError) -> ActionError {
    if !matches!(error, ActionError::Store(StoreError::Taken(_))) {
        return error;
    }
    let why =
        "This edition of this book is here already. Builds hold on to its text; give a corrected one its own edition.";
    ActionError::Refused(vec![Fault::new("edition", why)])
}

/// A text refused with each of its mistakes by line.
pub(in crate::actions) fn by_line(toml: &str, mistakes: &[Mistake]) -> ActionError {
    ActionError::Refused(mistakes.iter().map(|mistake| Fault::new("toml", mistake.show(toml, "book.toml"))).collect())
}

/// The book that a text is, or all that is wrong with it.
pub(in crate::actions) fn read(ctx: &Context, toml: String) -> Result<Book, ActionError> {
    let read = book::read(&toml).map_err(|mistakes| by_line(&toml, &mistakes));
    let RuleBook { book: head, .. } = read?;
    let name = head.full_name();
    refuse(limits::title_faults("name", &name))?;
    Ok(Book { id: ctx.clock.new_id().into(), name, edition: head.edition, toml, added: ctx.clock.now() })
}
