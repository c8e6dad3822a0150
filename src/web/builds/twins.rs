//! The vehicles in the shop, and what is open across it, to be saved.

use axum::response::Response;
use serde_json::{Value, json};

use super::lines::{address, hold, open, seen_by};
use crate::actions::Looked;
use crate::domain::derived::open_items::Sort;
use crate::domain::shop::people::{Deed, may};
use crate::web::gate::SignedIn;
use crate::web::problem::Problem;
use crate::web::shown::twin::Twin;

/// What the front sheet lists.
async fn builds(who: &SignedIn) -> Result<Twin<7>, Problem> {
    let all = who.ctx.looked_at_all().await?;
    let sees_all = may(who.ctx.by.role, Deed::SeeBuilds);
    let line = |looked: &Looked| {
        let facts = &looked.facts;
        let weighed = facts.weigh_ins.first().map(|weigh_in| weigh_in.reading.total().kg());
        let open = if sees_all { json!(open(who, facts, &looked.found).len()) } else { Value::Null };
        let event = facts.build.event_day.map(|day| day.to_string());
        let address = format!("/builds/{}", facts.build.slug);
        [
            json!(facts.build.name),
            json!(address),
            json!(facts.build.about),
            json!(event),
            json!(hold(looked)),
            json!(weighed),
            open,
        ]
    };
    let head = ["name", "address", "about", "event_day", "hold", "weighed_kg", "open"];
    Ok(Twin { name: "builds".to_owned(), head, lines: seen_by(who, &all).map(line).collect() })
}

/// What is open, build by build, each thing a line.
async fn open_items(who: &SignedIn) -> Result<Twin<7>, Problem> {
    let all = who.ctx.looked_at_all().await?;
    let mut lines = Vec::new();
    for looked in &all {
        let facts = &looked.facts;
        for item in open(who, facts, &looked.found) {
            let sort = match item.sort {
                Sort::Missing => "missing",
                Sort::Fails => "fails",
                Sort::TooClose => "too close to call",
            };
            let (part, since) = (item.at.map(|at| at.to_string()), item.since.map(|day| day.to_string()));
            let to = format!("/builds/{}{}", facts.build.slug, address(&item.place));
            lines.push([
                json!(facts.build.name),
                json!(part),
                json!(item.what),
                json!(sort),
                json!(item.waits_on.word()),
                json!(since),
                json!(to),
            ]);
        }
    }
    let head = ["build", "part", "what", "kind", "waits_on", "since", "address"];
    Ok(Twin { name: "open".to_owned(), head, lines })
}

pub(super) async fn builds_table(who: SignedIn) -> Result<Response, Problem> {
    builds(&who).await?.table()
}

pub(super) async fn builds_data(who: SignedIn) -> Result<Response, Problem> {
    Ok(builds(&who).await?.data())
}

pub(super) async fn open_table(who: SignedIn) -> Result<Response, Problem> {
    open_items(&who.who_may(Deed::SeeBuilds)?).await?.table()
}

pub(super) async fn open_data(who: SignedIn) -> Result<Response, Problem> {
    Ok(open_items(&who.who_may(Deed::SeeBuilds)?).await?.data())
}
