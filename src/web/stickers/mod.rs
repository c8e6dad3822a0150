//! Stickers with codes: printed for the parts of a build, and where a phone comes to that reads one.

mod view;

use std::sync::Arc;

use axum::extract::{Path, Query, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};

use super::app::App;
use super::form::{Form, Pairs};
use super::gate::{Seen, SignedIn};
use super::headers::ours;
use super::page::{part_address, show, show_pdf, walk_address};
use super::problem::Problem;
use super::routing::{Routes, get};
use crate::documents::stickers::{Paper, Sticker, alone, make, sheets};
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots::part;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::limits;
use crate::domain::work::stickers::{Tag, parts};
use crate::domain::work::walk::of_part;
use crate::quantity::Units;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/stickers", get(asked))
        .route("/builds/{build}/stickers.pdf", get(all))
        .route("/builds/{build}/stickers/{file}", get(one))
        .route("/t/{tag}", get(read))
}

/// What there is to choose: all parts, or those of a kind.
const KINDS: [(&str, Option<Kind>); 5] = [
    ("all", None),
    ("joints", Some(Kind::Joint)),
    ("bars", Some(Kind::Member)),
    ("gussets", Some(Kind::Gusset)),
    ("plates", Some(Kind::Plate)),
];

/// What to print, as asked for in the address.
struct Wanted {
    only: Option<Kind>,
    paper: Paper,
    at: String,
}

async fn asked(seen: Seen, asked: HeaderMap) -> Result<Response, Problem> {
    let values = [("of", "all".to_owned()), ("paper", usual(&seen).to_owned()), ("at", here(&asked))];
    let form = Form::filled(seen.who.units, values.map(|(name, value)| (name.to_owned(), value)).into());
    show(StatusCode::OK, &view::Stickers::of(&seen, &*seen.found().await?, &form))
}

async fn all(
    State(app): State<App>,
    seen: Seen,
    asked: HeaderMap,
    Query(typed): Query<Pairs>,
) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let mut form = Form::of(seen.who.units, typed);
    let Some(wanted) = wanted(&seen, &found, &app, &asked, &mut form) else {
        return show(StatusCode::UNPROCESSABLE_ENTITY, &view::Stickers::of(&seen, &found, &form));
    };
    let parts = parts(&found.worked.cage, wanted.only);
    printed(seen, found, parts, (wanted, "stickers")).await
}

