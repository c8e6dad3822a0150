//! The car's own dates: which rules of a book are asked of it goes by them.

use askama::Template;
use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Field, Form, Keeping, Pairs};
use super::gate::Seen;
use super::page::{Sheet, show};
use super::problem::Problem;
use super::routing::{Routes, get};
use crate::actions::{self, ActionError};
use crate::domain::book::RuleBook;
use crate::domain::shop::people::Deed;
use crate::domain::words::car_dates::{CarDate, CarDates};
use crate::domain::words::label_dates::LabelDate;
use crate::store::Stated;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new().route("/builds/{build}/car", get(car).post(record))
}

#[derive(Template)]
#[template(path = "car_dates/car.html")]
struct Car {
    sheet: Sheet,
    base: String,
    keeping: Keeping,
    fields: Vec<Field>,
    faults: Vec<String>,
    /// Each rule that goes by a date: its clause and of which cars it is asked.
    rules: Vec<(String, String)>,
}

async fn car(seen: Seen) -> Result<Response, Problem> {
    let form = Form::filled(seen.who.units, recorded(&seen).await?);
    sheet(&seen, StatusCode::OK, &form).await
}

/// What is recorded of the car, and by which statement.
async fn recorded(seen: &Seen) -> Result<Pairs, Problem> {
    let store = &seen.who.ctx.store;
    // the statement is read first: who reads older dates than it names would overwrite what he has not seen
    let version = store.stated(Stated::CarDates(seen.build())).await?;
    let known = store.facts(seen.build()).await?.car;
    let dates = CarDate::ALL
        .map(|date| (date.key().to_owned(), known.of(date).map(|date| date.to_string()).unwrap_or_default()));
    Ok(dates.into_iter().chain([("version".to_owned(), version.to_string())]).collect())
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let fields: Vec<Field> = CarDate::ALL
        .iter()
        .map(|date| {
            form.field(date.key(), date.asked()).hint("As exactly as the paper says: 2004, 2004-06 or 2004-06-15.")
        })
        .collect();
    let dated = found.worked.rules.iter().flat_map(RuleBook::rules);
    let rules = dated.filter_map(|rule| Some((rule.clause.clone(), rule.applies_when?.text()))).collect();
    let faults = form.other_faults(&fields.iter().collect::<Vec<_>>());
    let keeping = form.keeping();
    show(status, &Car { sheet: seen.sheet("Car's dates"), base: seen.address(""), keeping, fields, faults, rules })
}

async fn record(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let mut form = Form::of(seen.who.units, typed);
    let [registered, homologated, log_book] = CarDate::ALL.map(|date| read(&mut form, date.key()));
    if form.is_faulty() {
        return sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await;
    }
    let dates = CarDates { registered, homologated, log_book, at: None };
    match actions::recorded::car_dates::record(&seen.who.ctx, seen.build(), dates, form.over()).await {
        Ok(_) => Ok(Redirect::to(&seen.address("/verdicts")).into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
        }
        Err(ActionError::Stale { .. }) => {
            form.overtaken(recorded(&seen).await?);
            sheet(&seen, StatusCode::CONFLICT, &form).await
        }
        Err(other) => Err(other.into()),
    }
}

fn read(form: &mut Form, at: &str) -> Option<LabelDate> {
    let text = form.text(at).to_owned();
    if text.is_empty() {
        return None;
    }
    text.parse().map_err(|why: String| form.fault(at, why)).ok()
}
