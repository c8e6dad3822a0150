//! The tape walk as a phone keeps it, to go on without a network, and the figures it sends when there is one.

use std::collections::BTreeMap;

use axum::body::Bytes;
use axum::extract::Path;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::{Value, json};

use super::pad::Pad;
use super::steps::{AREAS, all, area_word, name, short_after};
use super::view::{FRAME, Told, picture};
use super::{Sent, keep_one, pattern_of, record_of};
use crate::domain::cage::{CageRecord, Hand, TapeMeasure, Tubes};
use crate::domain::derived::findings::Findings;
use crate::domain::shop::people::Deed;
use crate::domain::words::fingerprint::Fingerprint;
use crate::drawing::paper::svg::Svg;
use crate::quantity::{Length, Units};
use crate::web::cage::drawn::WithGuesses;
use crate::web::cage::groups::Part;
use crate::web::gate::Seen;
use crate::web::page::as_data;
use crate::web::problem::Problem;
use crate::web::reader;

/// Most bytes of what a phone says of one figure.
const MOST_SAID: usize = 4 << 10;

/// The measurements in their order, how the hold point stands, and which pictures belong to them.
pub(in crate::web::cage) async fn list(seen: Seen) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let record = record_of(&seen.facts)?;
    let found = seen.found().await?;
    let order = all(&record);
    let step = |measure: &TapeMeasure| {
        let pad = Pad::of(record.measures.get(measure), seen.who.units);
        json!({
            "key": measure.key(), "area": AREAS.iter().position(|area| *area == Part::of(*measure)),
            "name": name(*measure, record.structure), "hold": measure.where_to_hold(),
            "hand": measure.hand().map(Hand::word), "minus": measure.bounds().0 < Length::default(),
            "was": record.measures.get(measure).map_or("", |typed| &typed.text),
            "text": pad.text, "sixteenths": pad.sixteenths,
        })
    };
    let following = |(one, next): (&TapeMeasure, &TapeMeasure)| short_after(*next, *one, record.structure);
    let areas = AREAS.map(|area| area_word(area, record.structure));
    let lefts: Vec<TapeMeasure> =
        super::steps::walked(&CageRecord { measures: BTreeMap::new(), ..record.clone() }, None);
    let short: BTreeMap<String, String> =
        lefts.iter().zip(lefts.iter().skip(1)).map(|pair| (pair.1.key(), following(pair))).collect();
    Ok(as_data(&json!({
        "name": seen.facts.build.name, "hold": seen.hold_on_strip(), "inch": seen.who.units == Units::Inch, "areas": areas,
        "steps": order.iter().map(step).collect::<Vec<_>>(), "short": short,
        "drawings": same_pictures(&record, pattern_of(&seen).await?.as_ref(), &found.worked.tubes),
    })))
}

/// The pictures of all of them.
pub(in crate::web::cage) async fn drawings(seen: Seen) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let record = record_of(&seen.facts)?;
    let (found, pattern) = (seen.found().await?, pattern_of(&seen).await?);
    // some forty pictures take a while: not on the threads that answer others
    let drawn = tokio::task::spawn_blocking(move || pictures(&record, pattern.as_ref(), &found)).await;
    Ok(as_data(&drawn.map_err(|error| Problem::NotMade(error.to_string()))?))
}

fn pictures(record: &CageRecord, pattern: Option<&CageRecord>, found: &Findings) -> Value {
    let with_guesses = WithGuesses::of(found, record, pattern);
    let one = |measure: TapeMeasure| {
        let marks = picture(&with_guesses, record, measure)?;
        Some((measure.key(), Svg::file(&marks, FRAME).to_string()))
    };
    let of: BTreeMap<String, String> = all(record).into_iter().filter_map(one).collect();
    json!({ "drawings": same_pictures(record, pattern, &found.worked.tubes), "of": of })
}

/// A name that changes whenever a picture does.
fn same_pictures(record: &CageRecord, pattern: Option<&CageRecord>, tubes: &Tubes) -> String {
    let all = format!("{}{record:?}{pattern:?}{tubes:?}", env!("CARGO_PKG_VERSION"));
    Fingerprint::of(all.as_bytes()).text().to_owned()
}

/// What a phone says of one figure.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Figure {
    /// What stands on the pad.
    text: String,
    sixteenths: Option<u8>,
    units: String,
    /// What stood there when it was taken.
    was: String,
    same: bool,
}

/// Sets one figure: told once or ten times, it is set once. Another's figure is never overwritten unseen.
pub(in crate::web::cage) async fn put(
    seen: Result<Seen, Problem>,
    Path((_, key)): Path<(String, String)>,
    body: Bytes,
) -> Result<Response, Problem> {
    let seen = match seen {
        Ok(seen) => seen.who_may(Deed::SetUpBuilds)?,
        Err(Problem::SignInFirst(_)) => return Ok(told(StatusCode::UNAUTHORIZED, &json!({}))),
        Err(other) => return Err(other),
    };
    let measure: TapeMeasure = key.parse().map_err(|_| Problem::NotFound)?;
    let read = (body.len() <= MOST_SAID).then(|| serde_json::from_slice::<Figure>(&body).ok()).flatten();
    let Some(figure) = read else {
        return Ok(told(StatusCode::UNPROCESSABLE_ENTITY, &json!({ "why": "This is no figure of a measurement." })));
    };
    let units = reader::named(&figure.units).unwrap_or(seen.who.units);
    let pad = Pad { text: figure.text, sixteenths: figure.sixteenths.filter(|parts| *parts < 16) };
    Ok(match keep_one(&seen, measure, &Sent { pad: &pad, was: &figure.was, same: figure.same, units }).await? {
        Told::Set(text) => told(StatusCode::OK, &json!({ "set": text })),
        Told::Nothing => told(StatusCode::UNPROCESSABLE_ENTITY, &json!({ "why": "There is no figure in it." })),
        Told::Why(why) => told(StatusCode::UNPROCESSABLE_ENTITY, &json!({ "why": why })),
        Told::Theirs(theirs) => told(StatusCode::CONFLICT, &json!({ "theirs": theirs })),
    })
}

fn told(status: StatusCode, value: &Value) -> Response {
    (status, as_data(value)).into_response()
}