/// The sticker of one part, on a page of its own size: `J7.pdf`.
async fn one(
    State(app): State<App>,
    seen: Seen,
    asked: HeaderMap,
    Path((_, file)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let of: Option<Balloon> = file.strip_suffix(".pdf").and_then(|name| name.parse().ok());
    let found = seen.found().await?;
    let of = of.filter(|of| parts(&found.worked.cage, None).contains(of)).ok_or(Problem::NotFound)?;
    let wanted = wanted(&seen, &found, &app, &asked, &mut Form::empty(seen.who.units)).ok_or(Problem::NotFound)?;
    printed(seen, found, vec![of], (wanted, "sticker")).await
}

async fn printed(
    seen: Seen,
    found: Arc<Findings>,
    parts: Vec<Balloon>,
    (wanted, name): (Wanted, &'static str),
) -> Result<Response, Problem> {
    if parts.is_empty() {
        return Err(Problem::NotFound);
    }
    let file = format!("{}-{name}.pdf", seen.facts.build.slug);
    let work = move || -> Result<Vec<u8>, crate::documents::DocumentError> {
        let stickers: Vec<Sticker> = parts.iter().map(|part| sticker(&seen, &found, *part, &wanted.at)).collect();
        let single = stickers.first().filter(|_| name == "sticker");
        let made = single.map_or_else(|| sheets(&stickers, wanted.paper), |sticker| alone(sticker, wanted.paper))?;
        let title = format!("{}, {name}", seen.facts.build.name);
        make(&made, &title, &seen.who.ctx.by.name, seen.who.ctx.clock.today())
    };
    let made = tokio::task::spawn_blocking(work).await.map_err(|error| Problem::NotMade(error.to_string()))?;
    Ok(show_pdf(&file, made.map_err(|error| Problem::NotMade(error.to_string()))?))
}

fn sticker(seen: &Seen, found: &Findings, of: Balloon, at: &str) -> Sticker {
    let tag = Tag::of(seen.build(), of).to_string();
    Sticker {
        balloon: of.to_string(),
        words: part(&found.worked.cage, &seen.facts, of),
        build: seen.facts.build.name.clone(),
        address: format!("{at}/t/{tag}"),
        tag,
    }
}

/// The paper that this reader's printer has, most likely.
fn usual(seen: &Seen) -> &'static str {
    if seen.who.units == Units::Inch { "letter" } else { "a4" }
}

/// What is asked for; none when something is wrong with it, said in the form.
fn wanted(seen: &Seen, found: &Findings, app: &App, asked: &HeaderMap, form: &mut Form) -> Option<Wanted> {
    let or = |typed: &str, usual: String| if typed.is_empty() { usual } else { typed.to_owned() };
    let (of, paper) = (or(form.text("of"), "all".to_owned()), or(form.text("paper"), usual(seen).to_owned()));
    let at = or(form.text("at"), here(asked));
    let only = KINDS.into_iter().find(|kind| kind.0 == of).map(|kind| kind.1);
    let paper = match paper.as_str() {
        "a4" => Some(Paper::A4),
        "letter" => Some(Paper::Letter),
        _ => None,
    };
    let at = at.trim_end_matches('/');
    let host = at.strip_prefix("https://").or_else(|| at.strip_prefix("http://"));
    let known = host.is_some_and(|host| at.len() <= limits::ORIGIN && ours(host, &app.names));
    for (name, wrong) in [("of", only.is_none()), ("paper", paper.is_none())] {
        if wrong {
            form.fault(name, "Choose one of the list.");
        }
    }
    if seen.facts.may_number_anew(&found.worked.record) {
        form.fault("of", "Measure the rest of the cage first: until then its joints may be numbered anew.");
    }
    if !known {
        form.fault(
            "at",
            "Type how phones reach this shop, as in http://192.168.1.20:7350, under a name this machine has.",
        );
    }
    if form.is_faulty() { None } else { Some(Wanted { only: only?, paper: paper?, at: at.to_owned() }) }
}

/// How the reader's own browser reached this shop: where the page before says it came from, else by the host asked for.
fn here(asked: &HeaderMap) -> String {
    let text = |name| asked.get(name).and_then(|value| value.to_str().ok()).unwrap_or_default();
    let host = text(header::HOST);
    let secure =
        text(header::REFERER).strip_prefix("https://").is_some_and(|rest| rest.split('/').next() == Some(host));
    format!("{}://{host}", if secure { "https" } else { "http" })
}

/// Where a phone comes to that read a sticker: the part's shot in the walk, or its sheet where none is asked for.
async fn read(who: SignedIn, Path(tag): Path<String>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RecordWork)?;
    let tag: Tag = tag.parse().map_err(|_| Problem::NotFound)?;
    let mut named = who.ctx.store.builds().await?.into_iter().filter(|build| tag.names(build.id));
    // two builds of one code would be worse than none: a photograph of the wrong car
    let (Some(build), None) = (named.next(), named.next()) else { return Err(Problem::NotFound) };
    let seen = Seen::now(who, build.id).await?;
    let found = seen.found().await?;
    if !parts(&found.worked.cage, None).contains(&tag.of) {
        return Err(Problem::NotFound);
    }
    let shot = of_part(found.worked.every_shot().filter(|shot| shot.taken() || !shot.stand_in), &seen.facts, tag.of);
    let last = shot.map_or_else(|| part_address(tag.of), |shot| walk_address(&shot.name()));
    Ok(Redirect::to(&seen.address(&last)).into_response())
}
