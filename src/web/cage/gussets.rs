//! Gussets: which angles have one, which the book asks for, adding and taking out.

use askama::Template;
use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;

use super::{kept, standing, store};
use crate::domain::cage::record::fittings::{Toward, angle_key};
use crate::domain::cage::solve::angles::{AngleAt, angles_at};
use crate::domain::cage::{Arm, Gusset, GussetHole, GussetKind, GussetRecord, other_side};
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots;
use crate::domain::judge::verdicts::Word;
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::car::cage::locate;
use crate::quantity::{Length, Show as _};
use crate::web::form::{Field, Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address, show};
use crate::web::problem::Problem;
use crate::web::svg::Svg;

const KINDS: [(&str, GussetKind); 3] =
    [("saddle", GussetKind::Saddle), ("flat", GussetKind::Flat), ("tube", GussetKind::Tube)];

/// Which joint is looked at.
#[derive(Debug, Default, Deserialize)]
pub(super) struct At {
    #[serde(default)]
    joint: String,
}

#[derive(Template)]
#[template(path = "cage/gussets.html")]
struct Gussets {
    sheet: Sheet,
    gussets: Vec<Made>,
    short: Vec<(String, String, String)>,
    joints: Vec<(String, String, bool)>,
    form: Option<AtJoint>,
    may_change: bool,
}

struct Made {
    balloon: String,
    to: String,
    words: String,
    figures: String,
    unsaid: bool,
    hole: Field,
    to_hole: String,
    remove: String,
}

/// The form at one joint.
struct AtJoint {
    joint: String,
    words: String,
    picture: Svg,
    fields: Vec<Field>,
    faults: Vec<String>,
    no_hole: bool,
    mirror: bool,
}

pub(super) async fn gussets(seen: Seen, Query(at): Query<At>) -> Result<Response, Problem> {
    let filled = vec![("joint".to_owned(), at.joint), ("mirror".to_owned(), "yes".to_owned())];
    sheet(&seen, StatusCode::OK, &Form::filled(seen.who.units, filled)).await
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(status, &Gussets::of(seen, &found, form))
}

