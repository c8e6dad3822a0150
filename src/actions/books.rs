//! Adding a rule book.

use serde_json::json;

use super::context::{Context, refuse};
use super::error::ActionError;
use crate::domain::faults::Fault;
use crate::domain::fingerprint::Fingerprint;
use crate::domain::limits;
use crate::domain::people::Deed;
use crate::store::StoreError;
use crate::store::books::Book;

/// A rule book as it is handed in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewBook {
    /// The book's name.
    pub name: String,
    /// Which edition.
    pub edition: String,
    /// The text, TOML.
    pub toml: String,
}

impl NewBook {
    fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("name", &self.name);
        faults.extend(limits::title_faults("edition", &self.edition));
        if self.toml.len() > limits::BOOK_BYTES {
            faults.push(Fault::new("toml", "A rule book's text has at most 512 KiB."));
        } else if let Err(error) = toml::from_str::<toml::Table>(&self.toml) {
            faults.push(Fault::new("toml", format!("The text does not read as TOML: {}.", error.message())));
        }
        faults
    }
}

/// Adds one edition of a rule book. Its rules are read, and refused by line, before this is called.
pub async fn add(ctx: &Context, new: NewBook) -> Result<Book, ActionError> {
    ctx.allow(Deed::RunShop)?;
    refuse(new.faults())?;
    let book = Book {
        id: ctx.clock.new_id().into(),
        name: new.name.trim().to_owned(),
        edition: new.edition.trim().to_owned(),
        toml: new.toml,
        added: ctx.clock.now(),
    };
    let detail = json!({ "name": book.name, "edition": book.edition, "sha256": Fingerprint::of(book.toml.as_bytes()) });
    let entry = ctx.shop_entry("books", format!("The rule book {}, {}, was added.", book.name, book.edition), detail);
    let added = ctx
        .store
        .change(move |write| {
            Box::pin(async move {
                write.add_book(&book).await?;
                Ok((book, Some(entry)))
            })
        })
        .await;
    match added {
        Err(StoreError::Taken(_)) => Err(ActionError::Refused(vec![Fault::new(
            "edition",
            "This edition of this book is here already. Builds hold on to its text; give a corrected one its own edition.",
        )])),
        other => Ok(other?),
    }
}
