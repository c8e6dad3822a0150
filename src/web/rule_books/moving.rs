//! Moving a build to another edition: first what would change, then the move with its reason.

use std::collections::HashMap;

use axum::extract::{Form as Posted, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::beside::change_under;
use super::changes_view::Changes;
use super::moving_view::{EditionSheet, Moving};
use crate::actions::Looked;
use crate::actions::book::editions::Move;
use crate::actions::{self, ActionError};
use crate::domain::recorded::facts::BookText;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::BookId;
use crate::store::book::rule_books::Book;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::show;
use crate::web::problem::Problem;

/// The edition that a build is judged by, and what would change under another.
pub(super) async fn edition(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RunShop)?;
    let to = asked.get("to").cloned().unwrap_or_default();
    let form = Form::filled(seen.who.units, vec![("to".to_owned(), to)]);
    sheet(&seen, StatusCode::OK, &form).await
}

/// The sheet, for what is chosen and typed in a form.
async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let from = seen.facts.book.as_ref();
    let store = &seen.who.ctx.store;
    let (books, moves) = (store.books().await?, store.book_moves(seen.build()).await?);
    let chosen = form.text("to");
    let newer = books.iter().find(|book| book.id.to_string() == chosen && from.is_some_and(|from| book.id != from.id));
    let stands = from.is_none_or(|from| chosen == from.id.to_string());
    if newer.is_none() && !chosen.is_empty() && !stands {
        return Err(Problem::NotFound);
    }
    let moving = match newer {
        Some(book) => Some(moving(seen, book, form).await?),
        None => None,
    };
    let stale = status == StatusCode::CONFLICT;
    show(status, &EditionSheet::of(seen, (&books, &moves), moving, (form, stale)))
}

async fn moving(seen: &Seen, book: &Book, form: &Form) -> Result<Moving, Problem> {
    let looked = Looked { facts: std::sync::Arc::clone(&seen.facts), found: seen.found().await? };
    let text =
        BookText { id: book.id, name: book.name.clone(), edition: book.edition.clone(), toml: book.toml.clone() };
    let change = change_under(&seen.who, &looked, text).await?;
    Ok(Moving::of(seen, book, Changes::of(&change, seen.who.units), form))
}

/// Moves the build.
pub(super) async fn move_build(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RunShop)?;
    let mut form = Form::of(seen.who.units, typed);
    let asked = Move {
        to: form.text("to").parse().map_err(|_| Problem::NotFound)?,
        as_of: form.text("as_of").parse().unwrap_or_default(),
        reason: form.text("reason").to_owned(),
    };
    if seen.facts.book.is_none() {
        return take(seen, form, asked.to).await;
    }
    let mut status = StatusCode::UNPROCESSABLE_ENTITY;
    match actions::book::editions::move_build(&seen.who.ctx, seen.build(), asked).await {
        Ok(_) => return Ok(Redirect::to(&seen.address("/edition")).into_response()),
        Err(ActionError::Refused(faults)) => form.refuse(faults),
        Err(ActionError::Stale { .. }) => status = StatusCode::CONFLICT,
        Err(other) => return Err(other.into()),
    }
    sheet(&seen, status, &form).await
}

/// Gives a build that has none its first book.
async fn take(seen: Seen, mut form: Form, book: BookId) -> Result<Response, Problem> {
    match actions::shop::builds::take_book(&seen.who.ctx, seen.build(), book).await {
        Ok(_) => return Ok(Redirect::to(&seen.address("")).into_response()),
        Err(ActionError::Refused(faults)) => form.refuse(faults),
        Err(ActionError::Stale { .. }) => {
            form.fault("to", "Somebody else saved this build meanwhile. Take the book again.");
        }
        Err(other) => return Err(other.into()),
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}
