//! One button a stick: it was cut as planned.

use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::{filled, sheet};
use crate::actions::ActionError;
use crate::actions::shop::as_planned::{Recorded, take};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::work::cut_plan::AsPlanned;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::problem::Problem;
use crate::web::shown::plans::Patience;

/// Records every bar of one stick, or says what has changed.
pub(super) async fn record(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let none = || ActionError::Refused(vec![Fault::new("stick", "Choose a stick of the plan, on its sheet.")]);
    let planned = read(&Form::of(seen.who.units, typed)).ok_or_else(none)?;
    match take(&seen.who.ctx, seen.build(), &planned).await? {
        Recorded::All(_) => Ok(Redirect::to(&seen.address("/cuts")).into_response()),
        Recorded::Nothing(why) => {
            let form = filled(&seen).await?;
            sheet(&seen, StatusCode::CONFLICT, &form, &why.to_string(), Patience::Page).await
        }
    }
}

fn read(form: &Form) -> Option<AsPlanned> {
    let bars = form.chosen("bar").iter().map(|bar| bar.parse().ok()).collect::<Option<Vec<_>>>()?;
    Some(AsPlanned { stick: form.text("stick").parse().ok()?, bars, shown: form.text("shown").parse().ok()? })
}
