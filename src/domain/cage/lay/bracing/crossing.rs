//! Bars that cross: one runs through, the other is in pieces that end on it.

use glam::DVec3;

use crate::domain::cage::lay::draft::{Draft, Label, Landing, Place, Placed};
use crate::geometry::{CentreLine, Segment};
use crate::quantity::Length;

/// Crossings nearer to an end, or to each other, than this many outside diameters are not cut apart (own choice).
const APART: f64 = 2.0;

/// Two bars that cross; `ends` are those of the first, then of the second.
pub(super) fn cross(draft: &mut Draft<'_>, through: Label, cut: &Label, ends: [(Placed, Placed); 2]) {
    let [(from, to), (start, end)] = ends;
    let key = through.key.clone();
    draft.straight(through, from, to);
    let node = match (&start, &end) {
        (Ok(start), Ok(end)) => crossing(draft, &key, start.point, end.point),
        (Err(why), _) | (_, Err(why)) => Err(why.clone()),
    };
    draft.straight(cut.piece("1"), start, node.clone());
    draft.straight(cut.piece("2"), node, end);
}

/// The place on a straight bar where another straight passes nearest.
fn crossing(draft: &Draft<'_>, key: &str, from: DVec3, to: DVec3) -> Placed {
    let line = &draft.carrier(key)?.line;
    let found = whole(line).nearest_of(&Segment { from, to });
    draft.place(key, line.nearest(found.on_first).0)
}

/// A straight bar's line.
fn whole(line: &CentreLine) -> Segment {
    Segment { from: line.point_at(Length::default()).0, to: line.point_at(line.developed_length()).0 }
}

/// A straight bar that is cut where straight bars stand in its way, and ends on them.
pub(in crate::domain::cage) fn straight_through(draft: &mut Draft<'_>, label: &Label, from: Placed, to: Placed) {
    let (from, to) = match (from, to) {
        (Ok(from), Ok(to)) => (from, to),
        (Err(why), _) | (_, Err(why)) => return draft.refuse(label, Some(why)),
    };
    let stops = in_the_way(draft, label, &from, &to);
    if stops.is_empty() {
        let ends = [Landing::Onto(from.clone()), Landing::Onto(to.clone())];
        return draft.add(label.clone(), vec![from.point, to.point], ends);
    }
    let mut here = from;
    for (number, next) in (1..).zip(stops.into_iter().chain(std::iter::once(to))) {
        draft.straight(label.piece(&number.to_string()), Ok(here), Ok(next.clone()));
        here = next;
    }
}

/// The places on straight bars in the way, in order from `from`.
fn in_the_way(draft: &Draft<'_>, label: &Label, from: &Place, to: &Place) -> Vec<Place> {
    let tube = draft.tube(label);
    let own = Segment { from: from.point, to: to.point };
    let apart = tube.outside * APART;
    let mut stops: Vec<(Length, Place)> = Vec::new();
    for bar in draft.bars.iter().filter(|bar| bar.line.straight()) {
        let nearest = whole(&bar.line).nearest_of(&own);
        let at = Length::from_mm(from.point.distance(nearest.on_second));
        let left = Length::from_mm(to.point.distance(nearest.on_second));
        if nearest.gap(bar.tube.outside, tube.outside) < Length::default() && at > apart && left > apart {
            let (along, point, _) = bar.line.nearest(nearest.on_first);
            stops.push((at, Place::on(&bar.label.key, along, point)));
        }
    }
    stops.sort_by(|one, other| one.0.mm().total_cmp(&other.0.mm()));
    stops.dedup_by(|later, earlier| later.0 - earlier.0 < apart);
    stops.into_iter().map(|stop| stop.1).collect()
}
