//! Beginning a book on screen: its head, its class table, the bars it asks for, and its release.

use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::begun_view::{BarsSheet, BeginBook, ClassesSheet, last_row, rows_in};
use super::draft_view::units_of;
use super::drafts::{AtDraft, address, draft_of};
use crate::actions::{self, ActionError};
use crate::domain::book::{ClassRow, ClassTable, NeededBars, NewBook, Source};
use crate::domain::shop::people::Deed;
use crate::domain::words::roles::MemberRole;
use crate::quantity::Units;
use crate::store::book::drafts::Draft;
use crate::web::form::{Form, Pairs};
use crate::web::gate::SignedIn;
use crate::web::page::show;
use crate::web::problem::Problem;

const STALE: &str = "Somebody else saved this draft while you were at it. What you typed is here; save again to write it over the \
                     draft as it stands now.";

/// The form of a book with nothing in it.
pub(super) async fn asked(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let units = if who.units == Units::Inch { "inch" } else { "metric" };
    let year = who.ctx.clock.today().year().to_string();
    let stands = [("name", "Build Rules"), ("edition", year.as_str()), ("units", units)];
    let stands = stands.map(|(at, text)| (at.to_owned(), text.to_owned())).to_vec();
    show(StatusCode::OK, &BeginBook::of(&who, &Form::filled(who.units, stands)))
}

