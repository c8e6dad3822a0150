//! Laying out the cage: tape measurements in, the numbered views out.

mod bars;
mod beside;
mod body;
mod change;
mod choices;
mod dies;
mod drawn;
mod file;
mod groups;
mod gussets;
mod own_tubes;
mod pattern;
mod places;
mod seats;
mod tape;
mod tried_bar;
mod turned;
mod view;

use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post, put};
use crate::actions::{self, ActionError};
use crate::domain::cage::{
    CageRecord, Fixing, Foot, Hand, Member, ORDER_OF_MEASURING, PlateRecord, TubeRole, usual_bars,
};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::worked::Worked;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::Balloon;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/cage", get(cage).post(save))
        .route("/builds/{build}/cage/drawn", post(as_typed))
        .route("/builds/{build}/cage.json", get(file::out))
        .route("/builds/{build}/cage/file", post(file::look))
        .route("/builds/{build}/cage/file/take", post(file::take))
        .route("/builds/{build}/cage/last", get(change::last))
        .route("/builds/{build}/cage/take-back", post(change::take_back))
        .route("/builds/{build}/cage/pattern", get(pattern::sheet).post(pattern::state))
        .route("/builds/{build}/cage/tape", get(tape::walk).post(tape::keep))
        .route("/builds/{build}/cage/tape.json", get(tape::list))
        .route("/builds/{build}/cage/tape-drawings.json", get(tape::drawings))
        .route("/builds/{build}/cage/tape/{measure}", put(tape::put))
        .route("/offline/tape", get(tape::alone))
        .route("/builds/{build}/bars", get(bars::bars).post(bars::add))
        .route("/builds/{build}/bars/{bar}/remove", post(bars::remove))
        .route("/builds/{build}/body", get(body::body).post(body::add))
        .route("/builds/{build}/body/torch", post(body::torch))
        .route("/builds/{build}/body/{place}/remove", post(body::remove))
        .route("/builds/{build}/seats", get(seats::sheet).post(seats::keep))
        .route("/builds/{build}/seats/{seat}/remove", post(seats::remove))
        .route("/builds/{build}/own-tubes", get(own_tubes::own_tubes).post(own_tubes::give))
        .route("/builds/{build}/own-tubes/{bar}/remove", post(own_tubes::remove))
        .route("/builds/{build}/gussets", get(gussets::gussets).post(gussets::add))
        .route("/builds/{build}/gussets/{gusset}/hole", post(gussets::hole))
        .route("/builds/{build}/gussets/{gusset}/remove", post(gussets::remove))
}

/// Whether what stands in a sheet's address is to be drawn as typed before it is kept.
fn drawn_first(typed: &Pairs) -> bool {
    typed.iter().any(|(name, text)| name == "drawn" && text == "yes")
}

/// The record as it stands, and its version; an empty one before the first save.
fn standing(facts: &BuildFacts) -> Result<(CageRecord, i64), Problem> {
    let Some(text) = &facts.cage else { return Ok((CageRecord::default(), 0)) };
    Ok((text.record().map_err(Problem::NotMade)?, text.version))
}

/// Saves a record that one of its sheets changed, with numbers for what is new.
async fn store(seen: &Seen, record: &CageRecord, found: &Findings, version: i64) -> Result<(), ActionError> {
    let numbered = record.numbered_for(&found.worked.tubes);
    actions::recorded::cage::save(&seen.who.ctx, seen.build(), version, &numbered).await.map(|_| ())
}

async fn cage(seen: Seen, looked: drawn::InAddress) -> Result<Response, Problem> {
    let (mut record, version) = standing(&seen.facts)?;
    if version == 0 {
        record.options = usual_bars();
    }
    let form = Form::filled(seen.who.units, recorded(&record, version));
    sheet(&seen, Laid { record: &record, tried: None }, &looked, StatusCode::OK, &form).await
}

/// A record that is stored, or only typed and then with what would follow from it.
struct Laid<'a> {
    record: &'a CageRecord,
    tried: Option<&'a Worked>,
}

/// The sheet with a record.
async fn sheet(
    seen: &Seen,
    cage: Laid<'_>,
    looked: &drawn::Looked,
    status: StatusCode,
    form: &Form,
) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let saves = seen.who.ctx.store.cage_saves(seen.build(), 2).await?;
    let Laid { record, tried } = cage;
    let turns = match tried {
        Some(tried) => Some(turned::Turns::of(seen, &found.worked, tried, false)),
        None => turned::by_last_save(seen, &found.worked, &saves, looked.saved).await?,
    };
    let dies = seen.who.ctx.store.dies().await?;
    let pattern = seen.who.ctx.store.pattern(seen.build()).await?;
    let looking = view::Looking { record, looked, saves: &saves, tried, dies: &dies, pattern: pattern.as_ref() };
    show(status, &view::CageSheet::of(seen, &found, &looking, form, turns)?)
}

/// Draws what is typed and keeps nothing of it.
async fn as_typed(seen: Seen, looked: drawn::InAddress, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let (before, _) = standing(&seen.facts)?;
    let (form, record) = typed_in(&seen, typed, &before);
    // What does not read is told at its field; where nothing can be drawn of it, the cage stays as it stood.
    let status = if form.is_faulty() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    let record = if record.faults().is_empty() { record } else { before.clone() };
    // What does not read is judged no more than it is drawn.
    let judged = !form.is_faulty() && record != before;
    let tried = if judged { turned::tried(&seen, &record).await? } else { None };
    sheet(&seen, Laid { record: &record, tried: tried.as_ref() }, &looked, status, &form).await
}

