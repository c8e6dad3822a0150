//! Drafts of rule books: begun, read, written as text, released, set aside.

use axum::extract::{Form as Posted, FromRef, FromRequestParts, Path};
use axum::http::StatusCode;
use axum::http::request::Parts;
use axum::response::{IntoResponse, Redirect, Response};

use super::draft_view;
use crate::actions::{self, ActionError};
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::{BookId, DraftId};
use crate::store::book::drafts::Draft;
use crate::web::app::App;
use crate::web::form::{Form, Pairs};
use crate::web::gate::{SignedIn, named};
use crate::web::page::show;
use crate::web::problem::Problem;

/// The draft of an address.
pub(super) async fn draft_of(who: &SignedIn, id: &str) -> Result<Draft, Problem> {
    let id: DraftId = id.parse().map_err(|_| Problem::NotFound)?;
    who.ctx.store.draft(id).await?.ok_or(Problem::NotFound)
}

/// A draft of the address, for somebody who may write it.
pub(super) struct AtDraft {
    pub(super) who: SignedIn,
    pub(super) draft: Draft,
}

impl<S: Send + Sync> FromRequestParts<S> for AtDraft
where
    App: FromRef<S>,
{
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        let who = SignedIn::from_request_parts(parts, state).await?.who_may(Deed::RunShop)?;
        let draft = draft_of(&who, &named(parts, state, "draft").await?).await?;
        Ok(Self { who, draft })
    }
}

/// The address of a draft's sheet.
pub(super) fn address(id: DraftId) -> String {
    format!("/books/drafts/{id}")
}

/// Begins a draft from an edition.
pub(super) async fn begin(
    who: SignedIn,
    Path(book): Path<String>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let id: BookId = book.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(who.units, typed);
    match actions::book::drafts::begin(&who.ctx, id, form.text("edition")).await {
        Ok(draft) => Ok(Redirect::to(&address(draft.id)).into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            super::book_sheet(&who, id, StatusCode::UNPROCESSABLE_ENTITY, &form).await
        }
        Err(other) => Err(other.into()),
    }
}

/// Keeps a text as a draft, whatever is wrong with it.
pub(super) async fn keep_text(who: SignedIn, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let mut form = Form::of(who.units, typed);
    match actions::book::drafts::keep_text(&who.ctx, text_of(&form)).await {
        Ok(draft) => Ok(Redirect::to(&address(draft.id)).into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            super::sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &form, &[]).await
        }
        Err(other) => Err(other.into()),
    }
}

/// A book's text as it was typed: browsers end its lines in two characters.
fn text_of(form: &Form) -> String {
    form.raw("toml").replace("\r\n", "\n")
}

/// A draft's sheet.
pub(super) async fn sheet(who: SignedIn, Path(draft): Path<String>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    let draft = draft_of(&who, &draft).await?;
    let form = Form::empty(who.units);
    show(StatusCode::OK, &draft_view::DraftSheet::of(&who, &draft, &form))
}

/// A draft's text, to be changed as it is.
pub(super) async fn text(AtDraft { who, draft }: AtDraft) -> Result<Response, Problem> {
    let stands = vec![("toml".to_owned(), draft.toml.clone()), ("version".to_owned(), draft.version.to_string())];
    let form = Form::filled(who.units, stands);
    show(StatusCode::OK, &draft_view::TextSheet::of(&who, &draft, &form))
}

/// Saves a draft's text.
pub(super) async fn save_text(
    AtDraft { who, draft }: AtDraft,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let mut form = Form::of(who.units, typed);
    let version = form.version();
    let with_mistakes = form.text("keep") == "yes";
    let toml = text_of(&form);
    match actions::book::drafts::save_text(&who.ctx, (draft.id, version), toml.clone(), with_mistakes).await {
        Ok(_) => Ok(Redirect::to(&address(draft.id)).into_response()),
        Err(ActionError::Refused(faults)) => {
            let mistakes: Vec<String> = faults.into_iter().map(|fault| fault.why).collect();
            form.fault("toml", "It was not saved; what is wrong stands above, by line.");
            let page = draft_view::TextSheet::of(&who, &draft, &form).with_mistakes(mistakes);
            show(StatusCode::UNPROCESSABLE_ENTITY, &page)
        }
        Err(ActionError::Stale { .. }) => {
            let now = draft_of(&who, &draft.id.to_string()).await?;
            let base = who.ctx.store.draft_at(draft.id, version).await?;
            let stands = vec![("toml".to_owned(), toml), ("version".to_owned(), now.version.to_string())];
            let form = Form::filled(who.units, stands);
            let page = draft_view::TextSheet::of(&who, &now, &form).overtaken(base.as_deref(), &now);
            show(StatusCode::CONFLICT, &page)
        }
        Err(other) => Err(other.into()),
    }
}

/// Releases a draft.
pub(super) async fn put_in_use(
    AtDraft { who, draft }: AtDraft,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let mut form = Form::of(who.units, typed);
    let version = form.version();
    match actions::book::drafts::put_in_use(&who.ctx, draft.id, version).await {
        Ok(book) => Ok(Redirect::to(&format!("/books/{}", book.id)).into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            show(StatusCode::UNPROCESSABLE_ENTITY, &draft_view::DraftSheet::of(&who, &draft, &form))
        }
        Err(ActionError::Stale { .. }) => {
            let now = draft_of(&who, &draft.id.to_string()).await?;
            form.fault(
                "use",
                "Somebody else saved this draft meanwhile. Look at it as it stands now, then release it.",
            );
            show(StatusCode::CONFLICT, &draft_view::DraftSheet::of(&who, &now, &form))
        }
        Err(other) => Err(other.into()),
    }
}

/// Sets a draft aside.
pub(super) async fn set_aside(
    AtDraft { who, draft }: AtDraft,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let mut form = Form::of(who.units, typed);
    match actions::book::drafts::set_aside(&who.ctx, draft.id, form.text("why")).await {
        Ok(()) => Ok(Redirect::to("/books").into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            show(StatusCode::UNPROCESSABLE_ENTITY, &draft_view::DraftSheet::of(&who, &draft, &form))
        }
        Err(other) => Err(other.into()),
    }
}
