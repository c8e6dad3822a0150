//! Two tubes side by side, for information: asked in the address, nothing is kept.

mod view;

use axum::extract::Query;
use axum::http::StatusCode;
use axum::response::Response;

use super::form::{Form, Pairs};
use super::gate::SignedIn;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get};
use crate::domain::shop::people::Deed;
use crate::domain::steel::tube::TubeSize;
use crate::domain::steel::two_tubes::{Rated, Steel, yield_fault};
use crate::quantity::Stress;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new().route("/two-tubes", get(two_tubes))
}

/// The fields of the two tubes: size, steel, yield by the certificate.
const FIELDS: [[&str; 3]; 2] = [["one", "one_steel", "one_yield"], ["other", "other_steel", "other_yield"]];

async fn two_tubes(who: SignedIn, Query(typed): Query<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    let mut form = Form::of(who.units, typed);
    let asked = !form.text("other").is_empty();
    let rated = if asked { FIELDS.map(|fields| rated(&mut form, fields)) } else { [None, None] };
    let both = match rated {
        [Some(one), Some(other)] if !form.is_faulty() => Some([one, other]),
        _ => None,
    };
    let status = if form.is_faulty() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    show(status, &view::TwoTubes::of(&who, &form, both))
}

/// One tube as typed, or its faults beside the fields.
fn rated(form: &mut Form, [size, steel, certificate]: [&'static str; 3]) -> Option<(Rated, String)> {
    let tube = form.read::<TubeSize>(size).map(|typed| typed.value);
    form.refuse(tube.iter().flat_map(|tube| tube.faults_at(size)).collect());
    let typed = form.read_if_typed::<Stress>(certificate).map(|typed| typed.value);
    form.refuse(typed.and_then(|strength| yield_fault(certificate, strength)).into_iter().collect());
    let listed = Steel::called(form.text(steel));
    let strength = match (form.text(certificate).is_empty(), listed) {
        (false, _) => typed.map(|strength| (strength, "as the certificate says".to_owned())),
        (true, Some(listed)) => {
            tube.map(|tube| (listed.least(tube.wall), format!("{}; least by {}", listed.words, listed.source)))
        }
        (true, None) => {
            form.fault(steel, "Choose the steel, or type what its certificate says.");
            None
        }
    };
    let (strength, from) = strength?;
    Some((Rated { tube: tube?, strength }, from))
}
