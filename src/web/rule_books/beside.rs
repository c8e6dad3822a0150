//! Two editions side by side, and what changes for the builds kept under the older one.

use std::collections::HashMap;
use std::sync::Arc;

use axum::extract::Query;
use axum::http::StatusCode;
use axum::response::Response;

use super::beside_view::{BesideSheet, BuildLine, Edition};
use super::changes_view::Changes;
use crate::actions::Looked;
use crate::domain::book;
use crate::domain::book::BookHead;
use crate::domain::derived::editions::{EditionChange, under};
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::facts::{BookText, BuildFacts};
use crate::domain::shop::people::Deed;
use crate::store::book::drafts::Draft;
use crate::store::book::rule_books::Book;
use crate::web::gate::SignedIn;
use crate::web::page::show;
use crate::web::problem::Problem;

impl Edition {
    fn of_book(book: &Book) -> Self {
        let text =
            BookText { id: book.id, name: book.name.clone(), edition: book.edition.clone(), toml: book.toml.clone() };
        Self { key: book.id.to_string(), draft: false, text }
    }

    fn of_draft(draft: &Draft, id: uuid::Uuid) -> Self {
        let head: Option<BookHead> = book::read(&draft.toml).ok().map(|book| book.book);
        let name = head.as_ref().map_or_else(|| "a draft that does not read yet".to_owned(), BookHead::full_name);
        let edition = head.map(|head| head.edition).unwrap_or_default();
        let text = BookText { id: id.into(), name, edition, toml: draft.toml.clone() };
        Self { key: draft.id.to_string(), draft: true, text }
    }
}

/// What would follow from these facts under another book, worked out away from the threads that answer others.
pub(super) async fn change_under(who: &SignedIn, looked: &Looked, book: BookText) -> Result<EditionChange, Problem> {
    let (facts, before): (Arc<BuildFacts>, Arc<Findings>) = (Arc::clone(&looked.facts), Arc::clone(&looked.found));
    let day = who.ctx.clock.today();
    let worked =
        tokio::task::spawn_blocking(move || EditionChange::of(&before, &Findings::of(&under(&facts, book), day)));
    worked.await.map_err(|error| Problem::NotMade(error.to_string()))
}

/// Two editions, or drafts, side by side.
pub(super) async fn beside(who: SignedIn, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    let (books, drafts) = (who.ctx.store.books().await?, who.ctx.store.open_drafts().await?);
    let mut editions: Vec<Edition> = books.iter().map(Edition::of_book).collect();
    for draft in &drafts {
        let id = draft.id.to_string().parse().map_err(|_| Problem::NotFound)?;
        editions.push(Edition::of_draft(draft, id));
    }
    let find = |name: &str| {
        let key = asked.get(name).filter(|key| !key.is_empty())?;
        Some(editions.iter().find(|edition| edition.key == *key).ok_or(Problem::NotFound))
    };
    let (older, newer) = (find("old").transpose()?, find("new").transpose()?);
    let mut builds = Vec::new();
    if let (Some(older), Some(newer)) = (older, newer)
        && older.key != newer.key
    {
        for looked in who.ctx.looked_at_all().await? {
            let kept = looked.facts.book.as_ref().is_some_and(|book| book.id.to_string() == older.key);
            if kept {
                let change = change_under(&who, &looked, newer.text.clone()).await?;
                builds.push(BuildLine::of(&who, &looked.facts, Changes::of(&change, who.units), newer));
            }
        }
    }
    show(StatusCode::OK, &BesideSheet::of(&who, &editions, (older, newer), builds))
}
