//! Styles, scripts and fonts, inside the binary.

use axum::extract::Path;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use rust_embed::RustEmbed;
use serde_json::json;

use super::known::known;
use super::problem::Problem;
use crate::domain::words::fingerprint::Fingerprint;

const WORKER: &str = "worker.js";

#[derive(RustEmbed)]
#[folder = "static/"]
struct Files;

/// One file of them; a browser that has it already is told so.
pub(crate) async fn file(Path(path): Path<String>, asked: HeaderMap) -> Result<Response, Problem> {
    serve(&path, &asked)
}

/// Every file of them that the shell needs, and what names their present state.
fn shell() -> (Vec<String>, String) {
    let mut files: Vec<_> = Files::iter().filter(|name| !name.starts_with("cage-file") && name != WORKER).collect();
    files.sort();
    // the sheets of the shell are made of these
    let mut state = [
        include_str!("../../templates/photos/offline.html"),
        include_str!("../../templates/cage/tape.html"),
        include_str!("../../templates/welds/alone.html"),
        include_str!("../../templates/_sheet.html"),
    ]
    .concat();
    for file in Files::iter().filter_map(|name| Files::get(&name)) {
        state.extend(file.metadata.sha256_hash().iter().map(|byte| format!("{byte:02x}")));
    }
    let paths = files
        .iter()
        .map(|name| format!("/static/{name}"))
        .chain(["/offline", "/offline/tape", "/offline/welds"].map(str::to_owned))
        .collect();
    (paths, Fingerprint::of(state.as_bytes()).text().get(..16).unwrap_or_default().to_owned())
}

/// The service worker, at the top so that it stands before every address of ours; what it keeps is said at its beginning.
pub(crate) async fn worker() -> Result<Response, Problem> {
    let file = Files::get(WORKER).ok_or(Problem::NotFound)?;
    let (paths, state) = shell();
    let script = String::from_utf8_lossy(&file.data);
    let text = format!("const VERSION = {}, SHELL = {};\n{script}", json!(state), json!(paths));
    Ok(([(header::CONTENT_TYPE, "text/javascript"), (header::CACHE_CONTROL, "no-cache")], text).into_response())
}

/// The icon that browsers ask for on their own.
pub(crate) async fn icon(asked: HeaderMap) -> Result<Response, Problem> {
    serve("icon.svg", &asked)
}

fn serve(path: &str, asked: &HeaderMap) -> Result<Response, Problem> {
    let file = Files::get(path).ok_or(Problem::NotFound)?;
    // weak: packed and unpacked it goes by one tag
    let hash = file.metadata.sha256_hash();
    let tag = hash.iter().take(12).fold(String::from("W/\""), |tag, byte| format!("{tag}{byte:02x}")) + "\"";
    let kept = [(header::ETAG, tag.clone()), (header::CACHE_CONTROL, "no-cache".to_owned())];
    if known(asked, &tag) {
        return Ok((StatusCode::NOT_MODIFIED, kept).into_response());
    }
    let kind = [(header::CONTENT_TYPE, file.metadata.mimetype().to_owned())];
    Ok((kept, kind, file.data).into_response())
}
