//! What phones ask: this photo exists, where are we, here are more bytes, give it up.

use axum::body::{Body, Bytes};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::json;

use super::headers::{self, Part};
use super::receiving::Receiving;
use super::refusal::Refusal;
use super::turns::Turn;
use crate::actions::recorded::photos::{Declaration, Finished, Standing};
use crate::actions::{self, ActionError, Context};
use crate::domain::recorded::photos::Received;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{BuildId, CaptureId};
use crate::domain::words::limits;
use crate::web::app::App;
use crate::web::gate::SeenBuild;
use crate::web::problem::Problem;

/// Most bytes of what a phone tells of a photograph.
const MOST_TOLD: usize = 64 << 10;

/// What a phone tells of a photograph it holds.
#[derive(Debug, Deserialize)]
struct TellRequest {
    sha256: Fingerprint,
    size: u64,
    #[serde(rename = "type")]
    kind: String,
    #[serde(default)]
    shot: String,
    #[serde(default)]
    note: String,
    #[serde(default)]
    camera_size: Option<u64>,
    #[serde(default)]
    taken: Option<String>,
}

type Seen = Result<SeenBuild, Problem>;
type Names = Path<(String, String)>;

fn fingerprint(text: &str) -> Result<Fingerprint, Refusal> {
    text.parse().map_err(|_| Refusal::nothing_here())
}

/// `PUT` of a capture: this photograph exists on my phone.
pub(super) async fn declare(seen: Seen, Path((_, capture)): Names, body: Bytes) -> Result<Response, Refusal> {
    let SeenBuild { who, build } = seen?;
    let capture: CaptureId = capture.parse().map_err(|_| Refusal::nothing_here())?;
    if body.len() > MOST_TOLD {
        return Err(Refusal::new(StatusCode::PAYLOAD_TOO_LARGE, "This is more than is told of a photo."));
    }
    let declared: TellRequest = serde_json::from_slice(&body)
        .map_err(|error| Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, format!("This does not read: {error}.")))?;
    if !matches!(declared.kind.as_str(), "image/jpeg" | "image/png" | "image/webp") {
        let why = "Photos come as JPEG, PNG or WebP. Set the phone's camera to JPEG.";
        return Err(Refusal::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, why));
    }
    if declared.size > limits::PHOTO_BYTES {
        let why = "A photo has at most 64 MiB. Set the phone's camera to a smaller picture.";
        return Err(Refusal::new(StatusCode::PAYLOAD_TOO_LARGE, why));
    }
    let store = &who.ctx.store;
    let others = store.photos_of_content(build.id, &declared.sha256).await?;
    if let Some(other) = others.iter().find(|other| other.size != declared.size) {
        return Err(Refusal::other_length(format!("This content was told of with {} bytes before.", other.size)));
    }
    let known = store.photo(build.id, capture).await?.is_some();
    let (sha256, size) = (declared.sha256.clone(), declared.size);
    let (shot, note, taken_claim) = (declared.shot, declared.note, declared.taken);
    let at = shot.clone();
    let camera_size = declared.camera_size;
    let declaration = Declaration { capture, sha256: declared.sha256, size, shot, note, camera_size, taken_claim };
    let standing = actions::recorded::photos::declare(&who.ctx, build.id, declaration).await?;
    let mut headers = headers_of(&standing);
    let upload = format!("/builds/{}/uploads/{sha256}", build.slug);
    if let Ok(upload) = HeaderValue::from_str(&upload) {
        headers.insert(header::LOCATION, upload);
    }
    let status = if known { StatusCode::OK } else { StatusCode::CREATED };
    // The bytes are here already: of another shot they are told, whoever took one picture for two.
    let elsewhere = others.iter().find(|other| {
        other.capture != capture && other.shot != at && other.withdrawn.is_none() && !other.shot.is_empty()
    });
    let said = standing.receipt.map(|mut receipt| {
        receipt.remarks.extend(
            elsewhere.map(|other| format!("The very same picture is also at {}. Take one of this place.", other.shot)),
        );
        receipt_json(&sha256, &receipt)
    });
    Ok((status, headers, json(&json!({ "offset": standing.offset, "receipt": said }))).into_response())
}

/// `HEAD` of an upload: where are we.
pub(super) async fn standing(
    State(app): State<App>,
    seen: Seen,
    Path((_, sha256)): Names,
) -> Result<Response, Refusal> {
    let (SeenBuild { who, build }, sha256) = (seen?, fingerprint(&sha256)?);
    let _turn = turn(&app, &who.ctx, build.id, &sha256).await?;
    let standing = actions::recorded::photos::standing(&who.ctx, build.id, &sha256).await?;
    Ok((StatusCode::NO_CONTENT, headers_of(&standing)).into_response())
}

