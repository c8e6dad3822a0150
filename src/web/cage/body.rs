//! Where the body is: places taken on the car, the gaps that follow, and whether a torch gets behind the joints.

use askama::Template;
use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use glam::DVec3;

use super::beside::Gaps;
use super::{drawn_first, places, standing, store};
use crate::actions::ActionError;
use crate::domain::cage::around::body::TORCH;
use crate::domain::cage::record::body::{BodyPart, BodyPlace, Taken, next_number};
use crate::domain::cage::{CageRecord, Member};
use crate::domain::derived::findings::Findings;
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::ids::Balloon;
use crate::drawing::Pen;
use crate::drawing::car::beside::{Beside, of_body};
use crate::drawing::car::cage::{draw_with_body, small_beside};
use crate::drawing::car::view::View;
use crate::quantity::Length;
use crate::web::form::{Field, Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;
use crate::web::svg::Svg;

/// The two ways to take a place, as named in the form.
const GAP: &str = "gap";
const POINT: &str = "point";
/// Where each form says what of the body it is.
const GAP_PART: &str = "gap_part";
const POINT_PART: &str = "point_part";

#[derive(Template)]
#[template(path = "cage/body.html")]
struct BodySheet {
    sheet: Sheet,
    base: String,
    taken: Vec<Line>,
    gaps: Option<Gaps>,
    views: Vec<Svg>,
    choose: Field,
    gap: Option<Ask>,
    point: Ask,
    torch: Field,
    laid_out: bool,
    may_change: bool,
}

struct Line {
    number: u32,
    words: String,
    description: String,
    why_not: Option<String>,
}

/// A form for one place.
struct Ask {
    bar: String,
    title: String,
    picture: Svg,
    fields: Vec<Field>,
    faults: Vec<String>,
    mirror: bool,
}

/// The sheet; what stands in its address is drawn without being kept.
pub(super) async fn body(seen: Seen, Query(typed): Query<Pairs>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let drawn = drawn_first(&typed);
    let mut form = Form::of(seen.who.units, typed);
    let place = if drawn { read(&mut form, &found, &found.worked.record) } else { None };
    let mirror = !drawn || form.text("mirror") == "yes";
    show(StatusCode::OK, &BodySheet::of(&seen, &found, &form, (place.as_ref(), mirror)))
}

/// Adds a place, and where it is wished the same on the other side of the car.
pub(super) async fn add(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(seen.who.units, typed);
    let found = seen.found().await?;
    let (mut record, version) = standing(&seen.facts)?;
    let place = read(&mut form, &found, &record);
    let mirror = form.text("mirror") == "yes";
    if let Some(place) = &place {
        let twin = if mirror { place.mirrored(&found.worked.cage) } else { Ok(None) };
        let twin = twin.unwrap_or_else(|why| {
            form.fault("mirror", why);
            None
        });
        form.refuse(place.faults());
        if !form.is_faulty() {
            record.body.extend(std::iter::once(place.clone()).chain(twin));
            form.refuse(record.faults());
        }
        if !form.is_faulty() {
            match store(&seen, &record, &found, version).await {
                Ok(()) => return Ok(Redirect::to(&seen.address("/body")).into_response()),
                Err(ActionError::Refused(faults)) => form.refuse(faults),
                Err(other) => return Err(other.into()),
            }
        }
    }
    show(StatusCode::UNPROCESSABLE_ENTITY, &BodySheet::of(&seen, &found, &form, (place.as_ref(), mirror)))
}

/// Takes a place out.
pub(super) async fn remove(seen: Seen, Path((_, number)): Path<(String, u32)>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let found = seen.found().await?;
    let (mut record, version) = standing(&seen.facts)?;
    let before = record.body.len();
    record.body.retain(|place| place.number != number);
    if record.body.len() == before {
        return Err(Problem::NotFound);
    }
    store(&seen, &record, &found, version).await?;
    Ok(Redirect::to(&seen.address("/body")).into_response())
}

/// Says what ball a torch's head goes through; left empty, the usual one.
pub(super) async fn torch(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(seen.who.units, typed);
    let found = seen.found().await?;
    let (mut record, version) = standing(&seen.facts)?;
    record.torch_radius = form.read_if_typed("torch_radius");
    form.refuse(record.faults().into_iter().filter(|fault| fault.at == "torch_radius").collect());
    if !form.is_faulty() {
        store(&seen, &record, &found, version).await?;
        return Ok(Redirect::to(&seen.address("/body")).into_response());
    }
    show(StatusCode::UNPROCESSABLE_ENTITY, &BodySheet::of(&seen, &found, &form, (None, true)))
}

fn bar_of<'f>(found: &'f Findings, form: &Form) -> Option<&'f Member> {
    form.text("bar").parse().ok().and_then(|balloon: Balloon| found.worked.cage.member(balloon))
}

