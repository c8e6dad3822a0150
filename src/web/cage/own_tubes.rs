//! Bars with a tube of their own: which, why, and what the class asks of them all the same.

use askama::Template;
use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;

use super::{bar_in, kept, standing, store};
use crate::domain::cage::{Member, TubeOverride};
use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::Weighed;
use crate::domain::shop::people::{Deed, may};
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::cautions;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;
use crate::drawing::car::cage::locate;
use crate::quantity::{Length, Typed, Units};
use crate::web::form::{Field, Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address, show};
use crate::web::problem::Problem;
use crate::web::svg::Svg;

/// Of which bar.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Of {
    #[serde(default)]
    bar: String,
}

#[derive(Template)]
#[template(path = "cage/own_tubes.html")]
struct OwnTubes {
    sheet: Sheet,
    own: Vec<Own>,
    choose: Field,
    form: Option<OfBar>,
    laid_out: bool,
    may_change: bool,
}

struct Own {
    balloon: String,
    to: Option<String>,
    words: String,
    asked: String,
    remove: String,
}

/// The form for one bar.
struct OfBar {
    bar: String,
    words: String,
    asked: String,
    picture: Svg,
    fields: Vec<Field>,
    faults: Vec<String>,
}

pub(super) async fn own_tubes(seen: Seen, Query(of): Query<Of>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let mut filled = vec![("bar".to_owned(), of.bar)];
    let form = Form::filled(seen.who.units, filled.clone());
    if let Some(own) = bar_in(&found, &form, "bar").and_then(|bar| found.worked.record.tubes.get(&bar.key)) {
        let grade = own.grade.clone().unwrap_or_default();
        let description = [("tube", own.tube.to_string()), ("grade", grade), ("reason", own.reason.clone())];
        filled.extend(description.map(|(name, text)| (name.to_owned(), text)));
    }
    show(StatusCode::OK, &OwnTubes::of(&seen, &found, &Form::filled(seen.who.units, filled)))
}

/// Gives a bar a tube of its own.
pub(super) async fn give(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(seen.who.units, typed);
    let found = seen.found().await?;
    let (mut record, version) = standing(&seen.facts)?;
    let key = bar_in(&found, &form, "bar").map(|bar| bar.key.clone());
    if key.is_none() {
        form.fault("bar", "Choose the bar it is for.");
    }
    let tube: Option<Typed<TubeSize>> = form.read("tube");
    if let Some((key, tube)) = key.zip(tube) {
        let [grade, reason] = ["grade", "reason"].map(|at| form.text(at).to_owned());
        let grade = Some(grade).filter(|grade| !grade.is_empty());
        record.tubes.insert(key.clone(), TubeOverride { tube: tube.value, grade, reason });
        form.refuse(record.faults().into_iter().map(|fault| at_its_field(fault, &key)).collect());
        if kept(&seen, &record, &found, version, &mut form).await? {
            return Ok(Redirect::to(&seen.address("/own-tubes")).into_response());
        }
    }
    show(StatusCode::UNPROCESSABLE_ENTITY, &OwnTubes::of(&seen, &found, &form))
}

/// Gives a bar back the tube of its kind.
pub(super) async fn remove(seen: Seen, Path((_, balloon)): Path<(String, String)>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let balloon: Balloon = balloon.parse().map_err(|_| Problem::NotFound)?;
    let found = seen.found().await?;
    let key = found.worked.record.key_of(balloon).ok_or(Problem::NotFound)?.to_owned();
    let (mut record, version) = standing(&seen.facts)?;
    record.tubes.remove(&key).ok_or(Problem::NotFound)?;
    store(&seen, &record, &found, version).await?;
    Ok(Redirect::to(&seen.address("/own-tubes")).into_response())
}

