//! Styles, scripts and fonts, inside the binary.

use axum::extract::Path;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use rust_embed::RustEmbed;

use super::problem::Problem;

#[derive(RustEmbed)]
#[folder = "static/"]
struct Files;

/// One file of them; a browser that has it already is told so.
pub(crate) async fn file(Path(path): Path<String>, asked: HeaderMap) -> Result<Response, Problem> {
    serve(&path, &asked)
}

/// The icon that browsers ask for on their own.
pub(crate) async fn icon(asked: HeaderMap) -> Result<Response, Problem> {
    serve("icon.svg", &asked)
}

fn serve(path: &str, asked: &HeaderMap) -> Result<Response, Problem> {
    let file = Files::get(path).ok_or(Problem::NotFound)?;
    let hash = file.metadata.sha256_hash();
    let tag = hash.iter().take(12).fold(String::from("\""), |tag, byte| format!("{tag}{byte:02x}")) + "\"";
    let kept = [(header::ETAG, tag.clone()), (header::CACHE_CONTROL, "no-cache".to_owned())];
    if asked.get(header::IF_NONE_MATCH).is_some_and(|known| known.as_bytes() == tag.as_bytes()) {
        return Ok((StatusCode::NOT_MODIFIED, kept).into_response());
    }
    let kind = [(header::CONTENT_TYPE, file.metadata.mimetype().to_owned())];
    Ok((kept, kind, file.data).into_response())
}
