//! From when on a photograph is called blurred, dark, washed out or nearly the same as another: what the shop sets.

use askama::Template;
use axum::extract::Form as Typed;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use crate::actions::{self, ActionError};
use crate::domain::shop::looks::Bounds;
use crate::domain::shop::people::Deed;
use crate::quantity::{Share, Show as _};
use crate::web::form::{Field, Form, Pairs};
use crate::web::gate::SignedIn;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;

#[derive(Template)]
#[template(path = "shop/looking.html")]
struct Looking {
    sheet: Sheet,
    fields: [Field; 5],
}

impl Looking {
    fn of(who: &SignedIn, form: &Form) -> Self {
        let usual = Bounds::default();
        let share = |share: Share| share.show(who.units);
        let field = |name, label: &str, description: String, hint: &str| {
            form.field(name, label).hint(format!("{hint} The program's own: {description}."))
        };
        Self {
            sheet: Sheet::of_shop(who, "What is said of a photo"),
            fields: [
                field(
                    "blurred",
                    "Blurred below a sharpness of",
                    usual.blurred.to_string(),
                    "How much neighbouring dots differ; a sharp joint has 100 and more.",
                ),
                field(
                    "dark",
                    "Very dark below a brightness of",
                    usual.dark.to_string(),
                    "Of the middle of the frame, 0 black to 255 white.",
                ),
                field("black", "Very dark above so much black", share(usual.black), "Of the middle of the frame."),
                field(
                    "washed_out",
                    "Washed out above so much white",
                    share(usual.washed_out),
                    "Of the middle of the frame.",
                ),
                field(
                    "alike",
                    "Nearly the same up to so many differing bits",
                    usual.alike.to_string(),
                    "Of 64; 0 says it never. Joints look alike by nature: with 10 many do.",
                ),
            ],
        }
    }
}

/// The bounds as they stand.
pub(super) async fn sheet(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let bounds = who.ctx.store.look_bounds().await?;
    let values = [
        ("blurred", bounds.blurred.to_string()),
        ("dark", bounds.dark.to_string()),
        ("black", bounds.black.show(who.units)),
        ("washed_out", bounds.washed_out.show(who.units)),
        ("alike", bounds.alike.to_string()),
    ];
    let form = Form::filled(who.units, values.map(|(name, value)| (name.to_owned(), value)).into());
    show(StatusCode::OK, &Looking::of(&who, &form))
}

/// Sets them.
pub(super) async fn set(who: SignedIn, Typed(typed): Typed<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let mut form = Form::of(who.units, typed);
    if let Some(bounds) = read(&mut form) {
        match actions::shop::looks::set_bounds(&who.ctx, bounds).await {
            Ok(()) => return Ok(Redirect::to("/shop/looking").into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    show(StatusCode::UNPROCESSABLE_ENTITY, &Looking::of(&who, &form))
}

fn read(form: &mut Form) -> Option<Bounds> {
    for at in ["blurred", "dark", "alike"] {
        if form.text(at).is_empty() {
            form.fault(at, "Type a number.");
        }
    }
    let (blurred, dark) =
        (form.parse("blurred", "Type a number, like 40."), form.parse("dark", "Type a number, like 45."));
    let (black, washed_out) = (form.read::<Share>("black"), form.read::<Share>("washed_out"));
    let alike = form.parse("alike", "Type a whole number, like 6.");
    Some(Bounds { blurred: blurred?, dark: dark?, black: black?.value, washed_out: washed_out?.value, alike: alike? })
}