/// What was typed, and the record that it makes of the one before.
fn typed_in(seen: &Seen, mut typed: Pairs, before: &CageRecord) -> (Form, CageRecord) {
    dies::taken(&mut typed);
    // A sheet from before there was a choice does not name it.
    for (name, stands) in stood(before) {
        if !typed.iter().any(|(typed, _)| *typed == name) {
            typed.push((name, stands));
        }
    }
    let mut form = Form::of(seen.who.units, typed);
    let record = read(&mut form, before);
    form.refuse(record.faults());
    (form, record)
}

/// A record as the form's pairs, with its version.
fn recorded(record: &CageRecord, version: i64) -> Pairs {
    let mut typed: Pairs = record.measures.iter().map(|(measure, typed)| (measure.key(), typed.text.clone())).collect();
    let radii = record.bend_radius.iter();
    typed.extend(radii.map(|(role, typed)| (dies::radius_of(*role), typed.text.clone())));
    for (foot, plate) in &record.plates {
        let figures = [&plate.side_a, &plate.side_b, &plate.thickness];
        let named = view::PLATE.iter().zip(figures);
        typed.extend(named.map(|((key, _), figure)| (format!("plate_{}_{key}", foot.key()), figure.text.clone())));
    }
    typed.extend(stood(record));
    if !record.measures.keys().any(|measure| measure.hand() == Some(Hand::Right)) {
        typed.push(("alike".to_owned(), "yes".to_owned()));
    }
    typed.push(("version".to_owned(), version.to_string()));
    typed
}

/// The choices of a record as the form's pairs.
fn stood(record: &CageRecord) -> Pairs {
    let mut pairs = choices::chosen(&record.options);
    pairs.push(("structure".to_owned(), record.structure.key().to_owned()));
    pairs
}

async fn save(seen: Seen, looked: drawn::InAddress, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let (before, _) = standing(&seen.facts)?;
    let (mut form, record) = typed_in(&seen, typed, &before);
    let mut status = StatusCode::UNPROCESSABLE_ENTITY;
    if !form.is_faulty() {
        let version = form.text("version").parse().unwrap_or_default();
        match actions::recorded::cage::save(&seen.who.ctx, seen.build(), version, &record.numbered()).await {
            Ok(version) => {
                let to = looked.address_saved(&seen.address("/cage"), version);
                return Ok(Redirect::to(&to).into_response());
            }
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(ActionError::Stale { .. }) => {
                let (theirs, version) = standing(&seen.who.ctx.store.facts(seen.build()).await?)?;
                form.overtaken(recorded(&theirs, version));
                status = StatusCode::CONFLICT;
            }
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, Laid { record: &before, tried: None }, &looked, status, &form).await
}

/// The bar whose number stands in a field; none while none does.
fn bar_in<'f>(found: &'f Findings, form: &Form, field: &str) -> Option<&'f Member> {
    form.text(field).parse().ok().and_then(|balloon: Balloon| found.worked.cage.member(balloon))
}

/// Stores a record where nothing is wrong with it; true when it is stored. What is refused stands in the form.
async fn kept(
    seen: &Seen,
    record: &CageRecord,
    found: &Findings,
    version: i64,
    form: &mut Form,
) -> Result<bool, Problem> {
    if form.is_faulty() {
        return Ok(false);
    }
    match store(seen, record, found, version).await {
        Ok(()) => Ok(true),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            Ok(false)
        }
        Err(other) => Err(other.into()),
    }
}

/// A plate with all its figures typed; with only some of them, the missing ones are asked for.
fn plate(form: &mut Form, foot: Foot, before: Option<&PlateRecord>) -> Option<PlateRecord> {
    let names = view::PLATE.map(|(figure, _)| format!("plate_{}_{figure}", foot.key()));
    if names.iter().all(|name| form.text(name).is_empty()) {
        return None;
    }
    let [side_a, side_b, thickness] = names.each_ref().map(|name| form.read(name));
    let fixed = before.map_or(Fixing::Welded, |plate| plate.fixed);
    Some(PlateRecord { side_a: side_a?, side_b: side_b?, thickness: thickness?, fixed })
}

/// The record with what was typed and chosen; what the sheet does not ask for stays as it was.
fn read(form: &mut Form, before: &CageRecord) -> CageRecord {
    let mut record = before.clone();
    if let Some(structure) = form.parse("structure", "Choose one of the three basic structures.") {
        record.structure = structure;
    }
    record.measures.clear();
    // With both sides alike the right one follows the left, whatever stood there.
    let alike = form.text("alike") == "yes";
    for measure in ORDER_OF_MEASURING.iter().copied() {
        if alike && measure.hand() == Some(Hand::Right) {
            continue;
        }
        if let Some(length) = form.read_if_typed(&measure.key()) {
            record.measures.insert(measure, length);
        }
    }
    record.bend_radius.clear();
    for role in TubeRole::BOTH {
        if let Some(radius) = form.read_if_typed(&dies::radius_of(role)) {
            record.bend_radius.insert(role, radius);
        }
    }
    for foot in Foot::ALL {
        if let Some(plate) = plate(form, foot, before.plates.get(&foot)) {
            record.plates.insert(foot, plate);
        }
    }
    record.options = choices::read(form, &before.options);
    record
}
