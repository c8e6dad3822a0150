//! Fabrication sheets: what to cut, bend and cope, on screen and as PDF at full size.

mod view;

use std::sync::Arc;

use axum::extract::{Path, Query};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::gate::Seen;
use super::page::{show, show_pdf};
use super::problem::Problem;
use super::routing::{Routes, get};
use super::shown::headed::SheetHead;
use super::shown::plans::planned;
use super::shown::shop_figures::{rates, saw};
use crate::documents::fabrication::{Fabrication, make, sheets, sheets_of, sheets_of_blank};
use crate::domain::derived::findings::Findings;
use crate::domain::steel::dies::Die;
use crate::domain::words::ids::Balloon;
use crate::domain::work::cut_plan::{CutPlan, beside};
use crate::domain::work::fabrication::numbers::numbers;
use crate::domain::work::fabrication::{Bench, Blank};
use crate::domain::work::seams::Rates;
use crate::drawing::Paper;
use crate::drawing::blank::as_file;
use crate::drawing::paper::dxf::dxf;
use crate::drawing::wrap::Wall;
use crate::quantity::Units;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/sheets", get(listed))
        .route("/builds/{build}/sheets.pdf", get(all))
        .route("/builds/{build}/sheets/{file}", get(of_blank))
        .route("/builds/{build}/numbers.json", get(as_json))
        .route("/builds/{build}/members/{member}/sheets.pdf", get(of_one))
}

async fn listed(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let (dies, saw) = (seen.who.ctx.store.dies().await?, saw(&seen.who).await?.0);
    let bench = Bench { dies: &dies, grip: saw.grip.value };
    show(StatusCode::OK, &view::Sheets::of(&seen, &found, &bench))
}

async fn as_json(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let (dies, rates) = (seen.who.ctx.store.dies().await?, rates(&seen).await?.0);
    let plan = planned(&seen, &found).await?;
    let bench = Bench { dies: &dies, grip: plan.saw.grip.value };
    let all = beside(numbers(&found.worked.cage, &bench, &rates), &plan);
    Ok(([(header::CONTENT_TYPE, "application/json")], all.to_string()).into_response())
}

/// What of the wall the templates are for, `?wall=inner`, and on which paper, `?paper=letter`.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct PrintQuery {
    wall: String,
    paper: String,
}

impl PrintQuery {
    fn wall(&self) -> Wall {
        if self.wall == "inner" { Wall::Inner } else { Wall::Outer }
    }

    /// The paper asked for, else the one usual where these units are read.
    fn paper(&self, units: Units) -> Paper {
        Paper::of_key(&self.paper).unwrap_or_else(|| Paper::usual(units))
    }
}

async fn all(seen: Seen, Query(asked): Query<PrintQuery>) -> Result<Response, Problem> {
    printed(seen, None, &asked).await
}

async fn of_one(
    seen: Seen,
    Path((_, member)): Path<(String, String)>,
    Query(asked): Query<PrintQuery>,
) -> Result<Response, Problem> {
    let member: Balloon = member.parse().map_err(|_| Problem::NotFound)?;
    printed(seen, Some(member), &asked).await
}

/// A plate's or gusset's blank: `G1.pdf`, `G1.dxf`, `G1.svg`.
async fn of_blank(
    seen: Seen,
    Path((_, file)): Path<(String, String)>,
    Query(asked): Query<PrintQuery>,
) -> Result<Response, Problem> {
    let (name, kind) = file.split_once('.').ok_or(Problem::NotFound)?;
    let balloon: Balloon = name.parse().map_err(|_| Problem::NotFound)?;
    if kind == "pdf" {
        return printed(seen, Some(balloon), &asked).await;
    }
    let found = seen.found().await?;
    let blank = Blank::of(&found.worked.cage, balloon).ok_or(Problem::NotFound)?;
    let (kind_of_text, how, text) = match kind {
        "dxf" => ("application/dxf", "attachment", dxf(&blank)),
        "svg" => ("image/svg+xml", "inline", as_file(&blank, asked.wall()).to_string()),
        _ => return Err(Problem::NotFound),
    };
    let name = format!("{how}; filename=\"{}-{balloon}.{kind}\"", seen.facts.build.slug);
    let headers = [
        (header::CONTENT_TYPE, kind_of_text.to_owned()),
        (header::CONTENT_DISPOSITION, name),
        (header::CACHE_CONTROL, "private, no-store".to_owned()),
    ];
    Ok((headers, text).into_response())
}

async fn printed(seen: Seen, only: Option<Balloon>, asked: &PrintQuery) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let known = |only| found.worked.cage.member(only).is_some() || Blank::of(&found.worked.cage, only).is_some();
    if found.worked.cage.members.is_empty() || only.is_some_and(|only| !known(only)) {
        return Err(Problem::NotFound);
    }
    let name = only.map_or_else(|| "sheets".to_owned(), |only| only.to_string());
    let name = format!("{}-{name}.pdf", seen.facts.build.slug);
    let (dies, rates) = (seen.who.ctx.store.dies().await?, rates(&seen).await?.0);
    let cuts = planned(&seen, &found).await?;
    let (wall, paper) = (asked.wall(), asked.paper(seen.who.units));
    let work = move || pdf(&seen, &found, (&dies, &rates, &*cuts), (only, wall, paper));
    let made = tokio::task::spawn_blocking(work).await.map_err(|error| Problem::NotMade(error.to_string()))?;
    Ok(show_pdf(&name, made?))
}

fn pdf(
    seen: &Seen,
    found: &Arc<Findings>,
    (dies, rates, cuts): (&[Die], &Rates, &CutPlan),
    (only, wall, paper): (Option<Balloon>, Wall, Paper),
) -> Result<Vec<u8>, Problem> {
    let description = SheetHead::of(seen);
    let of = Fabrication { dies, rates, cuts, wall, paper, ..description.sheets(seen, found) };
    let sheets = match only.map(|only| (only, found.worked.cage.member(only))) {
        Some((_, Some(member))) => sheets_of(&of, member),
        Some((blank, None)) => sheets_of_blank(&of, blank),
        None => sheets(&of),
    };
    make(&of, &sheets).map_err(|error| Problem::NotMade(error.to_string()))
}
