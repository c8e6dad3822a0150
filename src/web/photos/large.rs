//! Photographs at full size: one, or two beside one another at the same zoom; the contact sheet.

use std::collections::HashMap;

use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;

use super::view::Large;
use crate::actions;
use crate::domain::words::fingerprint::Fingerprint;
use crate::web::app::App;
use crate::web::gate::Seen;
use crate::web::page::{show, show_pdf};
use crate::web::problem::Problem;

type Asked = Query<HashMap<String, String>>;

/// How often larger than the frame a picture is shown; without script each is a link.
pub(super) const ZOOMS: [u32; 4] = [1, 2, 4, 8];

/// The zoom asked for, and whether what is drawn over the pictures is wanted: it is until somebody says `marks=no`.
fn how(asked: &HashMap<String, String>) -> (u32, bool) {
    let typed = asked.get("zoom").and_then(|zoom| zoom.parse().ok());
    let marked = asked.get("marks").is_none_or(|marks| marks != "no");
    (typed.filter(|zoom| ZOOMS.contains(zoom)).unwrap_or(1), marked)
}

fn named(text: &str) -> Result<Fingerprint, Problem> {
    text.parse().map_err(|_| Problem::NotFound)
}

/// One photograph at full size.
pub(super) async fn one(
    seen: Seen,
    Path((_, sha256)): Path<(String, String)>,
    Query(asked): Asked,
) -> Result<Response, Problem> {
    let page = Large::of(&seen, &[named(&sha256)?], how(&asked)).ok_or(Problem::NotFound)?;
    show(StatusCode::OK, &page)
}

/// Two beside one another: `?one=…&other=…&zoom=2`.
pub(super) async fn two(seen: Seen, Query(asked): Asked) -> Result<Response, Problem> {
    let name = |at: &str| asked.get(at).map_or(Err(Problem::NotFound), |text| named(text));
    let both = [name("one")?, name("other")?];
    show(StatusCode::OK, &Large::of(&seen, &both, how(&asked)).ok_or(Problem::NotFound)?)
}

/// The contact sheet: `?part=2` where there are more photographs than one file takes.
pub(super) async fn contact_sheet(
    State(app): State<App>,
    seen: Seen,
    Query(asked): Asked,
) -> Result<Response, Problem> {
    let part = asked.get("part").map_or(Ok(1), |part| part.parse()).map_err(|_| Problem::NotFound)?;
    let found = seen.found().await?;
    let made = actions::recorded::contact_sheet::draw(&seen.who.ctx, seen.build(), part, &found, &app.look).await?;
    Ok(show_pdf(&format!("{}-photographs-{part}.pdf", seen.facts.build.slug), made))
}
