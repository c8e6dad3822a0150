//! The walk as a phone keeps it, to go on without a network.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::walk::{ON_A_PHONE, before, caution, pictured, place_among};
use crate::domain::book::Force;
use crate::domain::cage::Cage;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots::Shot;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::work::walk::state_of;
use crate::drawing::car::cage::locate;
use crate::drawing::car::near::stand;
use crate::drawing::paper::svg::Svg;
use crate::web::gate::Seen;

/// The shots in their order, how the hold point stands, and which drawings belong to them.
pub(crate) fn walk_list(seen: &Seen, found: &Findings) -> Value {
    let shot = |(at, shot): (usize, &Shot)| {
        let state = state_of(shot, &seen.facts);
        let force = if shot.force == Force::Should { "Recommended" } else { "Asked for" };
        let asked = format!("{force} {}, clause {}.", before(shot.before), shot.clause);
        let (place, of_part) = place_among(shot, &found.worked.shots);
        json!({
            "name": shot.name(), "number": at + 1, "balloon": shot.of.to_string(), "part": shot.part,
            "view": shot.view, "what": shot.what, "must_show": shot.must_show, "place": place, "of_part": of_part, "asked": asked, "caution": caution(shot),
            "area": shot.area.short(), "stand": stand(&found.worked.cage, shot.of), "left": state.left(),
            "state": if state.left() { "" } else { state.word() },
        })
    };
    let shots: Vec<_> = found.worked.shots.iter().enumerate().map(shot).collect();
    json!({ "name": seen.facts.build.name, "hold": seen.hold_on_strip(), "shots": shots, "drawings": same_drawings(seen, found) })
}

/// Where each part of the walk is, drawn: the drawings are some megabytes, so a phone asks for them only when their
/// name is another than that of those it keeps.
pub(crate) fn walk_drawings(seen: &Seen, found: &Findings) -> Value {
    let mut drawn = BTreeMap::new();
    for part in found.worked.shots.iter().map(|shot| shot.of) {
        drawn.entry(part.to_string()).or_insert_with(|| {
            pictured(&found.worked.cage, part).map(|marks| Svg::file(&marks, ON_A_PHONE).to_string())
        });
    }
    json!({ "drawings": same_drawings(seen, found), "of": drawn })
}

/// The cage as a file; none before there is one.
fn file(cage: &Cage, part: Balloon) -> Option<Svg> {
    (!cage.members.is_empty()).then(|| Svg::file(&locate(cage, part, ON_A_PHONE), ON_A_PHONE))
}

/// A name that changes whenever a drawing does: what the bars look like, how they are joined, which parts are asked for.
fn same_drawings(seen: &Seen, found: &Findings) -> String {
    let Some(bars) = file(&found.worked.cage, Balloon::new(Kind::Car, 1)) else { return String::new() };
    let joined = seen.facts.cage.as_ref().map_or("", |cage| &cage.json);
    let parts: Vec<String> = found.worked.shots.iter().map(|shot| shot.of.to_string()).collect();
    Fingerprint::of(format!("{}{bars}{joined}{}", env!("CARGO_PKG_VERSION"), parts.join(" ")).as_bytes())
        .text()
        .to_owned()
}
