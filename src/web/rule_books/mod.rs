//! The rule books of the shop: what is here, and adding an edition, its mistakes told by line.

mod view;

use axum::Router;
use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;

use super::app::App;
use super::form::{Form, Pairs};
use super::gate::SignedIn;
use super::page::show;
use super::problem::Problem;
use crate::actions::books::NewBook;
use crate::actions::{self, ActionError};
use crate::domain::people::Deed;
use crate::domain::rule_books;

/// The room's addresses.
pub(crate) fn routes() -> Router<App> {
    Router::new().route("/books", get(books).post(add))
}

async fn books(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    sheet(&who, StatusCode::OK, &Form::empty(who.units), &[]).await
}

async fn sheet(who: &SignedIn, status: StatusCode, form: &Form, mistakes: &[String]) -> Result<Response, Problem> {
    let books = who.ctx.store.books().await?;
    show(status, &view::Books::of(who, &books, form, mistakes))
}

async fn add(who: SignedIn, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let mut form = Form::of(who.units, typed);
    let toml = form.raw("toml").replace("\r\n", "\n");
    let mistakes: Vec<String> = match rule_books::read(&toml) {
        Ok(book) => match actions::books::add(
            &who.ctx,
            NewBook { name: format!("{} {}", book.book.body, book.book.name), edition: book.book.edition, toml },
        )
        .await
        {
            Ok(_) => return Ok(Redirect::to("/books").into_response()),
            Err(ActionError::Refused(faults)) => faults.into_iter().map(|fault| fault.why).collect(),
            Err(other) => return Err(other.into()),
        },
        Err(mistakes) => mistakes.iter().map(|mistake| mistake.show(&toml, "book.toml")).collect(),
    };
    form.fault("toml", "The book was not added; what is wrong stands above, by line.");
    sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &form, &mistakes).await
}
