//! The weld walk as a phone keeps it, to go on without a network, and the lines it sends when there is one.

use std::collections::BTreeMap;

use askama::Template;
use axum::extract::{Form as Posted, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde_json::{Value, json};

use super::fields;
use super::view::{lowered, share};
use super::walk::FRAME;
use crate::actions::{self, ActionError};
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::welds::{Did, newest_of};
use crate::domain::shop::people::Deed;
use crate::domain::words::cautions;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::WeldLineId;
use crate::domain::work::weld_order::{Seam, all, in_order};
use crate::drawing::car::near::{near, stand};
use crate::drawing::paper::svg::Svg;
use crate::quantity::{Length, Units};
use crate::web::form::{Choice, Field, Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, as_data, show};
use crate::web::problem::Problem;

/// The joints and feet, the order they are welded in, how each stands, and what a new line begins with.
pub(super) async fn list(seen: Seen) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let found = seen.found().await?;
    let (cage, welds) = (&found.worked.cage, &seen.facts.welds);
    let clock = &seen.who.ctx.clock;
    let seam = |seam: &Seam| {
        let held = found.why_held(&seen.facts, seam.at, clock.today(), &|moment| clock.day_of(moment));
        json!({
            "joint": seam.at.to_string(), "stage": seam.stage.word(), "kind": fields::next_kind(seam.stage),
            "length": seam.length.by_tape(seen.who.units), "overhead": share(seam),
            "down": seam.down > Length::default(), "held": held.unwrap_or_default(),
            "seen": newest_of(welds, seam.at), "stand": stand(cage, seam.at).unwrap_or_default(),
        })
    };
    let ordered = in_order(cage, welds, &lowered(&found), seen.facts.weld_order.as_ref());
    let order: Vec<String> = ordered.seams.iter().map(|seam| seam.at.to_string()).collect();
    let asked = super::Asked { joint: None, kind: String::new(), like: None };
    Ok(as_data(&json!({
        "name": seen.facts.build.name, "hold": seen.hold_on_strip(), "inch": seen.who.units == Units::Inch,
        "seams": all(cage, welds).iter().map(seam).collect::<Vec<_>>(), "order": order,
        "begun": fields::begun(&seen, &asked), "drawings": same_pictures(&found),
    })))
}

/// The pictures of all joints and feet.
pub(super) async fn drawings(seen: Seen) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let found = seen.found().await?;
    // some forty pictures take a while: not on the threads that answer others
    let drawn = tokio::task::spawn_blocking(move || pictures(&found)).await;
    Ok(as_data(&drawn.map_err(|error| Problem::NotMade(error.to_string()))?))
}

fn pictures(found: &Findings) -> Value {
    let cage = &found.worked.cage;
    let one = |seam: &Seam| Some((seam.at.to_string(), Svg::file(&near(cage, seam.at, FRAME)?, FRAME).to_string()));
    let of: BTreeMap<String, String> = all(cage, &[]).iter().filter_map(one).collect();
    json!({ "drawings": same_pictures(found), "of": of })
}

/// A name that changes whenever a picture does.
fn same_pictures(found: &Findings) -> String {
    let all = format!("{}{:?}{:?}", env!("CARGO_PKG_VERSION"), found.worked.record, found.worked.tubes);
    Fingerprint::of(all.as_bytes()).text().to_owned()
}

/// Takes a line that a phone kept: told once or ten times under its name, it is written once. What somebody else wrote of the
/// joint meanwhile is told, and nothing is written over it unseen.
pub(super) async fn put(
    seen: Result<Seen, Problem>,
    Path((_, id)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let seen = match seen {
        Ok(seen) => seen.who_may(Deed::RecordWork)?,
        Err(Problem::SignInFirst(_)) => return Ok(told(StatusCode::UNAUTHORIZED, &json!({}))),
        Err(other) => return Err(other),
    };
    let id: WeldLineId = id.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(seen.who.units, typed);
    let Some(new) = fields::read(&mut form) else { return Ok(refused(&form)) };
    match actions::recorded::welds::record_named(&seen.who.ctx, seen.build(), new, id).await {
        Ok(weld) => Ok(told(StatusCode::OK, &json!({ "line": weld.line }))),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            Ok(refused(&form))
        }
        Err(ActionError::Stale { now }) => Ok(told(StatusCode::CONFLICT, &json!({ "newest": now }))),
        Err(other) => Err(other.into()),
    }
}

fn refused(form: &Form) -> Response {
    told(StatusCode::UNPROCESSABLE_ENTITY, &json!({ "why": form.other_faults(&[]).join(" ") }))
}

fn told(status: StatusCode, value: &Value) -> Response {
    (status, as_data(value)).into_response()
}

/// The walk without the shop: every field there is, and nothing of a build.
#[derive(Template)]
#[template(path = "welds/alone.html")]
struct Alone {
    sheet: Sheet,
    kinds: [(&'static str, &'static str); 4],
    day: Field,
    run: Vec<Field>,
    positions: Vec<Choice>,
    figures: Vec<Field>,
    rest: Vec<Field>,
    inspection: Vec<Field>,
    note: Field,
}

/// The walk as the phone keeps it: nothing of a build is in it.
pub(super) async fn alone() -> Result<Response, Problem> {
    let form = Form::empty(Units::Inch);
    let without = |fields: Vec<Field>, name: &str| fields.into_iter().filter(|field| field.name != name).collect();
    let empty = Alone {
        sheet: Sheet { phone: false, ..Sheet::outside("Weld walk") },
        kinds: Did::KINDS,
        day: form.field("day", "Day").day(),
        run: without(fields::of_run(&form), "day"),
        positions: fields::positions(&form),
        figures: fields::figures(&form),
        rest: without(fields::rest(&form, Vec::new()), "note"),
        inspection: without(fields::of_inspection(&form), "day"),
        note: fields::note(&form),
    };
    show(StatusCode::OK, &empty)
}
