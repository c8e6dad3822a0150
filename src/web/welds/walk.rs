//! The weld walk on a phone: one joint a screen, a plain form that needs no script.

use std::collections::HashMap;

use askama::Template;
use axum::extract::{Form as Posted, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::view::{AtJoint, Page, lowered};
use super::{Asked, Written, fields, taken};
use crate::domain::derived::findings::Findings;
use crate::domain::shop::people::Deed;
use crate::domain::words::cautions;
use crate::domain::words::ids::Balloon;
use crate::domain::work::weld_order::{all, in_order};
use crate::drawing::car::near::{near, stand};
use crate::quantity::Length;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;
use crate::web::svg::Svg;

const PAGE: &str = "/welds/walk";
/// The picture's frame on a phone: low, for the form stands under it.
pub(super) const FRAME: (Length, Length) = (Length::from_mm(100.0), Length::from_mm(46.0));

/// The walk at one joint.
#[derive(Template)]
#[template(path = "welds/walk.html")]
struct WeldWalk {
    sheet: Sheet,
    base: String,
    at: Option<AtJoint>,
    drawing: Option<Svg>,
    stand: &'static str,
    /// The joint after this one in the order; empty where none is left.
    next: String,
    welded: usize,
    total: usize,
}

impl WeldWalk {
    fn of(seen: &Seen, found: &Findings, asked: &Asked, typed: Option<&Form>) -> Self {
        let (cage, welds) = (&found.worked.cage, &seen.facts.welds);
        let order = seen.facts.weld_order.as_ref();
        let (all, left) = (all(cage, welds), in_order(cage, welds, &lowered(found), order).seams);
        let there = |at: &Balloon| all.iter().any(|seam| seam.at == *at);
        let at = asked.joint.filter(there).or_else(|| left.first().map(|seam| seam.at));
        let next = at.and_then(|at| next_after(&left.iter().map(|seam| seam.at).collect::<Vec<_>>(), at));
        Self {
            sheet: seen.sheet("Weld walk"),
            base: seen.address(PAGE),
            drawing: at.and_then(|at| near(cage, at, FRAME)).map(|marks| Svg::of(&marks, FRAME, |_| None)),
            stand: at.and_then(|at| stand(cage, at)).unwrap_or_default(),
            next: next.map(|next| next.to_string()).unwrap_or_default(),
            welded: all.len() - left.len(),
            total: all.len(),
            at: at.and_then(|at| AtJoint::of(seen, found, at, &Page { asked, typed, page: PAGE })),
        }
    }
}

/// The joint after one in an order, round and round; the first where that one is not in it. None where no other is left.
fn next_after(order: &[Balloon], at: Balloon) -> Option<Balloon> {
    let begin = order.iter().position(|one| *one == at).map_or(0, |place| place + 1);
    order.iter().skip(begin).chain(order).copied().find(|one| *one != at)
}

/// The walk at a joint, or at the first that is left.
pub(super) async fn walk(seen: Seen, Query(query): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let found = seen.found().await?;
    show(StatusCode::OK, &WeldWalk::of(&seen, &found, &Asked::of(&query), None))
}

/// Keeps a line and goes on to the joint that the button named.
pub(super) async fn write(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let named = typed.iter().find(|(name, _)| name == "next").and_then(|(_, text)| text.parse::<Balloon>().ok());
    match taken(seen.clone(), typed).await? {
        Written::Kept(weld) => {
            let to =
                named.map_or_else(|| format!("/welds?joint={}", weld.joint), |next| format!("{PAGE}?joint={next}"));
            Ok(Redirect::to(&seen.address(&to)).into_response())
        }
        Written::Not(status, form, seen) => {
            let found = seen.found().await?;
            show(status, &WeldWalk::of(&seen, &found, &fields::asked(&form), Some(&form)))
        }
    }
}
