//! The rule books of the shop: what is here, a book's rules to read, and adding an edition, its mistakes told by line.

mod read_view;
mod view;

use axum::Router;
use axum::extract::{Form as Posted, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};

use super::app::App;
use super::form::{Form, Pairs};
use super::gate::SignedIn;
use super::page::show;
use super::problem::Problem;
use crate::actions::books::NewBook;
use crate::actions::{self, ActionError};
use crate::domain::ids::BookId;
use crate::domain::people::Deed;
use crate::domain::rule_books::{self, RuleBook, shipped::SHIPPED};

/// The room's addresses.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/books", get(books).post(add))
        .route("/books/{book}", get(read))
        .route("/books/shipped/{key}", post(add_shipped))
}

async fn books(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    sheet(&who, StatusCode::OK, &Form::empty(who.units), &[]).await
}

async fn sheet(who: &SignedIn, status: StatusCode, form: &Form, mistakes: &[String]) -> Result<Response, Problem> {
    let books = who.ctx.store.books().await?;
    show(status, &view::Books::of(who, &books, form, mistakes))
}

async fn read(who: SignedIn, Path(book): Path<String>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    let id: BookId = book.parse().map_err(|_| Problem::NotFound)?;
    let books = who.ctx.store.books().await?;
    let book = books.iter().find(|book| book.id == id).ok_or(Problem::NotFound)?;
    show(StatusCode::OK, &read_view::ReadBook::of(&who, book))
}

fn new_book(book: RuleBook, toml: String) -> NewBook {
    NewBook { name: format!("{} {}", book.book.body, book.book.name), edition: book.book.edition, toml }
}

async fn add(who: SignedIn, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let mut form = Form::of(who.units, typed);
    let toml = form.raw("toml").replace("\r\n", "\n");
    let mistakes: Vec<String> = match rule_books::read(&toml) {
        Ok(book) => match actions::books::add(&who.ctx, new_book(book, toml)).await {
            Ok(_) => return Ok(Redirect::to("/books").into_response()),
            Err(ActionError::Refused(faults)) => faults.into_iter().map(|fault| fault.why).collect(),
            Err(other) => return Err(other.into()),
        },
        Err(mistakes) => mistakes.iter().map(|mistake| mistake.show(&toml, "book.toml")).collect(),
    };
    form.fault("toml", "The book was not added; what is wrong stands above, by line.");
    sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &form, &mistakes).await
}

async fn add_shipped(who: SignedIn, Path(key): Path<String>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let shipped = SHIPPED.iter().find(|shipped| shipped.key == key).ok_or(Problem::NotFound)?;
    let book = rule_books::read(shipped.toml).map_err(|_| Problem::NotMade(format!("{key} does not read")))?;
    match actions::books::add(&who.ctx, new_book(book, shipped.toml.to_owned())).await {
        Ok(book) => Ok(Redirect::to(&format!("/books/{}", book.id)).into_response()),
        Err(ActionError::Refused(faults)) => {
            let why: Vec<String> = faults.into_iter().map(|fault| fault.why).collect();
            sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &Form::empty(who.units), &why).await
        }
        Err(other) => Err(other.into()),
    }
}
