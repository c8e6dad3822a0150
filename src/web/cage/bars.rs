//! Bars added by hand: from which bar to which, where on each, and taking them out.

use askama::Template;
use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::tried_bar::Tried;
use super::{bar_in, drawn_first, kept, places, standing};
use crate::domain::cage::record::by_hand::{At, HandBar, Stand, next_number};
use crate::domain::cage::{CageRecord, Member};
use crate::domain::derived::findings::Findings;
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::roles::MemberRole;
use crate::drawing::car::cage::locate;
use crate::quantity::Length;
use crate::web::form::{Field, Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address, show};
use crate::web::problem::Problem;
use crate::web::svg::Svg;

/// The two ends, as named in the form.
const ENDS: [&str; 2] = ["first", "last"];

#[derive(Template)]
#[template(path = "cage/bars.html")]
struct Bars {
    sheet: Sheet,
    added: Vec<Added>,
    between: Vec<Field>,
    form: Option<Adding>,
    /// The bar as typed, where somebody wants to see it before it is added.
    tried: Option<Tried>,
    laid_out: bool,
    may_change: bool,
}

struct Added {
    balloon: String,
    to: Option<String>,
    words: String,
    where_it_stands: String,
    why_not: Option<String>,
    remove: String,
}

/// The form for a bar between two bars.
struct Adding {
    ends: Vec<AtEnd>,
    fields: Vec<Field>,
    faults: Vec<String>,
    cut_at_crossings: bool,
    mirror: bool,
}

/// One end's part of the form.
struct AtEnd {
    title: String,
    bar: String,
    on: String,
    picture: Svg,
    fields: Vec<Field>,
}

/// The sheet; what stands in its address is drawn without being kept.
pub(super) async fn bars(seen: Seen, Query(mut typed): Query<Pairs>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    if !drawn_first(&typed) {
        typed.push(("mirror".to_owned(), "yes".to_owned()));
        return show(StatusCode::OK, &Bars::of(&seen, &found, &Form::of(seen.who.units, typed)));
    }
    let mut form = Form::of(seen.who.units, typed);
    let record = with_bar(&mut form, &found, found.worked.record.clone());
    let tried = record.map(|record| Tried::of(&found, &record, seen.who.units));
    show(StatusCode::OK, &Bars { tried, ..Bars::of(&seen, &found, &form) })
}

/// Adds a bar, and where it is wished the same on the other side of the car.
pub(super) async fn add(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(seen.who.units, typed);
    let found = seen.found().await?;
    let (record, version) = standing(&seen.facts)?;
    if let Some(record) = with_bar(&mut form, &found, record)
        && kept(&seen, &record, &found, version, &mut form).await?
    {
        return Ok(Redirect::to(&seen.address("/bars")).into_response());
    }
    show(StatusCode::UNPROCESSABLE_ENTITY, &Bars::of(&seen, &found, &form))
}

/// The record with the bar as typed, and its twin where that is wished; none when something is wrong with it, said in
/// the form.
fn with_bar(form: &mut Form, found: &Findings, mut record: CageRecord) -> Option<CageRecord> {
    let bar = read(form, found, &record)?;
    let twin = if form.text("mirror") == "yes" { bar.mirrored(&found.worked.cage) } else { Ok(None) };
    let twin = twin.unwrap_or_else(|why| {
        form.fault("mirror", why);
        None
    });
    form.refuse(bar.faults());
    if !form.is_faulty() {
        record.hand_bars.extend(std::iter::once(bar).chain(twin));
        form.refuse(record.faults());
    }
    (!form.is_faulty()).then_some(record)
}

/// Takes a bar out; its number is not given out again.
pub(super) async fn remove(seen: Seen, Path((_, number)): Path<(String, u32)>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let found = seen.found().await?;
    let (mut record, version) = standing(&seen.facts)?;
    let before = record.hand_bars.len();
    record.hand_bars.retain(|bar| bar.number != number);
    if record.hand_bars.len() == before {
        return Err(Problem::NotFound);
    }
    super::store(&seen, &record, &found, version).await?;
    Ok(Redirect::to(&seen.address("/bars")).into_response())
}

fn read(form: &mut Form, found: &Findings, record: &CageRecord) -> Option<HandBar> {
    let bars = ENDS.map(|end| bar_in(found, form, end).cloned());
    for (end, bar) in ENDS.into_iter().zip(&bars) {
        if bar.is_none() {
            form.fault(end, "Choose the bar it lands on.");
        }
    }
    let [first, last] = bars;
    let (first, last) = (first?, last?);
    let role: Option<MemberRole> = form.text("role").parse().ok();
    if role.is_none() {
        form.fault("role", "Choose what it is to the cage.");
    }
    let ends = [stand(form, found, ("first", &first), &last), stand(form, found, ("last", &last), &first)];
    let number = next_number(&record.hand_bars, record.numbers.keys());
    let (name, cut_at_crossings) = (form.text("name").to_owned(), form.text("cut_at_crossings") == "yes");
    let [first, last] = ends;
    Some(HandBar { number, name, role: role?, ends: [first?, last?], cut_at_crossings })
}

