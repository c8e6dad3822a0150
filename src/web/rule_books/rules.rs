//! One rule of a draft: shown as a form, written, added, taken out.

use axum::extract::{Form as Posted, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::drafts::{AtDraft, address, draft_of};
use super::rule_form::{RULE, RuleForm};
use crate::actions::book::drafts::TypedRule;
use crate::actions::{self, ActionError};
use crate::domain::book;
use crate::domain::book::forms::editing::Editing;
use crate::domain::book::{Place, RuleKind};
use crate::domain::words::faults::Fault;
use crate::store::book::drafts::Draft;
use crate::web::form::{Form, Pairs};
use crate::web::gate::SignedIn;
use crate::web::page::show;
use crate::web::problem::Problem;

fn place_of(text: &str) -> Result<Place, Problem> {
    text.parse().map_err(|_| Problem::NotFound)
}

fn kind_of(text: &str) -> Result<RuleKind, Problem> {
    RuleKind::ALL.into_iter().find(|kind| kind.table() == text).ok_or(Problem::NotFound)
}

/// What stands in a rule, as the form's pairs; none when there is no such rule.
fn recorded(draft: &Draft, place: Place) -> Option<Pairs> {
    let typed = Editing::of(&draft.toml)?.typed(place)?;
    let mut pairs: Pairs = typed.into_iter().map(|(name, text)| (format!("{RULE}{name}"), text)).collect();
    pairs.push(("version".to_owned(), draft.version.to_string()));
    Some(pairs)
}

/// Pairs as a browser sends them, with the several ticks of one field as its lines.
fn joined(typed: Pairs) -> Pairs {
    let mut pairs = Pairs::new();
    for (name, text) in typed {
        match pairs.iter_mut().find(|pair| pair.0 == name) {
            Some(pair) => pair.1 = format!("{}\n{text}", pair.1),
            None => pairs.push((name, text)),
        }
    }
    pairs
}

fn typed_rule(draft: &Draft, form: &Form, typed: &Pairs) -> TypedRule {
    let rule = typed.iter().filter_map(|(name, text)| Some((name.strip_prefix(RULE)?.to_owned(), text.clone())));
    TypedRule {
        draft: draft.id,
        version: form.version(),
        typed: rule.collect(),
        with_mistakes: form.text("keep") == "yes",
    }
}

/// Faults under the names of the form's fields; what is about none of them stands at its head.
fn at_fields(faults: Vec<Fault>) -> Vec<Fault> {
    faults.into_iter().map(|fault| Fault::new(format!("{RULE}{}", fault.at), fault.why)).collect()
}

/// Back to the draft, at the rule; at its head where something is wrong with the draft, which stands there.
async fn back_to(who: &SignedIn, draft: &Draft, place: Place) -> Result<Response, Problem> {
    let now = draft_of(who, &draft.id.to_string()).await?;
    let to = address(draft.id);
    let to = if book::read(&now.toml).is_ok() { format!("{to}#{place}") } else { to };
    Ok(Redirect::to(&to).into_response())
}

/// The form of one rule.
pub(super) async fn rule(
    AtDraft { who, draft }: AtDraft,
    Path((_, place)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let place = place_of(&place)?;
    let form = Form::filled(who.units, recorded(&draft, place).ok_or(Problem::NotFound)?);
    show(StatusCode::OK, &RuleForm::of(&who, &draft, place, &form))
}

/// Writes one rule.
pub(super) async fn write(
    AtDraft { who, draft }: AtDraft,
    Path((_, place)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let place = place_of(&place)?;
    let typed = joined(typed);
    let mut form = Form::of(who.units, typed.clone());
    match actions::book::drafts::write_rule(&who.ctx, place, typed_rule(&draft, &form, &typed)).await {
        Ok(_) => back_to(&who, &draft, place).await,
        Err(ActionError::Refused(faults)) => {
            form.refuse(at_fields(faults));
            show(StatusCode::UNPROCESSABLE_ENTITY, &RuleForm::of(&who, &draft, place, &form))
        }
        Err(ActionError::Stale { .. }) => {
            let draft = draft_of(&who, &draft.id.to_string()).await?;
            let version = form.version();
            let moved = actions::book::drafts::where_now(&who.ctx, &draft, version, place).await?;
            let theirs = moved.and_then(|moved| Some((moved, recorded(&draft, moved)?)));
            let Some((moved, theirs)) = theirs else {
                let why = "Somebody else took this rule out while you were at it. All that you typed is here; saving adds it anew.";
                form.fault(RULE, why);
                return show(StatusCode::CONFLICT, &RuleForm::new_rule(&who, &draft, place.kind, &form));
            };
            form.overtaken(theirs);
            show(StatusCode::CONFLICT, &RuleForm::of(&who, &draft, moved, &form))
        }
        Err(other) => Err(other.into()),
    }
}

/// The empty form of a new rule.
pub(super) async fn new_rule(
    AtDraft { who, draft }: AtDraft,
    Path((_, kind)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let kind = kind_of(&kind)?;
    let form = Form::filled(who.units, vec![("version".to_owned(), draft.version.to_string())]);
    show(StatusCode::OK, &RuleForm::new_rule(&who, &draft, kind, &form))
}

/// Adds a rule.
pub(super) async fn add(
    AtDraft { who, draft }: AtDraft,
    Path((_, kind)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let kind = kind_of(&kind)?;
    let typed = joined(typed);
    let mut form = Form::of(who.units, typed.clone());
    match actions::book::drafts::add_rule(&who.ctx, kind, typed_rule(&draft, &form, &typed)).await {
        Ok(place) => back_to(&who, &draft, place).await,
        Err(ActionError::Refused(faults)) => {
            form.refuse(at_fields(faults));
            show(StatusCode::UNPROCESSABLE_ENTITY, &RuleForm::new_rule(&who, &draft, kind, &form))
        }
        Err(other) => Err(other.into()),
    }
}

/// Takes a rule out.
pub(super) async fn take_out(
    AtDraft { who, draft }: AtDraft,
    Path((_, place)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let place = place_of(&place)?;
    let version = Form::of(who.units, typed).version();
    actions::book::drafts::take_out(&who.ctx, draft.id, version, place).await?;
    Ok(Redirect::to(&address(draft.id)).into_response())
}
