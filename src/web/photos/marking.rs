//! Drawing over a photograph: by pointer with script, by fields without it; rubbing out.

use axum::extract::{Form as Typed, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::view::Marking;
use crate::actions::{self, ActionError};
use crate::domain::recorded::mark_ups::{Drawn, Place, Shape};
use crate::domain::shop::people::Deed;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Balloon;
use crate::quantity::Share;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::show;
use crate::web::problem::Problem;

type Names = Path<(String, String)>;

/// A photograph with what is drawn over it, and the form to draw more.
pub(super) async fn sheet(seen: Seen, Path((_, sha256)): Names) -> Result<Response, Problem> {
    let form = Form::filled(seen.who.units, vec![("shape".to_owned(), Shape::Arrow.word().to_owned())]);
    shown(&seen, &named(&sha256)?, StatusCode::OK, &form)
}

fn named(sha256: &str) -> Result<Fingerprint, Problem> {
    sha256.parse().map_err(|_| Problem::NotFound)
}

fn shown(seen: &Seen, sha256: &Fingerprint, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    show(status, &Marking::of(seen, sha256, form).ok_or(Problem::NotFound)?)
}

fn back(seen: &Seen, sha256: &Fingerprint) -> Response {
    Redirect::to(&seen.address(&format!("/photos/{sha256}/marks"))).into_response()
}

/// Draws a mark.
pub(super) async fn draw(
    seen: Seen,
    Path((_, sha256)): Names,
    Typed(typed): Typed<Pairs>,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let (sha256, mut form) = (named(&sha256)?, Form::of(seen.who.units, typed));
    if let Some(drawn) = drawn(&seen, &mut form).await? {
        match actions::recorded::mark_ups::draw(&seen.who.ctx, seen.build(), &sha256, drawn).await {
            Ok(_) => return Ok(back(&seen, &sha256)),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    shown(&seen, &sha256, StatusCode::UNPROCESSABLE_ENTITY, &form)
}

/// The mark as typed; none when something is wrong with it, said in the form.
async fn drawn(seen: &Seen, form: &mut Form) -> Result<Option<Drawn>, Problem> {
    let shape = Shape::of(form.text("shape"));
    if shape.is_none() {
        form.fault("shape", "Choose what to draw.");
    }
    // the field stands there filled in for a balloon; the others name nothing
    let of: Option<Balloon> =
        if shape == Some(Shape::Balloon) { form.parse("of", "A number of this build, like J7.") } else { None };
    if let Some(of) = of
        && !seen.found().await?.worked.cage.has(of)
    {
        form.fault("of", format!("There is no {of} in this build's cage."));
    }
    let from = place(form, "across", "down");
    // a balloon may stand on what it names
    let alone = shape == Some(Shape::Balloon) && form.text("to_across").is_empty() && form.text("to_down").is_empty();
    let to = if alone { from } else { place(form, "to_across", "to_down") };
    let drawn = shape.zip(from).zip(to).map(|((shape, from), to)| Drawn { shape, from, to, of });
    Ok(drawn.filter(|_| !form.is_faulty()))
}

fn place(form: &mut Form, across: &str, down: &str) -> Option<Place> {
    let (across, down) = (form.read::<Share>(across), form.read::<Share>(down));
    Some(Place { across: across?.value, down: down?.value })
}

/// Rubs a mark out.
pub(super) async fn rub_out(
    seen: Seen,
    Path((_, sha256, number)): Path<(String, String, String)>,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let (sha256, number) = (named(&sha256)?, number.parse().map_err(|_| Problem::NotFound)?);
    actions::recorded::mark_ups::rub_out(&seen.who.ctx, seen.build(), &sha256, number).await?;
    Ok(back(&seen, &sha256))
}
