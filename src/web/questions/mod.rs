//! Questions: asked of the build or a part of it, answered, settled, opened again.

mod view;

use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::csv;
use super::form::{Form, Pairs};
use super::gate::{Seen, numbered};
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::{self, ActionError};
use crate::domain::recorded::questions::Question;
use crate::domain::words::ids::{Balloon, Kind};

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/questions", get(questions).post(ask))
        .route("/builds/{build}/questions.csv", get(table))
        .route("/builds/{build}/questions/{question}/answer", post(answer))
        .route("/builds/{build}/questions/{question}/settle", post(settle))
        .route("/builds/{build}/questions/{question}/reopen", post(reopen))
}

/// `?about=J7` fills in what is asked about.
async fn questions(seen: Seen, Query(asked): Query<Pairs>) -> Result<Response, Problem> {
    let about = asked.into_iter().filter(|(name, _)| name == "about").collect();
    let form = Form::filled(seen.who.units, about);
    sheet(&seen, StatusCode::OK, &form).await
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(status, &view::Questions::of(seen, &found, form))
}

/// The list as a table, each answer with who and when.
async fn table(seen: Seen) -> Result<Response, Problem> {
    let head = ["question", "about", "asked", "by", "with a reply", "text", "answers", "settled"];
    let rows = seen.facts.questions.iter().map(|question| view::row(&seen, question));
    csv::table(&format!("{}-questions.csv", seen.facts.build.slug), head, rows)
}

fn back(seen: &Seen) -> Response {
    Redirect::to(&seen.address("/questions")).into_response()
}

async fn ask(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    let about: Option<Balloon> = form.parse("about", "A number of this build, like J7; or leave it empty.");
    if let Some(about) = about
        && !view::is_here(&seen, &*seen.found().await?, about)
    {
        form.fault("about", format!("There is no {about} in this build. Leave it empty to ask about the build."));
    }
    if !form.is_faulty() {
        match actions::recorded::questions::ask(&seen.who.ctx, seen.build(), about, form.text("text")).await {
            Ok(_) => return Ok(back(&seen)),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

fn named<'s>(seen: &'s Seen, balloon: &str) -> Result<&'s Question, Problem> {
    let number = numbered(balloon, Kind::Question)?;
    seen.facts.questions.iter().find(|question| question.number == number).ok_or(Problem::NotFound)
}

async fn answer(
    seen: Seen,
    Path((_, balloon)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let question = named(&seen, &balloon)?;
    let mut form = Form::of(seen.who.units, typed);
    let text = view::answer_field(question);
    let capture = form.parse(&view::capture_field(question), "Choose a photograph of the list, or none.");
    if !form.is_faulty() {
        let (ctx, words) = (&seen.who.ctx, form.text(&text).to_owned());
        match actions::recorded::questions::answer(ctx, seen.build(), question.id, &words, capture).await {
            Ok(()) => return Ok(back(&seen)),
            Err(ActionError::Refused(faults)) => {
                for fault in faults {
                    form.fault(&text, fault.why);
                }
            }
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

async fn settle(seen: Seen, Path((_, balloon)): Path<(String, String)>) -> Result<Response, Problem> {
    let question = named(&seen, &balloon)?;
    actions::recorded::questions::settle(&seen.who.ctx, seen.build(), question.id).await?;
    Ok(back(&seen))
}

async fn reopen(seen: Seen, Path((_, balloon)): Path<(String, String)>) -> Result<Response, Problem> {
    let question = named(&seen, &balloon)?;
    actions::recorded::questions::reopen(&seen.who.ctx, seen.build(), question.id).await?;
    Ok(back(&seen))
}
