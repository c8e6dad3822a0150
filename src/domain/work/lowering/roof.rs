//! The joints under the roof, the room over each, and which of their seams want the torch from above.

use crate::domain::cage::{Cage, CageRecord, Hand, Joint, TapeMeasure};
use crate::domain::judge::shots::{Area, area};
use crate::domain::recorded::lowering::Settings;
use crate::domain::words::ids::Balloon;
use crate::geometry::Cope;
use crate::quantity::{Angle, Length};

/// A weld face that looks up at more than this over level wants the torch from above (own choice: the torch leans up to
/// 30° off the face, as over a bench).
pub const LOOKS_UP: Angle = Angle::from_degrees(30.0);
/// Less of a seam than this is no side of it (own choice).
const LEAST_SIDE: f64 = 0.02;
/// The roof measured at the hoop counts for joints no further from the hoop's top along the car, mm (own choice).
const AT_HOOP: f64 = 150.0;

/// A joint under the roof with seams that look up.
#[derive(Debug, Clone, PartialEq)]
pub struct RoofJoint {
    /// The joint.
    pub joint: Balloon,
    /// The bar that runs through.
    pub carrier: Balloon,
    /// The bars whose seam here looks up.
    pub ends: Vec<Balloon>,
    /// Its upper side over the floor's level.
    pub top: Length,
    /// The roof over it; none where nobody measured it.
    pub roof: Option<Length>,
    /// Free between the two; taken as none where nobody measured the roof, which is the unsafe case.
    pub gap: Length,
    /// What the torch's room lacks.
    pub short: Length,
}

/// Every joint of the roof with a seam that looks up.
pub(super) fn joints(record: &CageRecord, cage: &Cage, settings: &Settings) -> Vec<RoofJoint> {
    let roof = Roof::of(record, settings);
    let under = cage.joints.iter().filter(|joint| area(cage, joint.balloon) == Area::Roof);
    under.filter_map(|joint| one(cage, &roof, joint, settings.room.value)).collect()
}

fn one(cage: &Cage, roof: &Roof, joint: &Joint, room: Length) -> Option<RoofJoint> {
    let ends: Vec<Balloon> = joint.incoming.iter().filter(|end| looks_up(cage, **end)).map(|end| end.0).collect();
    if ends.is_empty() {
        return None;
    }
    let carrier = cage.member(joint.carrier)?;
    let top = Length::from_mm(joint.at.z) + carrier.tube.outside / 2.0;
    let over = roof.over(joint.at.x);
    let free = over.map(|over| over - top).filter(|free| *free > Length::default());
    let gap = free.unwrap_or_default();
    let short = if gap < room { room - gap } else { Length::default() };
    Some(RoofJoint { joint: joint.balloon, carrier: joint.carrier, ends, top, roof: over, gap, short })
}

/// Whether the seam of a bar's end has a side that looks up.
fn looks_up(cage: &Cage, (bar, end): (Balloon, usize)) -> bool {
    let cope = cage.member(bar).and_then(|bar| bar.copes.get(end)).and_then(Option::as_ref);
    cope.is_some_and(|cope: &Cope| cope.faces_up(LOOKS_UP) > LEAST_SIDE)
}

/// The roof inside: its height at the hoop's top, and at the header where that was measured.
struct Roof {
    at_hoop: Option<(f64, Length)>,
    front: Option<(f64, Length)>,
}

impl Roof {
    fn of(record: &CageRecord, settings: &Settings) -> Self {
        let at = |measure: TapeMeasure| record.measure(measure).map(Length::mm);
        let front = settings.roof_front.as_ref().map(|typed| typed.value);
        Self {
            at_hoop: at(TapeMeasure::HoopLean).map(|lean| -lean).zip(record.measure(TapeMeasure::RoofInside)),
            front: at(TapeMeasure::ScreenCornerForward(Hand::Left)).zip(front),
        }
    }

    /// Over a place along the car: between the two a straight line, in front of the header its height, and near the
    /// hoop or behind it the hoop's.
    fn over(&self, x: f64) -> Option<Length> {
        match (self.at_hoop, self.front) {
            (Some((hoop, low)), Some((header, high))) if header > hoop => {
                let share = ((x - hoop) / (header - hoop)).clamp(0.0, 1.0);
                Some(low + (high - low) * share)
            }
            (Some((hoop, height)), _) if x < hoop + AT_HOOP => Some(height),
            _ => None,
        }
    }
}