fn read(form: &mut Form, found: &Findings, record: &CageRecord) -> Option<BodyPlace> {
    let gap = form.text("how") == GAP;
    let part_at = if gap { GAP_PART } else { POINT_PART };
    let part: Option<BodyPart> = form.text(part_at).parse().ok();
    if part.is_none() {
        form.fault(part_at, "Choose what of the body it is.");
    }
    let taken = if gap {
        let on = bar_of(found, form).map(|bar| bar.key.clone());
        if on.is_none() {
            form.fault("bar", "Choose the bar it is measured from.");
        }
        let (at, gap) = (places::read(form, ("place", "by")), form.read("gap"));
        Taken::Gap { on: on?, at: at?, gap: gap? }
    } else {
        let [forward, left, up] = ["forward", "left", "up"].map(|at| form.read(at));
        Taken::Point { forward: forward?, left: left?, up: up? }
    };
    Some(BodyPlace { number: next_number(&record.body), part: part?, taken })
}

impl BodySheet {
    fn of(seen: &Seen, found: &Findings, form: &Form, (place, mirror): (Option<&BodyPlace>, bool)) -> Self {
        let may_change = may(seen.who.ctx.by.role, Deed::SetUpBuilds);
        let line = |bar: &Member| {
            (bar.balloon.to_string(), format!("{} {}, {}", bar.balloon, bar.role.word(), bar.side.word()))
        };
        let torch = match form.text("torch_radius") {
            "" if !form.is_faulty() => found.worked.record.torch_radius.as_ref().map(|torch| torch.text.clone()),
            typed => Some(typed.to_owned()),
        };
        let usual = TORCH.by_tape(seen.who.units);
        Self {
            sheet: seen.sheet("Body beside the bars"),
            base: seen.address(""),
            taken: found.worked.record.body.iter().map(|place| Line::of(found, place)).collect(),
            gaps: Gaps::of(seen, &found.worked.cage, &found.worked.around),
            views: if found.worked.around.body.is_empty() { Vec::new() } else { views(found) },
            choose: form.field("bar", "From which bar").choice(found.worked.cage.members.iter().map(line)),
            gap: bar_of(found, form).map(|bar| Ask::gap(found, bar, form, (place, mirror))),
            point: Ask::point(found, form, (place, mirror)),
            torch: Field {
                value: torch.unwrap_or_default(),
                ..form.field("torch_radius", "Ball that the torch's head goes through, its radius")
            }
            .hint(format!("Left empty: {usual}, common practice.")),
            laid_out: !found.worked.cage.members.is_empty(),
            may_change,
        }
    }
}

impl Line {
    fn of(found: &Findings, place: &BodyPlace) -> Self {
        let key = place.key();
        let why_not = found.worked.around.faults.iter().find(|fault| fault.at == key).map(|fault| fault.why.clone());
        Self { number: place.number, words: place.part.word().to_owned(), description: place.describe(), why_not }
    }
}

/// The cage from four sides, every place with its number.
fn views(found: &Findings) -> Vec<Svg> {
    let frame = (Length::from_mm(130.0), Length::from_mm(95.0));
    [View::Isometric, View::Front, View::Side, View::Plan]
        .map(|view| Svg::of(&draw_with_body(&found.worked.cage, &found.worked.around, view, frame), frame, |_| None))
        .to_vec()
}

