//! Seats, belts and bottles: what their labels show, and until when the book takes them.

mod asked;
mod moving;
mod view;

use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;

use super::csv;
use super::form::{Form, Pairs};
use super::gate::{Seen, numbered};
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::{self, ActionError};
use crate::domain::book::RuleBook;
use crate::domain::recorded::kit::NewItem;
use crate::domain::recorded::kit::{KitItem, Label};
use crate::domain::words::ids::Kind;
use crate::domain::words::label_dates::LabelDate;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/kit", get(kit).post(add))
        .route("/builds/{build}/kit.csv", get(table))
        .route("/builds/{build}/kit/{item}", get(item).post(change))
        .route("/builds/{build}/kit/{item}/move", post(move_on))
}

/// Which item of the book the form is for.
#[derive(Debug, Default, Deserialize)]
struct For {
    item: Option<String>,
}

/// The sheet, with the form for the item that was chosen, else for the first that the book asks for and nobody recorded.
async fn kit(seen: Seen, Query(asked): Query<For>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let first = || asked::open(found.worked.rules.as_ref(), &seen.facts.kit).into_iter().next();
    let item = asked.item.or_else(first).unwrap_or_default();
    let form = Form::filled(seen.who.units, vec![("item".to_owned(), item)]);
    sheet(&seen, StatusCode::OK, &form).await
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(status, &view::KitSheet::of(seen, &found, form))
}

async fn add(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    let found = seen.found().await?;
    if let Some(new) = read(&mut form, found.worked.rules.as_ref()) {
        match actions::recorded::kit::add(&seen.who.ctx, seen.build(), new).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/kit")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

/// The list as a table: dates as the labels print them.
async fn table(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let head =
        ["item no", "item", "label", "standard", "serial", "made", "ends as printed", "checked", "by the book", "note"];
    let rows = seen.facts.kit.iter().flat_map(|item| view::rows(&seen, &found, item));
    csv::table(&format!("{}-kit.csv", seen.facts.build.slug), head, rows)
}

fn named<'s>(seen: &'s Seen, balloon: &str) -> Result<&'s KitItem, Problem> {
    let number = numbered(balloon, Kind::Kit)?;
    seen.facts.kit.iter().find(|item| item.number == number).ok_or(Problem::NotFound)
}

async fn item(seen: Seen, Path((_, balloon)): Path<(String, String)>) -> Result<Response, Problem> {
    let number = numbered(&balloon, Kind::Kit)?;
    if let Some((_, stay)) = moving::gone(&seen).find(|(_, stay)| stay.item.number == number) {
        return show(StatusCode::OK, &view::GoneSheet::of(&seen, stay));
    }
    let item = named(&seen, &balloon)?;
    let today = seen.who.ctx.clock.today().to_string();
    let form = Form::filled(seen.who.units, vec![("move_day".to_owned(), today)]);
    item_sheet(&seen, StatusCode::OK, item, (None, &form)).await
}

/// The sheet of an item: what was typed of the item itself, none when it is as recorded, and of its move.
async fn item_sheet(
    seen: &Seen,
    status: StatusCode,
    item: &KitItem,
    (typed, of_move): (Option<&Form>, &Form),
) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let recorded = Form::filled(seen.who.units, view::recorded(item, found.worked.rules.as_ref()));
    let moving = moving::MoveForm::of(moving::others(seen, item).await?, item, of_move);
    show(status, &view::ItemSheet::of((seen, &found), item, typed.unwrap_or(&recorded), moving))
}

async fn move_on(
    seen: Seen,
    Path((_, balloon)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let item = named(&seen, &balloon)?;
    let mut form = Form::of(seen.who.units, typed);
    if let Some(moving) = moving::read(&mut form, &moving::others(&seen, item).await?) {
        let version = form.text("version").parse().unwrap_or_default();
        match actions::recorded::kit::moves::move_on(&seen.who.ctx, seen.build(), (item.id, version), moving).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/kit")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    item_sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, item, (None, &form)).await
}

async fn change(
    seen: Seen,
    Path((_, balloon)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let item = named(&seen, &balloon)?;
    let found = seen.found().await?;
    let mut form = Form::of(seen.who.units, typed);
    let mut status = StatusCode::UNPROCESSABLE_ENTITY;
    if let Some(new) = read(&mut form, found.worked.rules.as_ref()) {
        let version = form.version();
        match actions::recorded::kit::change(&seen.who.ctx, seen.build(), item.id, version, new).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/kit")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(ActionError::Stale { .. }) => {
                let now = seen.who.ctx.store.facts(seen.build()).await?;
                let now = now.kit.into_iter().find(|there| there.id == item.id).ok_or(Problem::NotFound)?;
                form.overtaken(view::recorded(&now, found.worked.rules.as_ref()));
                status = StatusCode::CONFLICT;
            }
            Err(other) => return Err(other.into()),
        }
    }
    let of_move = Form::empty(seen.who.units);
    item_sheet(&seen, status, item, (Some(&form), &of_move)).await
}

fn date(form: &mut Form, at: &str) -> Option<LabelDate> {
    let text = form.text(at);
    if text.is_empty() {
        return None;
    }
    match text.parse() {
        Ok(date) => Some(date),
        Err(why) => {
            form.fault(at, why);
            None
        }
    }
}

fn label(form: &mut Form, begins: &str) -> Label {
    let at = |field: &str| format!("{begins}{field}");
    let (standard, serial) = (form.text(&at("standard")).to_owned(), form.text(&at("serial")).to_owned());
    let (made, ends_printed) = (date(form, &at("made")), date(form, &at("ends_printed")));
    Label { standard, serial, made, ends_printed, checked: date(form, &at("checked")) }
}

fn read(form: &mut Form, rules: Option<&RuleBook>) -> Option<NewItem> {
    let chosen = form.text("item").to_owned();
    let item = if chosen.is_empty() { form.text("other_item").to_owned() } else { chosen };
    let standard = asked::standard(form, rules, &item);
    let (first, second) = (Label { standard, ..label(form, "") }, label(form, asked::SECOND));
    if form.is_faulty() {
        return None;
    }
    let second_label = (second != Label::default()).then_some(second);
    Some(NewItem { item, label: first, second_label, note: form.text("note").to_owned() })
}
