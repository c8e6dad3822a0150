//! The shop's sticks, to be saved.

use axum::response::Response;
use serde_json::json;

use crate::actions::Looked;
use crate::domain::shop::people::Deed;
use crate::domain::shop::stock::Stick;
use crate::domain::work::cut_list::balance;
use crate::web::gate::SignedIn;
use crate::web::problem::Problem;
use crate::web::shown::twin::Twin;

/// Each stick with what the cuts of all builds leave of it; a stick of which a cut's length was not recorded has no figure there.
async fn sticks(who: SignedIn) -> Result<Twin<8>, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    let (sticks, all) = (who.ctx.store.sticks().await?, who.ctx.looked_at_all().await?);
    let line = |stick: &Stick| {
        let left = balance(stick, all.iter().map(|looked: &Looked| &*looked.facts));
        let left_mm = (left.unknown == 0).then(|| left.left.mm());
        let build = all.iter().find(|looked| Some(looked.facts.build.id) == stick.given_to);
        [
            json!(stick.describe_number()),
            json!(stick.size.value.to_string()),
            json!(stick.grade),
            json!(stick.heat),
            json!(stick.length.value.mm()),
            json!(left_mm),
            json!(left.pieces),
            json!(build.map(|looked| &looked.facts.build.name)),
        ]
    };
    let head = ["stick", "size", "grade", "heat", "length_mm", "left_mm", "pieces", "given_to"];
    Ok(Twin { name: "stock".to_owned(), head, lines: sticks.iter().map(line).collect() })
}

pub(super) async fn table(who: SignedIn) -> Result<Response, Problem> {
    sticks(who).await?.table()
}

pub(super) async fn data(who: SignedIn) -> Result<Response, Problem> {
    Ok(sticks(who).await?.data())
}
