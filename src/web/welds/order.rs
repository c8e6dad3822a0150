//! The order of what is left to weld, changed one place at a time by plain buttons.

use askama::Template;
use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::view::{lowered, share};
use crate::actions::ActionError;
use crate::actions::recorded::welds::order::set;
use crate::domain::recorded::welds::order::{Move, moved};
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::cautions;
use crate::domain::words::ids::Balloon;
use crate::domain::work::weld_order::{Seam, in_order};
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;

/// The order, and how it is changed.
#[derive(Template)]
#[template(path = "welds/order.html")]
struct OrderSheet {
    sheet: Sheet,
    to: String,
    back: String,
    may_change: bool,
    said: String,
    placed: String,
    /// Whether an order was set, so that there is a way back to the one suggested.
    was_set: bool,
    version: i64,
    order: String,
    rows: Vec<Row>,
    faults: Vec<String>,
    /// What somebody else made of it meanwhile, where somebody did.
    overtaken: Option<Overtaken>,
}

struct Row {
    balloon: String,
    length: String,
    overhead: String,
    stage: &'static str,
    placed: bool,
}

/// Two orders: theirs stands, the other was to be.
struct Overtaken {
    theirs: String,
    /// As it was wanted; empty where it was to be as suggested.
    mine: String,
}

/// Joints as a form carries them, and as they are read.
fn listed<'j>(joints: impl IntoIterator<Item = &'j Balloon>, between: &str) -> String {
    joints.into_iter().map(ToString::to_string).collect::<Vec<_>>().join(between)
}

/// By whom the order was set and when, or that it is the one suggested.
pub(super) fn said(seen: &Seen) -> String {
    match &seen.facts.weld_order {
        Some(order) if order.joints.is_some() => {
            format!("in the order set by {}, {}", order.by, seen.who.ctx.clock.minute_of(order.at))
        }
        _ => "in the order suggested".to_owned(),
    }
}

/// Which joints are not in the order that was set, and stand where they are suggested; empty where there is none.
pub(super) fn placed(joints: &[Balloon]) -> String {
    match joints {
        [] => String::new(),
        [one] => format!("{one} is not in the order that was set; it stands at its suggested place."),
        all => {
            format!("{} are not in the order that was set; they stand at their suggested places.", listed(all, ", "))
        }
    }
}

impl OrderSheet {
    async fn of(seen: &Seen, form: &Form, overtaken: Option<Overtaken>) -> Result<Self, Problem> {
        let found = seen.found().await?;
        let facts = &seen.facts;
        let ordered = in_order(&found.worked.cage, &facts.welds, &lowered(&found), facts.weld_order.as_ref());
        let row = |seam: &Seam| Row {
            balloon: seam.at.to_string(),
            length: seam.length.by_tape(seen.who.units),
            overhead: share(seam),
            stage: seam.stage.word(),
            placed: ordered.placed.contains(&seam.at),
        };
        Ok(Self {
            sheet: seen.sheet("Order of welding"),
            to: seen.address("/welds/order"),
            back: seen.address("/welds"),
            may_change: may(seen.who.ctx.by.role, Deed::OrderWelds),
            said: said(seen),
            placed: placed(&ordered.placed),
            was_set: facts.weld_order.as_ref().is_some_and(|order| order.joints.is_some()),
            version: facts.weld_order.as_ref().map_or(0, |order| order.version),
            order: listed(ordered.seams.iter().map(|seam| &seam.at), " "),
            rows: ordered.seams.iter().map(row).collect(),
            faults: form.other_faults(&[]),
            overtaken,
        })
    }
}

/// The order as it stands.
pub(super) async fn sheet(seen: Seen) -> Result<Response, Problem> {
    let form = Form::empty(seen.who.units);
    show(StatusCode::OK, &OrderSheet::of(&seen, &form, None).await?)
}

/// What is to become of the order, as a form says it: none where it is to be as suggested; or what is wrong with the form.
fn wanted(form: &Form) -> Result<Option<Vec<Balloon>>, &'static str> {
    let order: Result<Vec<Balloon>, _> = form.text("order").split_whitespace().map(str::parse).collect();
    let order = order.map_err(|_| "One of these is the number of no joint. Open the sheet again.")?;
    match form.text("move").split_once(' ') {
        None if form.text("move") == "suggested" => Ok(None),
        None if form.text("move") == "mine" => Ok(Some(order)),
        Some((joint, way @ ("up" | "down"))) => {
            let joint = joint.parse().map_err(|_| "This is the number of no joint.")?;
            Ok(Some(moved(order, joint, if way == "up" { Move::Up } else { Move::Down })))
        }
        _ => Err("Press up or down beside a joint."),
    }
}

/// Changes it. Where somebody else did meanwhile, nothing is set: both are shown, and either can be had.
pub(super) async fn change(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::OrderWelds)?;
    let mut form = Form::of(seen.who.units, typed);
    let joints = match wanted(&form) {
        Ok(joints) => joints,
        Err(why) => {
            form.fault("order", why);
            return show(StatusCode::UNPROCESSABLE_ENTITY, &OrderSheet::of(&seen, &form, None).await?);
        }
    };
    let first = form.text("move").split(' ').next().filter(|one| one.parse::<Balloon>().is_ok());
    let to = seen.address(&format!("/welds/order#{}", first.unwrap_or_default()));
    let mine = joints.as_ref().map(|joints| listed(joints, " ")).unwrap_or_default();
    match set(&seen.who.ctx, seen.build(), form.version(), joints).await {
        Ok(_) => Ok(Redirect::to(to.trim_end_matches('#')).into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            show(StatusCode::UNPROCESSABLE_ENTITY, &OrderSheet::of(&seen, &form, None).await?)
        }
        Err(ActionError::Stale { .. }) => {
            let build = seen.build();
            let seen = Seen::now(seen.who, build).await?;
            let by = seen.facts.weld_order.as_ref().map(|order| order.by.clone()).unwrap_or_default();
            let overtaken = Overtaken { theirs: by, mine };
            show(StatusCode::CONFLICT, &OrderSheet::of(&seen, &form, Some(overtaken)).await?)
        }
        Err(other) => Err(other.into()),
    }
}
