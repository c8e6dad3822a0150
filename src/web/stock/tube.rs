//! The tube of one build: giving it sticks, putting them back, saying which stick each bar is cut from.

use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::cuts::{self, TubeSheet};
use crate::actions::Looked;
use crate::actions::{self, ActionError};
use crate::domain::derived::findings::Findings;
use crate::domain::shop::people::Deed;
use crate::domain::shop::saw::Saw;
use crate::domain::shop::stock::BarCut;
use crate::domain::shop::stock::Stick;
use crate::domain::words::ids::BuildId;
use crate::domain::work::cut_list::{CutLine, balance, cut_list};
use crate::quantity::Length;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::show;
use crate::web::problem::Problem;
use crate::web::shown::shop_figures;

pub(super) async fn tube(seen: Seen) -> Result<Response, Problem> {
    sheet(&seen, StatusCode::OK, &Form::empty(seen.who.units)).await
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let all = seen.who.ctx.looked_at_all().await?;
    let sticks = seen.who.ctx.store.sticks().await?;
    let saw = shop_figures::saw(&seen.who).await?.0;
    show(status, &TubeSheet::of((seen, &saw), &found, &all, &sticks, form))
}

pub(super) async fn csv(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    cuts::csv(&seen.facts, &found)
}

/// Records the stick of every bar whose choice was changed on the sheet.
pub(super) async fn save(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let mut form = Form::of(seen.who.units, typed);
    let found = seen.found().await?;
    let all = seen.who.ctx.looked_at_all().await?;
    let saw = shop_figures::saw(&seen.who).await?.0;
    let (wanted, overtaken) = read(&mut form, (&seen, &found, &saw), &cut_list(&seen.facts, &found.worked.cage), &all);
    if !form.is_faulty() {
        match actions::shop::stock::cut_bars(&seen.who.ctx, seen.build(), &wanted).await {
            Ok(_) => {}
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    if form.is_faulty() {
        let status = if overtaken { StatusCode::CONFLICT } else { StatusCode::UNPROCESSABLE_ENTITY };
        return sheet(&seen, status, &form).await;
    }
    Ok(Redirect::to(&seen.address("/tube")).into_response())
}

/// The sticks that a bar of this build may be said to be cut from: those given to it, and the bar's own.
pub(super) fn offered<'s>(sticks: &'s [Stick], build: BuildId, bar: Option<&CutLine>) -> Vec<&'s Stick> {
    let own = bar.and_then(|bar| bar.stick);
    sticks.iter().filter(|stick| stick.given_to == Some(build) || Some(stick.id) == own).collect()
}

/// The bars that get one stick with all others of their size.
struct Alike<'s> {
    at: String,
    stick: &'s Stick,
    pieces: Vec<Length>,
}

/// The bars whose stick was changed, and those that get one with all others of their size; and whether somebody else has
/// said another stick of one of them meanwhile.
fn read(
    form: &mut Form,
    (seen, found, saw): (&Seen, &Findings, &Saw),
    list: &[CutLine],
    all: &[Looked],
) -> (Vec<BarCut>, bool) {
    let (mut wanted, mut overtaken) = (Vec::new(), false);
    let mut alike: Vec<Alike<'_>> = Vec::new();
    let piece = |bar: &CutLine| found.worked.cage.member(bar.member).map_or(bar.length, |member| saw.piece(member));
    for bar in list {
        let name = bar.member.to_string();
        let (chosen, was) = (form.text(&name).to_owned(), form.text(&cuts::was(bar.member)).to_owned());
        let for_all = form.text(&cuts::all_of(&bar.size)).to_owned();
        let now = bar.stick.map(|stick| stick.to_string()).unwrap_or_default();
        let again = !form.text(&cuts::again(bar.member)).is_empty();
        if again && form.text(&cuts::times(bar.member)) != bar.times.to_string() {
            form.fault(&name, "Somebody else recorded a cut of it meanwhile. Save again if yours stands.");
            overtaken = true;
            continue;
        }
        let by_size = bar.stick.is_none() && chosen.is_empty() && !for_all.is_empty();
        let (at, text) = match (bar.stick, chosen.is_empty()) {
            (None, true) if by_size => (cuts::all_of(&bar.size), for_all),
            (None, true) => continue,
            (Some(_), true) if !was.is_empty() => {
                form.fault(&name, "A bar that was cut stays cut. Choose the stick it is cut from now.");
                continue;
            }
            // What this sheet did not change may have been changed on another since.
            _ if !again && (chosen == was || chosen == now) => continue,
            _ if was != now => {
                form.fault(&name, "Somebody else said another stick meanwhile. Save again if yours stands.");
                overtaken = true;
                continue;
            }
            _ => (name, chosen),
        };
        let offered = offered(&seen.facts.sticks, seen.build(), Some(bar));
        match offered.iter().find(|stick| stick.id.to_string() == text) {
            Some(stick) => {
                wanted.push(BarCut { member: bar.member, stick: stick.id, again });
                match alike.iter_mut().find(|there| there.at == at) {
                    Some(there) => there.pieces.push(piece(bar)),
                    None if by_size => alike.push(Alike { at, stick, pieces: vec![piece(bar)] }),
                    None => {}
                }
            }
            None => form.fault(&at, "Choose a stick that is given to this build."),
        }
    }
    for Alike { at, stick, pieces } in alike {
        let left = balance(stick, all.iter().map(|looked| &*looked.facts));
        if let Some(short) = left.short_with(&pieces, saw) {
            let (bars, short) = (pieces.len(), short.by_tape_at_least(seen.who.units));
            let why = format!(
                "These {bars} bars are {short} too long for what is left of S{}. Say it bar by bar.",
                stick.number
            );
            form.fault(&at, why);
        }
    }
    (wanted, overtaken)
}

/// Gives a stick of the rack to the build.
pub(super) async fn give(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let build = seen.build();
    moved(seen, typed, Some(build), |stick| stick.given_to.is_none_or(|now| now == build)).await
}

/// Puts a stick of the build back on the rack; its bars keep it.
pub(super) async fn put_back(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let build = seen.build();
    moved(seen, typed, None, |stick| stick.given_to.is_none_or(|now| now == build)).await
}

async fn moved(
    seen: Seen,
    typed: Pairs,
    to: Option<BuildId>,
    may_move: impl Fn(&Stick) -> bool,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let mut form = Form::of(seen.who.units, typed);
    let sticks = seen.who.ctx.store.sticks().await?;
    match sticks.iter().find(|stick| stick.id.to_string() == form.text("stick")) {
        None => form.fault("stick", "Choose a stick of the list."),
        Some(stick) if !may_move(stick) => {
            form.fault("stick", format!("S{} is another build's. Put it back on the rack there first.", stick.number));
        }
        Some(stick) => match actions::shop::stock::give(&seen.who.ctx, stick.id, to).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/tube")).into_response()),
            Err(ActionError::Held(why)) => form.fault("stick", why),
            Err(other) => return Err(other.into()),
        },
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}
