//! Making a build: the newest book is proposed, and a name that a build has already is asked about.

use std::collections::HashMap;

use askama::Template;
use axum::extract::{Form as Posted, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use crate::actions::{self, ActionError};
use crate::domain::shop::builds::NewBuild;
use crate::domain::shop::people::{Deed, may};
use crate::store::book::rule_books::Book;
use crate::web::form::{Field, Form, Pairs};
use crate::web::gate::SignedIn;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;
use crate::web::shown::book_choices::book_choices;

/// Beginning a build.
#[derive(Template)]
#[template(path = "builds/begin.html")]
struct Begin {
    sheet: Sheet,
    fields: Vec<Field>,
    faults: Vec<String>,
    /// Whether a build has this name already, and it is asked whether this is another car.
    twin: bool,
    may_load: bool,
}

impl Begin {
    fn of(who: &SignedIn, books: &[Book], form: &Form, twin: bool) -> Self {
        let fields = vec![
            form.begins("name", "Name in the shop").hint("Short, as people here call it: Teasel Coupe."),
            form.field("book", "Rule book").choice(book_choices(books)),
            form.field("event_day", "First event it must be ready for")
                .day()
                .hint("If it is known. Labels and papers must still be good on this day."),
            form.field("about", "What it is, in a sentence").area(),
        ];
        let faults = form.other_faults(&fields.iter().collect::<Vec<_>>());
        let may_load = may(who.ctx.by.role, Deed::RunShop);
        Self { sheet: Sheet::of_shop(who, "Make a build"), fields, faults, twin, may_load }
    }
}

/// The form, with the book that is asked for, else the newest.
pub(super) async fn asked(who: SignedIn, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SetUpBuilds)?;
    let books = who.ctx.store.books().await?;
    let wanted = asked.get("book").and_then(|id| books.iter().find(|book| book.id.to_string() == *id));
    let book = wanted.or(books.last()).map(|book| book.id.to_string()).unwrap_or_default();
    let form = Form::filled(who.units, vec![("book".to_owned(), book)]);
    show(StatusCode::OK, &Begin::of(&who, &books, &form, false))
}

/// Makes it.
pub(super) async fn begin(who: SignedIn, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(who.units, typed);
    let event_day = form.parse("event_day", "This does not read as a day. Try 2026-05-16.");
    let book = form.parse("book", "Choose a book of the list, or none.");
    let mut twin = form.text("another") == "yes";
    if !form.is_faulty() {
        let new =
            NewBuild { name: form.text("name").to_owned(), about: form.text("about").to_owned(), book, event_day };
        let made = if twin {
            actions::shop::builds::begin_another(&who.ctx, new).await
        } else {
            actions::shop::builds::begin(&who.ctx, new).await
        };
        match made {
            Ok(build) => return Ok(Redirect::to(&format!("/builds/{}", build.slug)).into_response()),
            Err(ActionError::Refused(faults)) => {
                twin |= faults.iter().any(|fault| fault.at == actions::shop::builds::TWIN);
                form.refuse(faults);
            }
            Err(other) => return Err(other.into()),
        }
    }
    let books = who.ctx.store.books().await?;
    show(StatusCode::UNPROCESSABLE_ENTITY, &Begin::of(&who, &books, &form, twin))
}