/// The record names a faulty tube by its bar; the form has one field for the size and one for the reason.
fn at_its_field(fault: Fault, key: &str) -> Fault {
    match fault.at.strip_prefix("tube/") {
        Some(at) if at == key => Fault::new("tube", fault.why),
        Some(at) if at.strip_prefix(key) == Some("/reason") => Fault::new("reason", fault.why),
        Some(at) if at.strip_prefix(key) == Some("/grade") => Fault::new("grade", fault.why),
        _ => fault,
    }
}

/// What a bar would have without a tube of its own, and what the class's rule says of the one it has.
fn asked(found: &Findings, bar: &Member, units: Units) -> String {
    let size = found.worked.tubes.of(bar.role);
    if !found.worked.tubes_asked {
        return format!("Without one it is drawn with {size}; the weighed car and the book say what is asked.");
    }
    let class = found.worked.weighed.as_ref().and_then(Weighed::asks);
    let rule = class.map(|answer| answer.rule_id.as_str());
    let mut verdicts = found.worked.verdicts_of(bar.balloon);
    let verdict = verdicts.find(|verdict| rule == Some(verdict.rule_id.as_str()));
    let limit = verdict.and_then(|verdict| verdict.limit.as_ref()).map_or(size.to_string(), |limit| limit.text.clone());
    let word = verdict.map(|verdict| format!(" Its {}: {}.", bar.tube, verdict.describe(units))).unwrap_or_default();
    format!("The class asks for {limit}.{word}")
}

impl OwnTubes {
    fn of(seen: &Seen, found: &Findings, form: &Form) -> Self {
        let may_change = may(seen.who.ctx.by.role, Deed::SetUpBuilds);
        let line = |bar: &Member| {
            let words = format!("{} {}, {}: {}", bar.balloon, bar.role.word(), bar.side.word(), bar.tube);
            (bar.balloon.to_string(), words)
        };
        Self {
            sheet: seen.sheet("Tubes of single bars"),
            own: found.worked.record.tubes.iter().map(|(key, own)| Own::of(seen, found, key, own)).collect(),
            choose: form.field("bar", "Of which bar").choice(found.worked.cage.members.iter().map(line)),
            form: bar_in(found, form, "bar").filter(|_| may_change).map(|bar| OfBar::of(found, bar, form)),
            laid_out: !found.worked.cage.members.is_empty(),
            may_change,
        }
    }
}

impl Own {
    fn of(seen: &Seen, found: &Findings, key: &str, own: &TubeOverride) -> Self {
        let bar = found.worked.cage.member_called(key);
        let number = found.worked.record.numbers.get(key).map(ToString::to_string);
        let balloon = number.unwrap_or_else(|| key.to_owned());
        Self {
            remove: seen.address(&format!("/own-tubes/{balloon}/remove")),
            to: bar.map(|bar| seen.address(&part_address(bar.balloon))),
            words: format!("{}, {}: {}", bar.map_or("not laid out", |bar| bar.role.word()), own.describe(), own.reason),
            asked: bar.map(|bar| asked(found, bar, seen.who.units)).unwrap_or_default(),
            balloon,
        }
    }
}

impl OfBar {
    fn of(found: &Findings, bar: &Member, form: &Form) -> Self {
        let frame = (Length::from_mm(96.0), Length::from_mm(66.0));
        let fields = vec![
            form.field("tube", "Outside diameter and wall").hint("1 3/4 x .095, or 45 x 2.5 mm."),
            form.field("grade", "Grade of steel")
                .hint("As printed on the stick. Empty where any that the book takes will do."),
            form.field("reason", "Why it is another").hint("What it carries, who asked for it, what was on the rack."),
        ];
        let shown: Vec<&Field> = fields.iter().collect();
        Self {
            bar: bar.balloon.to_string(),
            words: format!("{}, {}", bar.role.word(), bar.side.word()),
            asked: asked(found, bar, form.units()),
            picture: Svg::of(&locate(&found.worked.cage, bar.balloon, frame), frame, |_| None),
            faults: form.other_faults(&shown),
            fields,
        }
    }
}