impl Ask {
    fn gap(found: &Findings, bar: &Member, form: &Form, (place, mirror): (Option<&BodyPlace>, bool)) -> Self {
        let own = form.text("how") != POINT;
        let fields = vec![
            part(form, GAP_PART),
            form.field("place", "Where on it").choice(places::places(found, bar, None, form.units())),
            form.field("by", "How far").hint("4 in, or 100 mm. Left and forward: minus is to the right and rearward."),
            form.field("gap", "Gap from tube to body").hint("1 1/4, or 32 mm. Feeler, tape or a ball of clay."),
        ];
        let drawn =
            place.filter(|place| own && matches!(place.taken, Taken::Gap { .. })).map(|place| marked(found, place));
        Self {
            bar: bar.balloon.to_string(),
            title: format!("A gap on {} {}", bar.balloon, bar.role.word()),
            picture: picture(found, Some(bar.balloon), &drawn.unwrap_or_default()),
            faults: if own { form.other_faults(&fields.iter().collect::<Vec<_>>()) } else { Vec::new() },
            fields,
            mirror,
        }
    }

    fn point(found: &Findings, form: &Form, (place, mirror): (Option<&BodyPlace>, bool)) -> Self {
        let own = form.text("how") == POINT;
        let fields = vec![
            part(form, POINT_PART),
            form.field("forward", "Forward of the hoop's feet").hint("27, or 690 mm. Minus is behind them."),
            form.field("left", "Left of the centre").hint("19 1/2, or 495 mm. Minus is to the right."),
            form.field("up", "Up from the floor").hint("43, or 1092 mm."),
        ];
        let typed = place.filter(|place| own && matches!(place.taken, Taken::Point { .. }));
        Self {
            bar: String::new(),
            title: "A point in space".to_owned(),
            picture: picture(found, None, &typed.map_or_else(|| example(found), |place| marked(found, place))),
            faults: if own { form.other_faults(&fields.iter().collect::<Vec<_>>()) } else { Vec::new() },
            fields,
            mirror,
        }
    }
}

fn part(form: &Form, name: &'static str) -> Field {
    let parts = BodyPart::ALL.map(|part| (part.key().to_owned(), part.word().to_owned()));
    form.field(name, "What of the body").choice(parts)
}

fn picture(found: &Findings, bar: Option<Balloon>, beside: &[Beside]) -> Svg {
    let frame = (Length::from_mm(96.0), Length::from_mm(66.0));
    let darkened: Vec<Balloon> = bar.into_iter().collect();
    Svg::of(&small_beside(&found.worked.cage, &darkened, beside, frame), frame, |_| None)
}

/// A place as it is typed, standing out; of a point also the three lengths that lead to it.
fn marked(found: &Findings, place: &BodyPlace) -> Vec<Beside> {
    let Ok(at) = found.worked.cage.body_at(place) else { return Vec::new() };
    let body = match of_body(&found.worked.cage, &at, false) {
        Beside::Body { from, at, words, .. } => Beside::Body { from, at, words, pen: Pen::Marked },
        other => other,
    };
    match &place.taken {
        Taken::Gap { .. } => vec![body],
        Taken::Point { .. } => vec![body, leading_to(at.point)],
    }
}

/// How the three lengths of a point are measured, at the joint that stands highest.
fn example(found: &Findings) -> Vec<Beside> {
    let highest = found.worked.cage.joints.iter().max_by(|one, next| one.at.z.total_cmp(&next.at.z));
    highest.map(|joint| leading_to(joint.at + DVec3::Z * 60.0)).into_iter().collect()
}

fn leading_to(point: DVec3) -> Beside {
    let forward = DVec3::new(point.x, 0.0, 0.0);
    Beside::Run(vec![DVec3::ZERO, forward, forward + DVec3::Y * point.y, point], Pen::Marked)
}
