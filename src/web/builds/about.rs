//! What a build is, changed: its name, its words, the day of its first event, and a book where it has none yet.

use askama::Template;
use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use crate::actions::{self, ActionError};
use crate::domain::recorded::facts::BookText;
use crate::domain::shop::builds::{Build, NewBuild};
use crate::domain::shop::people::{Deed, may};
use crate::web::form::{Field, Form, Keeping, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;
use crate::web::shown::book_choices::book_choices;

#[derive(Template)]
#[template(path = "builds/about.html")]
struct AboutSheet {
    sheet: Sheet,
    keeping: Keeping,
    fields: Vec<Field>,
    faults: Vec<String>,
    /// The book it keeps until it is moved; empty where it may take one here.
    book: String,
    /// Where it is moved to another; none for who may not.
    move_to: Option<String>,
}

/// The fields as they are recorded.
fn recorded(build: &Build) -> Pairs {
    let day = build.event_day.map(|day| day.to_string()).unwrap_or_default();
    let pairs = [("name", build.name.clone()), ("about", build.about.clone()), ("event_day", day)];
    let version = ("version".to_owned(), build.version.to_string());
    pairs.into_iter().map(|(at, text)| (at.to_owned(), text)).chain([version]).collect()
}

pub(super) async fn about(seen: Seen) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let form = Form::filled(seen.who.units, recorded(&seen.facts.build));
    sheet(&seen, StatusCode::OK, &form).await
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let build = &seen.facts.build;
    let mut fields = vec![
        form.field("name", "Name in the shop").hint("Its address stays: stickers and links that are out lead there."),
        form.field("about", "What it is").area(),
        form.field("event_day", "First event it must be ready for")
            .day()
            .hint("Labels and papers must still be good on this day."),
    ];
    let book = seen.facts.book.as_ref().map(BookText::describe).unwrap_or_default();
    if build.book.is_none() {
        let books = seen.who.ctx.store.books().await?;
        fields.push(form.field("book", "Rule book").choice(book_choices(&books)));
    }
    let faults = form.other_faults(&fields.iter().collect::<Vec<_>>());
    let moves = build.book.is_some() && may(seen.who.ctx.by.role, Deed::RunShop);
    let move_to = moves.then(|| seen.address("/edition"));
    let shown = AboutSheet { sheet: seen.sheet("What it is"), keeping: form.keeping(), fields, faults, book, move_to };
    show(status, &shown)
}

pub(super) async fn change(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(seen.who.units, typed);
    let mut status = StatusCode::UNPROCESSABLE_ENTITY;
    let event_day = form.parse("event_day", "This does not read as a day. Try 2026-05-16.");
    let chosen = form.parse("book", "Choose a book of the list, or none.");
    if !form.is_faulty() {
        let book = seen.facts.build.book.or(chosen);
        let new =
            NewBuild { name: form.text("name").to_owned(), about: form.text("about").to_owned(), book, event_day };
        match actions::shop::builds::edit(&seen.who.ctx, seen.build(), form.version(), new).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(ActionError::Stale { .. }) => {
                let now = seen.who.ctx.store.build(seen.build()).await?.ok_or(Problem::NotFound)?;
                form.overtaken(recorded(&now));
                status = StatusCode::CONFLICT;
            }
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, status, &form).await
}
