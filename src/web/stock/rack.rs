//! The shop's rack: every stick, where it is, what is left of it; adding one.

use askama::Template;
use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use crate::actions::Looked;
use crate::actions::{self, ActionError};
use crate::domain::shop::people::Deed;
use crate::domain::shop::stock::Stick;
use crate::domain::shop::stock::{Delivered, NewStick};
use crate::domain::words::cautions;
use crate::domain::work::cut_list::{Balance, balance};
use crate::quantity::Units;
use crate::web::form::{Field, Form, Pairs};
use crate::web::gate::SignedIn;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;

#[derive(Template)]
#[template(path = "stock/rack.html")]
struct Rack {
    sheet: Sheet,
    sticks: Vec<OnRack>,
    fields: Vec<Field>,
    faults: Vec<String>,
}

/// A stick as a line.
pub(super) struct OnRack {
    /// Its number.
    pub(super) no: String,
    /// The store's name for it.
    pub(super) id: String,
    /// Its size.
    pub(super) size: String,
    /// Its grade and heat.
    pub(super) marks: String,
    /// As typed.
    pub(super) length: String,
    /// What is left of it, and what the cuts need where that is more.
    pub(super) left: String,
    /// Whether the cuts need more than it has.
    pub(super) short: bool,
    /// How many bars are cut from it, and what is not known.
    pub(super) cuts: String,
    /// The build it is given to, and its sheet; empty on the rack.
    pub(super) given_to: (String, String),
}

impl OnRack {
    /// A stick with what the cuts of all builds leave of it.
    pub(super) fn of(stick: &Stick, all: &[Looked], units: Units) -> Self {
        let left = balance(stick, all.iter().map(|looked| &*looked.facts));
        let build = all.iter().find(|looked| Some(looked.facts.build.id) == stick.given_to);
        let build = build.map(|looked| &looked.facts.build);
        Self {
            no: format!("S{}", stick.number),
            id: stick.id.to_string(),
            size: stick.size.value.to_string(),
            marks: format!("{}, {}", stick.grade, stick.describe_heat()),
            length: stick.length.value.by_tape(units),
            left: left_words(&left, units),
            short: left.short_by().is_some(),
            cuts: cuts_words(&left),
            given_to: build
                .map(|build| (build.name.clone(), format!("/builds/{}/tube", build.slug)))
                .unwrap_or_default(),
        }
    }
}

/// What is left, or by how much the cuts need more than the stick has.
fn left_words(left: &Balance, units: Units) -> String {
    let at_most = if left.unknown > 0 { "at most " } else { "" };
    left.short_by().map_or_else(
        || format!("{at_most}{}", left.left.by_tape_at_most(units)),
        |short| {
            format!(
                "{} too short: its cuts need {}",
                short.by_tape_at_least(units),
                left.needed.by_tape_at_least(units)
            )
        },
    )
}

fn cuts_words(left: &Balance) -> String {
    let pieces = match left.pieces {
        0 => "nothing cut".to_owned(),
        1 => "1 piece cut".to_owned(),
        many => format!("{many} pieces cut"),
    };
    match left.unknown {
        0 => pieces,
        1 => format!("{pieces}; how long 1 of them is was not recorded"),
        many => format!("{pieces}; how long {many} of them are was not recorded"),
    }
}

pub(super) async fn stock(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    let one = vec![("count".to_owned(), "1".to_owned())];
    sheet(&who, StatusCode::OK, &Form::filled(who.units, one)).await
}

async fn sheet(who: &SignedIn, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let sticks = who.ctx.store.sticks().await?;
    let all = who.ctx.looked_at_all().await?;
    let fields = vec![
        form.field("size", "Size").hint("Outside diameter and wall: 1 1/2 x .120, or 45 x 2.5 mm."),
        form.field("grade", "Grade").hint("As printed on the tube or its paper."),
        form.field("length", "Length").hint("As 20 ft, or 6 m."),
        form.field("heat", "Heat number").hint("As printed on the tube or its paper; leave empty when there is none."),
        form.field("count", "How many sticks of this heat").hint("Each gets a number of its own."),
    ];
    let faults = form.other_faults(&fields.iter().collect::<Vec<_>>());
    let sticks = sticks.iter().map(|stick| OnRack::of(stick, &all, who.units)).collect();
    show(status, &Rack { sheet: Sheet::of_shop(who, "Stock"), sticks, fields, faults })
}

pub(super) async fn add(who: SignedIn, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RecordWork)?;
    let mut form = Form::of(who.units, typed);
    if let Some(new) = read(&mut form) {
        match actions::shop::stock::add_sticks(&who.ctx, new).await {
            Ok(_) => return Ok(Redirect::to("/stock").into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

fn read(form: &mut Form) -> Option<Delivered> {
    let count = form.parse("count", "Write how many sticks there are, as 6.");
    // A form without the field is of one stick; an empty or unreadable one is told.
    let count = if form.pairs().iter().any(|pair| pair.0 == "count") { count } else { Some(1) };
    if form.text("count").is_empty() && count.is_none() {
        form.fault("count", "Write how many sticks there are, as 6.");
    }
    let (size, length) = (form.read("size"), form.read("length"));
    let (grade, heat) = (form.text("grade").to_owned(), form.text("heat").to_owned());
    Some(Delivered { stick: NewStick { size: size?, grade, heat, length: length?, certificate: None }, count: count? })
}
