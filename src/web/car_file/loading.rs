//! A car's file as it comes in by a form: the car is loaded from it, or a build begun by it.

use axum::extract::multipart::{Field, MultipartRejection};
use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::arriving::{pass_on, way};
use super::view;
use super::view::Asked;
use crate::actions::ActionError;
use crate::actions::shop::builds::TWIN;
use crate::actions::shop::car_file::{BookFor, FILE, NewByPattern, begin_by, load as load_file};
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::limits;
use crate::web::app::App;
use crate::web::form::{Form, Pairs};
use crate::web::gate::SignedIn;
use crate::web::page::show;
use crate::web::problem::Problem;

/// The sheet that asks for a file.
pub(super) async fn asked(who: SignedIn) -> Result<Response, Problem> {
    allowed(&who)?;
    show(StatusCode::OK, &view::Load::of(&who, &asked_for(&who).await?, Vec::new()))
}

fn allowed(who: &SignedIn) -> Result<(), Problem> {
    if may(who.ctx.by.role, Deed::RunShop) { Ok(()) } else { Err(Problem::NotFound) }
}

/// A form in which the pattern's book is proposed, the books of the shop with it.
async fn asked_for(who: &SignedIn) -> Result<Asked, Problem> {
    let proposed = vec![("book".to_owned(), view::AS_THE_PATTERN.to_owned())];
    Ok(Asked { form: Form::filled(who.units, proposed), books: who.ctx.store.books().await? })
}

const NO_FILE: &str = "Choose the car's file first.";
const BUSY: &str = "Another car's file is being saved or loaded. Wait until that is done, and choose this one again.";

/// Whether a field brings a file.
fn is_file(field: &Field<'_>) -> bool {
    field.file_name().is_some_and(|name| !name.is_empty())
}

/// Takes a file in, or says why not and changes nothing.
pub(super) async fn load(
    State(app): State<App>,
    who: SignedIn,
    form: Result<Multipart, MultipartRejection>,
) -> Result<Response, Problem> {
    allowed(&who)?;
    let asked = asked_for(&who).await?;
    let told = |status, why: Vec<String>| show(status, &view::Load::of(&who, &asked, why));
    let none = || told(StatusCode::UNPROCESSABLE_ENTITY, vec![NO_FILE.to_owned()]);
    let Ok(mut form) = form else { return none() };
    let Ok(_turn) = app.cars.0.try_acquire() else {
        return told(StatusCode::SERVICE_UNAVAILABLE, vec![BUSY.to_owned()]);
    };
    let Some(field) = form.next_field().await.ok().flatten().filter(is_file) else { return none() };
    let (to, arriving) = way();
    let (loaded, ()) = tokio::join!(load_file(&who.ctx, arriving, |_| ()), pass_on(field, to));
    match loaded {
        Ok(loaded) => Ok(Redirect::to(&format!("/builds/{}/car-file", loaded.slug)).into_response()),
        Err(ActionError::Refused(faults)) => {
            told(StatusCode::UNPROCESSABLE_ENTITY, faults.into_iter().map(|fault| fault.why).collect())
        }
        Err(other) => Err(other.into()),
    }
}

/// Begins a build by a file as its pattern, or says why not and changes nothing.
pub(super) async fn begin(
    State(app): State<App>,
    who: SignedIn,
    form: Result<Multipart, MultipartRejection>,
) -> Result<Response, Problem> {
    allowed(&who)?;
    let mut asked = asked_for(&who).await?;
    let Ok(mut sent) = form else {
        return told_at(&who, asked, StatusCode::UNPROCESSABLE_ENTITY, FILE, NO_FILE);
    };
    let mut typed = Pairs::new();
    let field = loop {
        match sent.next_field().await.ok().flatten() {
            Some(field) if is_file(&field) => break Some(field),
            Some(field) if typed.len() < MOST_FIELDS => {
                let name = field.name().unwrap_or_default().to_owned();
                typed.push((name, text(field).await));
            }
            _ => break None,
        }
    };
    asked.form = Form::of(who.units, typed);
    let Some(field) = field else {
        return told_at(&who, asked, StatusCode::UNPROCESSABLE_ENTITY, FILE, NO_FILE);
    };
    let Ok(_turn) = app.cars.0.try_acquire() else {
        return told_at(&who, asked, StatusCode::SERVICE_UNAVAILABLE, FILE, BUSY);
    };
    let Some(new) = new_of(&mut asked) else {
        return show(StatusCode::UNPROCESSABLE_ENTITY, &view::Load::of(&who, &asked, Vec::new()));
    };
    let (to, arriving) = way();
    let (begun, ()) = tokio::join!(begin_by(&who.ctx, new, arriving, |_| ()), pass_on(field, to));
    match begun {
        Ok(begun) => Ok(Redirect::to(&format!("/builds/{}/cage/pattern", begun.build.slug)).into_response()),
        Err(ActionError::Refused(faults)) => {
            asked.form.refuse(faults);
            show(StatusCode::UNPROCESSABLE_ENTITY, &view::Load::of(&who, &asked, Vec::new()))
        }
        Err(other) => Err(other.into()),
    }
}

fn told_at(who: &SignedIn, mut asked: Asked, status: StatusCode, at: &str, why: &str) -> Result<Response, Problem> {
    asked.form.fault(at, why);
    show(status, &view::Load::of(who, &asked, Vec::new()))
}

/// What is typed of the new build; none with a fault where its book is none of the list.
fn new_of(asked: &mut Asked) -> Option<NewByPattern> {
    let book = match asked.form.text("book") {
        view::AS_THE_PATTERN => BookFor::TheSame,
        "" => BookFor::This(None),
        id => {
            let Some(book) = asked.books.iter().find(|book| book.id.to_string() == id) else {
                asked.form.fault("book", "Choose a book of the list, or none.");
                return None;
            };
            BookFor::This(Some(book.id))
        }
    };
    let another = asked.form.text(TWIN) == "yes";
    Some(NewByPattern { name: asked.form.text("name").to_owned(), book, another })
}

/// Most fields before the file.
const MOST_FIELDS: usize = 10;

/// The text of a field; what is longer than any text may be is cut off, and then refused for its length.
async fn text(mut field: Field<'_>) -> String {
    let mut bytes = Vec::new();
    while let Ok(Some(chunk)) = field.chunk().await {
        if bytes.len() <= limits::TEXT * 4 {
            bytes.extend_from_slice(&chunk);
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}
