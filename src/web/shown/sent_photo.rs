//! A photograph's views, and the photograph as it was sent, each read from where it lies while it is sent.

use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse as _, Response};
use tokio::io::AsyncRead;
use tokio_util::io::ReaderStream;

use crate::actions::recorded::looking::Here;
use crate::actions::recorded::photos::Look;
use crate::domain::words::fingerprint::Fingerprint;
use crate::imaging::Kind;
use crate::imaging::kind::FIRST_BYTES;
use crate::store::vault::{Held, View};
use crate::web::known::{Wanted, known, wanted};
use crate::web::problem::Problem;

/// The name is the content's, so a browser may keep it for a day without asking.
const FOR_A_DAY: &str = "private, max-age=86400, immutable";
/// How much is read and sent at a time, in bytes.
const AT_A_TIME: usize = 64 << 10;

/// What is asked of a photograph: its content's name, a view or "original", for a build of this slug.
pub(crate) struct Asked<'a> {
    pub(crate) sha256: &'a Fingerprint,
    pub(crate) name: &'a str,
    pub(crate) slug: &'a str,
    pub(crate) headers: &'a HeaderMap,
}

/// A view of a photograph, or the file as it was sent. Whether the browser has it already is known before anything is read.
pub(crate) async fn sent_photo(here: &Here<'_>, look: &Look, asked: Asked<'_>) -> Result<Response, Problem> {
    let Asked { sha256, name, slug, headers } = asked;
    let view = if name == "original" { None } else { Some(view_called(name).ok_or(Problem::NotFound)?) };
    // the 1 is the mark's: what a browser was given before views were checked is not confirmed to it
    let tag = view.map_or_else(|| format!("\"{sha256}-original\""), |view| format!("\"{sha256}-{view}-1\""));
    let kept = [(header::ETAG, tag.clone()), (header::CACHE_CONTROL, FOR_A_DAY.to_owned())];
    if known(headers, &tag) {
        return Ok((StatusCode::NOT_MODIFIED, kept).into_response());
    }
    let (held, what) = if let Some(view) = view {
        (here.view(view, look).await?, vec![(header::CONTENT_TYPE, "image/jpeg".to_owned())])
    } else {
        let mut held = here.original().await?;
        let kind = Kind::of(&held.first_bytes(FIRST_BYTES as u64).await?);
        (held, apart(&kind, slug, sha256))
    };
    let mut answer = sent(held, headers, &tag).await?;
    if answer.status() == StatusCode::RANGE_NOT_SATISFIABLE {
        return Ok(answer);
    }
    for (name, value) in kept.into_iter().chain(what) {
        answer.headers_mut().insert(name, HeaderValue::try_from(value).map_err(|_| Problem::NotFound)?);
    }
    Ok(answer)
}

/// What came from outside is handed over as a file and runs nothing.
fn apart(kind: &Kind, build: &str, sha256: &Fingerprint) -> Vec<(header::HeaderName, String)> {
    let (kind, ending) = match kind {
        Kind::Jpeg => ("image/jpeg", "jpg"),
        Kind::Png => ("image/png", "png"),
        Kind::WebP => ("image/webp", "webp"),
        _ => ("application/octet-stream", "bin"),
    };
    let name = sha256.text().get(..16).unwrap_or_default();
    vec![
        (header::CONTENT_TYPE, kind.to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{build}-{name}.{ending}\"")),
        (header::CONTENT_SECURITY_POLICY, "sandbox; default-src 'none'".to_owned()),
    ]
}

/// What is asked for of it, read while it is sent.
async fn sent(held: Held, asked: &HeaderMap, tag: &str) -> Result<Response, Problem> {
    let all = held.length();
    let bytes = (header::ACCEPT_RANGES, "bytes".to_owned());
    let long = |length: u64| (header::CONTENT_LENGTH, length.to_string());
    let of = |part: String| (header::CONTENT_RANGE, format!("bytes {part}/{all}"));
    Ok(match wanted(asked, tag, all) {
        Wanted::Whole => ([bytes, long(all)], streamed(held.whole())).into_response(),
        Wanted::Part { from, length } => {
            let part = of(format!("{from}-{}", from + length - 1));
            let body = streamed(held.part(from, length).await?);
            (StatusCode::PARTIAL_CONTENT, [bytes, long(length), part], body).into_response()
        }
        Wanted::Nothing => (StatusCode::RANGE_NOT_SATISFIABLE, [bytes, of("*".to_owned())]).into_response(),
    })
}

fn streamed(reader: impl AsyncRead + Send + 'static) -> Body {
    Body::from_stream(ReaderStream::with_capacity(reader, AT_A_TIME))
}

fn view_called(name: &str) -> Option<View> {
    match name {
        "screen" => Some(View::Screen),
        "thumbnail" => Some(View::Thumb),
        "print" => Some(View::Print),
        _ => None,
    }
}