/// `DELETE` of an upload: give the transfer up.
pub(super) async fn give_up(State(app): State<App>, seen: Seen, Path((_, sha256)): Names) -> Result<Response, Refusal> {
    let (SeenBuild { who, build }, sha256) = (seen?, fingerprint(&sha256)?);
    let _turn = turn(&app, &who.ctx, build.id, &sha256).await?;
    actions::recorded::photos::give_up(&who.ctx, build.id, &sha256).await?;
    Ok(StatusCode::NO_CONTENT.into_response())
}

/// `PATCH` of an upload: here are more bytes, perhaps the last.
pub(super) async fn append(
    State(app): State<App>,
    seen: Seen,
    Path((_, sha256)): Names,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Refusal> {
    let (SeenBuild { who, build }, sha256) = (seen?, fingerprint(&sha256)?);
    let part = Part::of(&headers)?;
    // in a task of its own: a phone that goes away cannot stop the work between the vault and the log
    let taking = tokio::spawn(async move {
        let upload = Target { app: &app, ctx: &who.ctx, build: build.id, sha256: &sha256 };
        upload.take(&part, body).await
    });
    taking.await.map_err(|error| Refusal::from(ActionError::NotWorked(error.to_string())))?
}

/// Takes the turn at an upload that was told of; nothing is remembered of any other.
async fn turn(app: &App, ctx: &Context, build: BuildId, sha256: &Fingerprint) -> Result<Turn, Refusal> {
    if ctx.store.photos_of_content(build, sha256).await?.is_empty() {
        return Err(Refusal::nothing_here());
    }
    let turn = app.uploads.turn(build, sha256).await;
    turn.ok_or_else(|| Refusal::later("An older request has not let go of this photo yet.", 1))
}

/// The upload that a part goes into.
struct Target<'a> {
    app: &'a App,
    ctx: &'a Context,
    build: BuildId,
    sha256: &'a Fingerprint,
}

impl Target<'_> {
    async fn take(&self, part: &Part, body: Body) -> Result<Response, Refusal> {
        let Self { app, ctx, build, sha256 } = *self;
        let mut turn = turn(app, ctx, build, sha256).await?;
        let standing = actions::recorded::photos::standing(ctx, build, sha256).await?;
        let size = standing.upload.size;
        if part.length.is_some_and(|length| length != size) {
            return Err(Refusal::other_length(format!("This photo was told of with {size} bytes.")).at(standing.offset));
        }
        if let (Some(receipt), true) = (&standing.receipt, part.last) {
            return Ok(kept(sha256, size, receipt));
        }
        if part.offset != standing.offset {
            return Err(Refusal::go_on_from(standing.offset, part.offset));
        }
        let Some(_place) = app.uploads.place() else {
            return Err(Refusal::later("Many photos are coming in at once.", 5).at(standing.offset));
        };
        let receiving = Receiving { ctx, build, sha256, patience: app.uploads.patience() };
        let offset = receiving.take(part, body, &mut turn).await?;
        if !part.last {
            return Ok((StatusCode::NO_CONTENT, headers::standing(offset, size, false)).into_response());
        }
        // looking at the photo takes a while, and finishing twice is finishing once
        drop(turn);
        match actions::recorded::photos::finish(ctx, build, sha256, &app.look).await {
            Ok(Finished::Kept(receipt)) => Ok(kept(sha256, size, &receipt)),
            Ok(Finished::GoOnFrom(offset)) => {
                let why =
                    format!("These were said to be the last bytes, and {} are missing.", size.saturating_sub(offset));
                Err(Refusal::other_length(why).at(offset))
            }
            Ok(Finished::Altered) => {
                let why = "The photo arrived altered and was thrown away. Send it again from its start.";
                Err(Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, why).at(0))
            }
            Err(error @ ActionError::Refused(_)) => {
                Err(Refusal::from(error).with_status(StatusCode::UNSUPPORTED_MEDIA_TYPE).at(0))
            }
            Err(error) => Err(error.into()),
        }
    }
}

fn headers_of(standing: &Standing) -> HeaderMap {
    let upload = &standing.upload;
    let mut headers = headers::standing(standing.offset, upload.size, standing.receipt.is_some());
    if standing.receipt.is_some() {
        headers::say_digest(&mut headers, upload.sha256.text());
    }
    headers
}

/// The receipt: the phone may forget its copy after this, and not before.
fn kept(sha256: &Fingerprint, size: u64, receipt: &Received) -> Response {
    let mut headers = headers::standing(size, size, true);
    headers::say_digest(&mut headers, sha256.text());
    (StatusCode::OK, headers, json(&receipt_json(sha256, receipt))).into_response()
}

fn receipt_json(sha256: &Fingerprint, receipt: &Received) -> serde_json::Value {
    json!({
        "sha256": sha256, "received": receipt.at.to_string(), "entry": receipt.entry,
        "dots": receipt.dots, "remarks": receipt.remarks,
    })
}

fn json(value: &serde_json::Value) -> impl IntoResponse {
    ([(header::CONTENT_TYPE, "application/json")], value.to_string())
}