fn stand(form: &mut Form, found: &Findings, (end, bar): (&str, &Member), other: &Member) -> Option<Stand> {
    let (place, by) = (format!("{end}_place"), format!("{end}_by"));
    let at = places::read(form, (&place, &by));
    let corner_with = match &at {
        Some(At::Meets { bar, .. }) if form.text(&format!("{end}_corner")) == "yes" => Some(bar.clone()),
        _ => None,
    };
    if corner_with.as_deref().is_some_and(|with| found.worked.cage.member_called(with).is_none() || with == other.key) {
        form.fault(&place, "In a corner it lands on two other bars.");
    }
    let offset = form.read_if_typed(&format!("{end}_offset"));
    Some(Stand { on: bar.key.clone(), at: at?, corner_with, offset })
}

impl Bars {
    fn of(seen: &Seen, found: &Findings, form: &Form) -> Self {
        let may_change = may(seen.who.ctx.by.role, Deed::SetUpBuilds);
        let line = |bar: &Member| {
            let side = bar.side.word();
            (bar.balloon.to_string(), format!("{} {}, {side}", bar.balloon, bar.role.word()))
        };
        let choice = |name: &'static str, label: &str| {
            form.field(name, label).choice(found.worked.cage.members.iter().map(line))
        };
        let bars = ENDS.map(|end| bar_in(found, form, end));
        let form = match bars {
            [Some(first), Some(last)] if may_change => Some(Adding::of(found, [first, last], form)),
            _ => None,
        };
        Self {
            sheet: seen.sheet("Bars by hand"),
            added: found.worked.record.hand_bars.iter().map(|bar| Added::of(seen, found, bar)).collect(),
            between: vec![choice("first", "From which bar"), choice("last", "To which bar")],
            laid_out: !found.worked.cage.members.is_empty(),
            form,
            tried: None,
            may_change,
        }
    }
}

impl Added {
    fn of(seen: &Seen, found: &Findings, bar: &HandBar) -> Self {
        let key = bar.key();
        let balloon = |key: &str| found.worked.record.numbers.get(key).map(ToString::to_string);
        let pieces = found.worked.cage.members.iter().filter(|member| {
            member.key == key || member.key.strip_prefix(&key).is_some_and(|piece| piece.starts_with('/'))
        });
        let pieces: Vec<&Member> = pieces.collect();
        let numbers: Vec<String> = pieces.iter().map(|piece| piece.balloon.to_string()).collect();
        let length: Length = pieces.iter().map(|piece| piece.developed).sum();
        let on = |stand: &Stand| balloon(&stand.on).unwrap_or_else(|| stand.on.replace(['-', '/'], " "));
        let [first, last] = bar.ends.each_ref().map(on);
        let name = balloon(&key).unwrap_or_else(|| key.clone());
        let why_not = found.worked.cage.faults.iter().find(|fault| fault.at == name || fault.at == key);
        Self {
            balloon: if numbers.is_empty() { name } else { numbers.join(", ") },
            to: pieces.first().map(|piece| seen.address(&part_address(piece.balloon))),
            words: format!("{}, {}", bar.name, bar.role.word()),
            where_it_stands: format!("from {first} to {last}, {}", length.by_tape(seen.who.units)),
            why_not: why_not.map(|fault| fault.why.clone()),
            remove: seen.address(&format!("/bars/{}/remove", bar.number)),
        }
    }
}

impl Adding {
    fn of(found: &Findings, [first, last]: [&Member; 2], form: &Form) -> Self {
        let ends = vec![
            AtEnd::of(found, ("first", "First end"), (first, last), form),
            AtEnd::of(found, ("last", "Last end"), (last, first), form),
        ];
        let roles = MemberRole::ALL.map(|role| (role.word().to_owned(), role.word().to_owned()));
        let role = form.field("role", "What it is to the cage").choice(roles.into_iter().rev());
        let fields = vec![form.field("name", "What you call it").hint("“engine stay”, “lower door bar”."), role];
        let shown: Vec<&Field> = ends.iter().flat_map(|end| &end.fields).chain(&fields).collect();
        let faults = form.other_faults(&shown);
        let ticked = |name: &str| form.text(name) == "yes";
        Self { faults, ends, fields, cut_at_crossings: ticked("cut_at_crossings"), mirror: ticked("mirror") }
    }
}

impl AtEnd {
    fn of(found: &Findings, (end, title): (&str, &str), (bar, other): (&Member, &Member), form: &Form) -> Self {
        let frame = (Length::from_mm(96.0), Length::from_mm(66.0));
        let units = form.units();
        let fields = vec![
            form.field_named(format!("{end}_place"), "Where on it").choice(places::places(
                found,
                bar,
                Some(other.balloon),
                units,
            )),
            form.field_named(format!("{end}_by"), "How far")
                .hint("4 in, or 100 mm. Out from the centre and forward: minus is to the right and rearward."),
            form.field_named(format!("{end}_corner"), "At a joint").choice([
                ("no".to_owned(), "coped over this bar alone".to_owned()),
                ("yes".to_owned(), "into the corner: coped over both bars".to_owned()),
            ]),
            form.field_named(format!("{end}_offset"), "Beside its centre line")
                .hint("Empty when it points at the middle. Plus is upward, or forward where the bar would be level."),
        ];
        Self {
            title: format!("{title}: on {} {}", bar.balloon, bar.role.word()),
            bar: bar.balloon.to_string(),
            on: end.to_owned(),
            picture: Svg::of(&locate(&found.worked.cage, bar.balloon, frame), frame, |_| None),
            fields,
        }
    }
}