/// Begins a book with nothing in it.
pub(super) async fn begin(who: SignedIn, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let mut form = Form::of(who.units, typed);
    let units = match form.text("units") {
        "inch" => Some(Units::Inch),
        "metric" => Some(Units::Metric),
        _ => {
            form.fault("units", "Choose the units that the organiser's book prints.");
            None
        }
    };
    let text = |at: &str| form.text(at).to_owned();
    let new =
        NewBook { name: text("name"), body: text("body"), edition: text("edition"), units: units.unwrap_or(who.units) };
    if form.is_faulty() {
        form.refuse(new.faults());
    } else {
        match actions::book::begun::begin_empty(&who.ctx, &new).await {
            Ok(draft) => return Ok(Redirect::to(&format!("{}/classes", address(draft.id))).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    show(StatusCode::UNPROCESSABLE_ENTITY, &BeginBook::of(&who, &form))
}

/// Begins a draft from the invented example.
pub(super) async fn begin_from_example(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let draft = actions::book::begun::begin_from_example(&who.ctx).await?;
    Ok(Redirect::to(&address(draft.id)).into_response())
}

/// What stands in a draft's class table, as the form's pairs; none where no table of rows holds it.
fn recorded(draft: &Draft) -> Option<Pairs> {
    let (rows, lighter, bars) = ClassTable::of(&draft.toml)?;
    let mut pairs: Pairs = vec![
        ("version".to_owned(), draft.version.to_string()),
        ("edge".to_owned(), if lighter { "lighter" } else { "heavier" }.to_owned()),
    ];
    for (at, row) in rows.into_iter().enumerate() {
        let fields =
            [("name", row.name), ("over", row.over), ("upto", row.upto), ("main", row.main), ("other", row.other)];
        pairs.extend(fields.map(|(name, text)| (format!("class.{at}.{name}"), text)));
    }
    // A main hoop is a main bar in every book; which others are, the organiser's book says.
    let bars = if bars.is_empty() { vec![MemberRole::MainHoop] } else { bars };
    pairs.extend(bars.into_iter().map(|role| ("main_bars".to_owned(), role.word().to_owned())));
    pairs.extend(new_source("class table"));
    Some(pairs)
}

/// Until somebody says better, what is typed is from memory: nothing is taken for confirmed that nobody confirmed.
fn new_source(clause: &str) -> [(String, String); 2] {
    [("clause", clause), ("sure", "from memory")].map(|(at, text)| (at.to_owned(), text.to_owned()))
}

fn source_of(form: &Form) -> Source {
    Source { clause: form.text("clause").to_owned(), sure: form.text("sure").to_owned() }
}

fn roles_of(form: &Form, at: &str) -> Vec<MemberRole> {
    form.chosen(at).iter().filter_map(|word| word.parse().ok()).collect()
}

/// How many rows of the table a form has, down to the last of them in which anything stands.
fn filled(form: &Form) -> usize {
    last_row(form.pairs().iter().filter(|pair| !pair.1.trim().is_empty()))
}

fn table_of(form: &Form) -> ClassTable {
    let cell = |at: usize, field: &str| form.text(&format!("class.{at}.{field}")).to_owned();
    let row = |at: usize| ClassRow {
        name: cell(at, "name"),
        over: cell(at, "over"),
        upto: cell(at, "upto"),
        main: cell(at, "main"),
        other: cell(at, "other"),
    };
    ClassTable {
        rows: (0..rows_in(form)).map(row).collect(),
        lighter: form.text("edge") != "heavier",
        main_bars: roles_of(form, "main_bars"),
        source: source_of(form),
        units: form.units(),
    }
}

/// The class table of a draft; the draft itself where a table of rows cannot hold its classes.
pub(super) async fn classes(AtDraft { who, draft }: AtDraft) -> Result<Response, Problem> {
    let Some(pairs) = recorded(&draft).filter(|_| draft.open()) else {
        return Ok(Redirect::to(&address(draft.id)).into_response());
    };
    let form = Form::filled(units_of(&draft, &who), pairs);
    show(StatusCode::OK, &ClassesSheet::of(&who, &draft, &form, filled(&form)))
}

/// Writes the class table.
pub(super) async fn write_classes(
    AtDraft { who, draft }: AtDraft,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let mut form = Form::of(units_of(&draft, &who), typed);
    if form.text("more") == "yes" {
        return show(StatusCode::OK, &ClassesSheet::of(&who, &draft, &form, rows_in(&form)));
    }
    let (at, table) = ((draft.id, form.version()), table_of(&form));
    let (status, draft) = match actions::book::begun::write_classes(&who.ctx, at, &table).await {
        Ok(_) => return Ok(Redirect::to(&format!("{}/bars", address(draft.id))).into_response()),
        Err(error) => refused(&who, &mut form, draft, error).await?,
    };
    show(status, &ClassesSheet::of(&who, &draft, &form, filled(&form)))
}

/// A refusal noted in the form; where somebody else saved first, the next save goes by theirs.
async fn refused(
    who: &SignedIn,
    form: &mut Form,
    draft: Draft,
    error: ActionError,
) -> Result<(StatusCode, Draft), Problem> {
    match error {
        ActionError::Refused(faults) => {
            form.refuse(faults);
            Ok((StatusCode::UNPROCESSABLE_ENTITY, draft))
        }
        ActionError::Stale { now } => {
            form.says("version", &now.to_string());
            form.fault("draft", STALE);
            Ok((StatusCode::CONFLICT, draft_of(who, &draft.id.to_string()).await?))
        }
        other => Err(other.into()),
    }
}

/// The bars that a draft asks for.
pub(super) async fn bars(AtDraft { who, draft }: AtDraft) -> Result<Response, Problem> {
    let Some(ticked) = NeededBars::of(&draft.toml).filter(|_| draft.open()) else {
        return Ok(Redirect::to(&address(draft.id)).into_response());
    };
    let mut pairs: Pairs = vec![("version".to_owned(), draft.version.to_string())];
    pairs.extend(ticked.into_iter().map(|role| ("bars".to_owned(), role.word().to_owned())));
    pairs.extend(new_source("bars"));
    show(StatusCode::OK, &BarsSheet::of(&who, &draft, &Form::filled(who.units, pairs)))
}

/// Writes the bars; and releases the edition where that is asked for in the same breath.
pub(super) async fn write_bars(
    AtDraft { who, draft }: AtDraft,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let mut form = Form::of(who.units, typed);
    let bars = NeededBars { roles: roles_of(&form, "bars"), source: source_of(&form) };
    let error = match actions::book::begun::write_bars(&who.ctx, (draft.id, form.version()), &bars).await {
        Ok(_) if form.text("then") != "release" => return Ok(Redirect::to(&address(draft.id)).into_response()),
        Ok(version) => match actions::book::drafts::put_in_use(&who.ctx, draft.id, version).await {
            Ok(book) => return Ok(Redirect::to(&format!("/books/{}", book.id)).into_response()),
            Err(error) => {
                form.says("version", &version.to_string());
                error
            }
        },
        Err(error) => error,
    };
    let (status, draft) = refused(&who, &mut form, draft, error).await?;
    show(status, &BarsSheet::of(&who, &draft, &form))
}
