//! The rule books of the shop: what is here, a book's rules to read, adding an edition, writing the next one, what it changes for builds.

mod begun;
mod begun_view;
mod beside;
mod beside_view;
mod changes_view;
mod draft_view;
mod drafts;
mod moving;
mod moving_view;
mod read_view;
mod rule_form;
mod rules;
mod view;

use axum::extract::{Form as Posted, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::SignedIn;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::{self, ActionError};
use crate::domain::book::reading::shipped::SHIPPED;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::BookId;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/books", get(books).post(add))
        .route("/books/{book}", get(read))
        .route("/books/{book}/draft", post(drafts::begin))
        .route("/books/beside", get(beside::beside))
        .route("/builds/{build}/edition", get(moving::edition).post(moving::move_build))
        .route("/books/begin", get(begun::asked).post(begun::begin))
        .route("/books/example", post(begun::begin_from_example))
        .route("/books/drafts/{draft}/classes", get(begun::classes).post(begun::write_classes))
        .route("/books/drafts/{draft}/bars", get(begun::bars).post(begun::write_bars))
        .route("/books/drafts", post(drafts::keep_text))
        .route("/books/drafts/{draft}", get(drafts::sheet))
        .route("/books/drafts/{draft}/text", get(drafts::text).post(drafts::save_text))
        .route("/books/drafts/{draft}/use", post(drafts::put_in_use))
        .route("/books/drafts/{draft}/set-aside", post(drafts::set_aside))
        .route("/books/drafts/{draft}/rules/{place}", get(rules::rule).post(rules::write))
        .route("/books/drafts/{draft}/rules/{place}/take-out", post(rules::take_out))
        .route("/books/drafts/{draft}/new/{kind}", get(rules::new_rule).post(rules::add))
        .route("/books/shipped/{key}", post(add_shipped))
}

async fn books(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    sheet(&who, StatusCode::OK, &Form::empty(who.units), &[]).await
}

async fn sheet(who: &SignedIn, status: StatusCode, form: &Form, mistakes: &[String]) -> Result<Response, Problem> {
    let (books, drafts) = (who.ctx.store.books().await?, who.ctx.store.open_drafts().await?);
    show(status, &view::Books::of(who, (&books, &drafts), form, mistakes))
}

async fn read(who: SignedIn, Path(book): Path<String>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    let id: BookId = book.parse().map_err(|_| Problem::NotFound)?;
    book_sheet(&who, id, StatusCode::OK, &Form::empty(who.units)).await
}

async fn book_sheet(who: &SignedIn, id: BookId, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let book = who.ctx.store.book(id).await?.ok_or(Problem::NotFound)?;
    show(status, &read_view::ReadBook::of(who, &book, form))
}

async fn add(who: SignedIn, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let mut form = Form::of(who.units, typed);
    let toml = form.raw("toml").replace("\r\n", "\n");
    let mistakes: Vec<String> = match actions::book::rule_books::add(&who.ctx, toml).await {
        Ok(_) => return Ok(Redirect::to("/books").into_response()),
        Err(ActionError::Refused(faults)) => faults.into_iter().map(|fault| fault.why).collect(),
        Err(other) => return Err(other.into()),
    };
    form.fault("toml", "The book was not added; what is wrong stands above, by line.");
    sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &form, &mistakes).await
}

async fn add_shipped(who: SignedIn, Path(key): Path<String>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let shipped = SHIPPED.iter().find(|shipped| shipped.key == key).ok_or(Problem::NotFound)?;
    match actions::book::rule_books::add(&who.ctx, shipped.toml.to_owned()).await {
        Ok(book) => Ok(Redirect::to(&format!("/books/{}", book.id)).into_response()),
        Err(ActionError::Refused(faults)) => {
            let why: Vec<String> = faults.into_iter().map(|fault| fault.why).collect();
            sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &Form::empty(who.units), &why).await
        }
        Err(other) => Err(other.into()),
    }
}
