//! Pictures by their hash: the views, and the photograph as it was sent.

use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};

use crate::actions::looking;
use crate::domain::fingerprint::Fingerprint;
use crate::imaging::Kind;
use crate::imaging::kind::FIRST_BYTES;
use crate::store::vault::View;
use crate::web::app::App;
use crate::web::gate::SeenBuild;
use crate::web::problem::Problem;

/// The name is the content's, so a browser may keep it for a day without asking.
const FOR_A_DAY: &str = "private, max-age=86400, immutable";

/// A view of a photograph of this build, or the file as it was sent.
pub(super) async fn picture(
    State(app): State<App>,
    seen: SeenBuild,
    Path((_, sha256, view)): Path<(String, String, String)>,
    asked: HeaderMap,
) -> Result<Response, Problem> {
    let sha256: Fingerprint = sha256.parse().map_err(|_| Problem::NotFound)?;
    let (ctx, build) = (&seen.who.ctx, seen.build.id);
    let (bytes, view) = match view.as_str() {
        "original" => (looking::original(ctx, build, &sha256).await?, None),
        name => {
            let view = view_called(name).ok_or(Problem::NotFound)?;
            (looking::view(ctx, build, &sha256, view, &app.look).await?, Some(view))
        }
    };
    let part = view.map_or_else(|| "original".to_owned(), |view| view.to_string());
    let tag = format!("\"{sha256}-{part}\"");
    let known = asked.get(header::IF_NONE_MATCH).is_some_and(|known| known.as_bytes() == tag.as_bytes());
    let kept = [(header::ETAG, tag), (header::CACHE_CONTROL, FOR_A_DAY.to_owned())];
    if known {
        return Ok((StatusCode::NOT_MODIFIED, kept).into_response());
    }
    if view.is_some() {
        return Ok((kept, [(header::CONTENT_TYPE, "image/jpeg")], bytes).into_response());
    }
    let (kind, ending) = match Kind::of(bytes.get(..FIRST_BYTES).unwrap_or(&bytes)) {
        Kind::Jpeg => ("image/jpeg", "jpg"),
        Kind::Png => ("image/png", "png"),
        Kind::WebP => ("image/webp", "webp"),
        _ => ("application/octet-stream", "bin"),
    };
    // what came from outside is handed over as a file and runs nothing
    let name = sha256.text().get(..16).unwrap_or_default();
    let apart = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{}-{name}.{ending}\"", seen.build.slug)),
        (header::CONTENT_SECURITY_POLICY, "sandbox; default-src 'none'".to_owned()),
    ];
    Ok((kept, apart, bytes).into_response())
}

fn view_called(name: &str) -> Option<View> {
    match name {
        "screen" => Some(View::Screen),
        "thumbnail" => Some(View::Thumb),
        "print" => Some(View::Print),
        _ => None,
    }
}
