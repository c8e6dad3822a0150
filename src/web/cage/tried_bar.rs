//! A bar by hand as it would lie, drawn before it is added.

use crate::domain::cage::{Around, Cage, CageRecord, Member};
use crate::domain::derived::findings::Findings;
use crate::drawing::car::cage::locate;
use crate::quantity::{Length, Units};
use crate::web::svg::Svg;

/// The cage with the bar in it, and what that brings.
pub(super) struct Tried {
    /// Each bar that comes new, drawn where it would lie, with its length and angles.
    pub(super) bars: Vec<(Svg, String)>,
    /// What could not be built then, that can be now.
    pub(super) why_not: Vec<String>,
}

impl Tried {
    /// What this record's cage has beyond the one that stands.
    pub(super) fn of(found: &Findings, record: &CageRecord, units: Units) -> Self {
        let cage = found.worked.tried(record);
        let new = cage.members.iter().filter(|bar| found.worked.cage.member_called(&bar.key).is_none());
        let around = Around::of(record, &cage);
        let faults = cage.faults.iter().chain(&around.faults);
        let why_not = faults.filter(|fault| !found.worked.cage_faults().any(|stands| stands == *fault));
        Self {
            bars: new.map(|bar| drawn(&cage, bar, units)).collect(),
            why_not: why_not.map(|fault| fault.why.clone()).collect(),
        }
    }
}

fn drawn(cage: &Cage, bar: &Member, units: Units) -> (Svg, String) {
    let frame = (Length::from_mm(130.0), Length::from_mm(90.0));
    let picture = Svg::of(&locate(cage, bar.balloon, frame), frame, |_| None);
    let angles = bar.copes.iter().flatten().map(|cope| format!("{:.1}°", cope.angle().degrees()));
    let angles: Vec<String> = angles.collect();
    let length = bar.developed.by_tape(units);
    let description =
        format!("{}, {length} from node to node, its ends coped at {}", bar.side.word(), angles.join(" and "));
    (picture, description)
}
