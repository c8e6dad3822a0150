//! Pictures by their hash: the views, and the photograph as it was sent.

use axum::extract::{Path, State};
use axum::http::HeaderMap;
use axum::response::Response;

use crate::actions::recorded::looking::Here;
use crate::domain::words::fingerprint::Fingerprint;
use crate::web::app::App;
use crate::web::gate::SeenBuild;
use crate::web::problem::Problem;
use crate::web::shown::sent_photo::{Asked, sent_photo};

/// A view of a photograph of this build, or the file as it was sent. Whether the browser may see it at all is known before
/// anything is read.
pub(super) async fn picture(
    State(app): State<App>,
    seen: SeenBuild,
    Path((_, sha256, name)): Path<(String, String, String)>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let sha256: Fingerprint = sha256.parse().map_err(|_| Problem::NotFound)?;
    let here = Here::find(&seen.who.ctx, seen.build.id, sha256.clone()).await?;
    let asked = Asked { sha256: &sha256, name: &name, slug: &seen.build.slug, headers: &headers };
    sent_photo(&here, &app.look, asked).await
}