/// Adds a gusset in an angle, and where it is wished the same on the other side of the car.
pub(super) async fn add(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(seen.who.units, typed);
    let found = seen.found().await?;
    if let Some(added) = read(&mut form, &found) {
        let (mut record, version) = standing(&seen.facts)?;
        record.gussets.extend(added);
        form.refuse(record.faults().into_iter().map(at_its_field).collect());
        if kept(&seen, &record, &found, version, &mut form).await? {
            return Ok(Redirect::to(&seen.address("/gussets")).into_response());
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

/// The record names its gussets by their place; the form has one of each field.
fn at_its_field(fault: Fault) -> Fault {
    let field = ["leg", "thickness", "hole"].into_iter().find(|field| fault.at.ends_with(&format!("_{field}")));
    match field {
        Some(field) => Fault::new(field, fault.why),
        None => fault,
    }
}

/// Says what hole a gusset has, or that it has none.
pub(super) async fn hole(
    seen: Seen,
    Path((_, balloon)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(seen.who.units, typed);
    let found = seen.found().await?;
    let balloon: Balloon = balloon.parse().map_err(|_| Problem::NotFound)?;
    let key = found.worked.record.key_of(balloon).ok_or(Problem::NotFound)?.to_owned();
    let (mut record, version) = standing(&seen.facts)?;
    let of = record.gussets.iter_mut().zip(1..).find(|(gusset, _)| gusset.key() == key);
    let (gusset, place) = of.ok_or(Problem::NotFound)?;
    let field = hole_field(balloon);
    let said = read_hole(&mut form, &field);
    if said == Some(GussetHole::NotStated) {
        form.fault(&field, "Type how far it is across, or say that it has none.");
    }
    if let Some(said) = said.filter(|_| !form.is_faulty()) {
        gusset.hole = said;
        let own = format!("gusset_{place}_hole");
        let at_its_field = |fault: Fault| if fault.at == own { Fault::new(&field, fault.why) } else { fault };
        form.refuse(record.faults().into_iter().map(at_its_field).collect());
        if kept(&seen, &record, &found, version, &mut form).await? {
            return Ok(Redirect::to(&seen.address("/gussets")).into_response());
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

fn hole_field(of: Balloon) -> String {
    format!("hole_{of}")
}

/// What a form says of a hole: a diameter, none, or nothing; none with a fault where it cannot be read, or says both.
fn read_hole(form: &mut Form, field: &str) -> Option<GussetHole> {
    let none = form.text("no_hole") == "yes";
    if none && !form.text(field).is_empty() {
        form.fault(
            field,
            "A hole is typed and “No hole” is chosen: which is it? Empty the field, or take the tick away.",
        );
        return None;
    }
    if none {
        return Some(GussetHole::NoHole);
    }
    if form.text(field).is_empty() {
        return Some(GussetHole::NotStated);
    }
    form.read::<Length>(field).map(GussetHole::Across)
}

/// Takes a gusset out; its number is not given out again.
pub(super) async fn remove(seen: Seen, Path((_, balloon)): Path<(String, String)>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let found = seen.found().await?;
    let balloon: Balloon = balloon.parse().map_err(|_| Problem::NotFound)?;
    let key = found.worked.record.key_of(balloon).ok_or(Problem::NotFound)?.to_owned();
    let (mut record, version) = standing(&seen.facts)?;
    record.gussets.retain(|gusset| gusset.key() != key);
    store(&seen, &record, &found, version).await?;
    Ok(Redirect::to(&seen.address("/gussets")).into_response())
}

fn joint_of(form: &Form) -> Option<Balloon> {
    form.text("joint").parse().ok()
}

/// An angle's name in the form.
fn name(angle: &AngleAt) -> String {
    let [one, other] = &angle.arms;
    format!("{}{:?}+{}{:?}", one.member, one.toward, other.member, other.toward)
}

fn angles(found: &Findings, form: &Form) -> Vec<AngleAt> {
    let joint = joint_of(form).and_then(|joint| found.worked.cage.joint(joint));
    joint.map(|joint| angles_at(&found.worked.cage, joint)).unwrap_or_default()
}

fn read(form: &mut Form, found: &Findings) -> Option<Vec<GussetRecord>> {
    let chosen = form.text("angle").to_owned();
    let angle = angles(found, form).into_iter().find(|angle| name(angle) == chosen);
    if angle.is_none() {
        form.fault("angle", "Choose the angle it sits in.");
    }
    let kind = KINDS.into_iter().find(|(key, _)| *key == form.text("kind")).map(|kind| kind.1);
    if kind.is_none() {
        form.fault("kind", "Choose what it is made of.");
    }
    let (leg, thickness) = (form.read::<Length>("leg"), form.read::<Length>("thickness"));
    let hole = read_hole(form, "hole");
    if form.is_faulty() {
        return None;
    }
    let angle = angle?;
    let own = GussetRecord {
        joint: angle.joint.clone(),
        between: angle.arms.clone(),
        kind: kind?,
        leg: leg?,
        thickness: thickness?,
        hole: hole?,
    };
    if found.worked.record.gussets.iter().any(|there| there.key() == own.key()) {
        form.fault("angle", "A gusset sits in this angle already. Take it out first.");
        return None;
    }
    let other = (form.text("mirror") == "yes").then(|| mirrored(&own, found)).flatten();
    Some(std::iter::once(own).chain(other).collect())
}

/// The same gusset on the other side, where such an angle is there and free.
fn mirrored(own: &GussetRecord, found: &Findings) -> Option<GussetRecord> {
    let mirror_arm = |arm: &Arm| {
        let member = other_side(&arm.member);
        // A bar that runs across the car is the same on both sides, and leaves the joint the other way.
        let across = member == arm.member;
        let toward = match (across, arm.toward) {
            (false, toward) => toward,
            (true, Toward::Start) => Toward::End,
            (true, Toward::End) => Toward::Start,
        };
        (member, toward)
    };
    let wanted = own.between.each_ref().map(mirror_arm);
    let angles = found.worked.cage.joints.iter().flat_map(|joint| angles_at(&found.worked.cage, joint));
    let angle = angles.into_iter().find(|angle| {
        let arms = angle.arms.each_ref().map(|arm| (arm.member.clone(), arm.toward));
        let [one, two] = &wanted;
        angle.joint != own.joint && arms.contains(one) && arms.contains(two)
    })?;
    let twin = GussetRecord { joint: angle.joint, between: angle.arms, ..own.clone() };
    (!found.worked.record.gussets.iter().any(|there| there.key() == twin.key())).then_some(twin)
}

impl Gussets {
    fn of(seen: &Seen, found: &Findings, form: &Form) -> Self {
        let may_change = may(seen.who.ctx.by.role, Deed::SetUpBuilds);
        let at = joint_of(form).filter(|joint| found.worked.cage.joint(*joint).is_some());
        let part = |of: Balloon| shots::part(&found.worked.cage, &seen.facts, of);
        let short = found.worked.verdicts.iter().filter(|verdict| {
            let of_joint = verdict.of.is_some_and(|of| of.kind == Kind::Joint);
            of_joint && verdict.measure.is_none() && verdict.state() == Word::ShortBy
        });
        let short = short.filter_map(|verdict| {
            let of = verdict.of?;
            let recommended = if verdict.force == crate::domain::book::Force::Should { ", recommended" } else { "" };
            let why = format!("{} (clause {}{recommended})", part(of), verdict.clause);
            Some((of.to_string(), format!("{}?joint={of}", seen.address("/gussets")), why))
        });
        let joint = |joint: &crate::domain::cage::Joint| {
            let of = joint.balloon;
            (of.to_string(), format!("{of} {}", part(of)), at == Some(of))
        };
        Self {
            sheet: seen.sheet("Gussets"),
            gussets: found.worked.cage.gussets.iter().map(|gusset| made(seen, gusset, form, &part)).collect(),
            short: short.collect(),
            joints: found.worked.cage.joints.iter().map(joint).collect(),
            form: at.filter(|_| may_change).map(|at| AtJoint::of(found, at, part(at), form)),
            may_change,
        }
    }
}

fn made(seen: &Seen, gusset: &Gusset, form: &Form, part: &dyn Fn(Balloon) -> String) -> Made {
    let units = seen.who.units;
    let hole = gusset.hole.clause(|hole| hole.show(units));
    let (leg, sheet) = (gusset.leg.show(units), gusset.thickness.show(units));
    Made {
        balloon: gusset.balloon.to_string(),
        to: seen.address(&part_address(gusset.balloon)),
        words: part(gusset.balloon),
        figures: format!("{}; leg {leg}, {sheet} thick, {hole}; {}", gusset.kind.word(), gusset.mass.show(units)),
        unsaid: gusset.hole == GussetHole::NotStated,
        hole: form.field_named(hole_field(gusset.balloon), format!("Hole of {}, across", gusset.balloon)),
        to_hole: seen.address(&format!("/gussets/{}/hole", gusset.balloon)),
        remove: seen.address(&format!("/gussets/{}/remove", gusset.balloon)),
    }
}

impl AtJoint {
    fn of(found: &Findings, at: Balloon, words: String, form: &Form) -> Self {
        let frame = (Length::from_mm(120.0), Length::from_mm(90.0));
        let taken: Vec<String> = found.worked.record.gussets.iter().map(GussetRecord::key).collect();
        let free = |angle: &AngleAt| !taken.contains(&angle_key(&angle.arms));
        let angles = angles(found, form).into_iter().filter(free);
        let line = |angle: AngleAt| (name(&angle), format!("{} ({:.0}°)", angle.words, angle.between.degrees()));
        let kinds = KINDS.map(|(key, kind)| (key.to_owned(), kind.word().to_owned()));
        let fields = vec![
            form.field("angle", "In which angle").choice(angles.map(line)),
            form.field("kind", "Made of").choice(kinds),
            form.field("leg", "Leg, along each tube").hint("3 1/4, or 80 mm."),
            form.field("thickness", "Thickness of the sheet, or the tube's wall").hint("1/16, or 1.5 mm."),
            form.field("hole", "Hole in the flat side")
                .hint("Across it. Empty while nobody knows; tick below when it has none."),
        ];
        let faults = form.other_faults(&fields.iter().collect::<Vec<_>>());
        let picture = Svg::of(&locate(&found.worked.cage, at, frame), frame, |_| None);
        let ticked = |name| form.text(name) == "yes";
        let (no_hole, mirror) = (ticked("no_hole"), ticked("mirror"));
        Self { joint: at.to_string(), words, picture, faults, fields, no_hole, mirror }
    }
}
