//! What is read off the car with caliper and tape, because the book sets a limit on it.

mod view;

use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::csv;
use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get};
use crate::actions;
use crate::domain::derived::findings::Findings;
use crate::domain::derived::measures;
use crate::domain::derived::measures::NewMeasured;
use crate::domain::derived::measures::{ReadOff, ToMeasure};
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/measures", get(measures).post(record))
        .route("/builds/{build}/measures.csv", get(table))
}

async fn measures(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    sheet(&seen, &found, StatusCode::OK, &Form::empty(seen.who.units))
}

fn sheet(seen: &Seen, found: &Findings, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    show(status, &view::Measures::of(seen, found, form))
}

/// The list as a table: each figure in its base unit, which stands beside it.
async fn table(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let head = [
        "part",
        "measure",
        "limit",
        "by the book",
        "figure",
        "unit",
        "as typed",
        "by",
        "when",
        "read with",
        "of the earlier piece",
    ];
    let all = measures::to_measure(&seen.facts, &found, seen.who.units);
    let rows = all.iter().map(|wanted| view::row(&seen, wanted));
    csv::table(&format!("{}-measures.csv", seen.facts.build.slug), head, rows)
}

/// The field of a figure: `gap-to-the-body-M2`.
fn field_of(wanted: &ToMeasure) -> String {
    format!("{}-{}", wanted.measure.word().replace(' ', "-"), wanted.of)
}

/// The field of what a measure is read with: `tool-gap-to-the-body`.
fn tool_of(measure: Measure) -> String {
    format!("tool-{}", measure.word().replace(' ', "-"))
}

/// Records every figure that was typed, or none while one of them will not do.
async fn record(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let (found, units) = (seen.found().await?, seen.who.units);
    let mut form = Form::of(units, typed);
    let mut read: Vec<NewMeasured> = Vec::new();
    for wanted in measures::to_measure(&seen.facts, &found, units) {
        let at = field_of(&wanted);
        let text = form.text(&at).to_owned();
        if text.is_empty() {
            continue;
        }
        match ReadOff::read(wanted.measure, &text, form.units()) {
            Ok(read_off) => {
                form.says(&at, read_off.text());
                let tool = form.text(&tool_of(wanted.measure)).parse().ok();
                let tool = tool.or_else(|| Tool::of(wanted.measure, units).first().copied());
                let new = NewMeasured { measure: wanted.measure, of: wanted.of, read: read_off, tool };
                for fault in new.faults() {
                    form.fault(&at, fault.why);
                }
                read.push(new);
            }
            Err(unreadable) => form.fault(&at, unreadable.to_string()),
        }
    }
    if read.is_empty() && !form.is_faulty() {
        form.fault("figures", "No figure was typed.");
    }
    if form.is_faulty() {
        return sheet(&seen, &found, StatusCode::UNPROCESSABLE_ENTITY, &form);
    }
    actions::recorded::measures::record(&seen.who.ctx, seen.build(), read).await?;
    Ok(Redirect::to(&seen.address("/measures")).into_response())
}
