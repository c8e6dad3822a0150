//! By what one tells that a part is the piece it was: where it is, what meets there, what it is made of.

use std::collections::BTreeMap;

use glam::DVec3;

use super::since::{Said, Since};
use crate::domain::cage::{Cage, CageRecord, Fixing, GussetHole, GussetKind, GussetRecord, Joint, Plate};
use crate::domain::words::ids::Balloon;
use crate::geometry::angle;
use crate::quantity::{Angle, Length};

/// A part that is so far from where it was stands in another place (own choice: what a tape tells of a hole or a seam).
const MOVED: Length = Length::from_mm(1.0);
/// A bar that comes in at an angle so different is joined otherwise (own choice: an inclinometer tells it).
const TURNED: Angle = Angle::from_degrees(1.0);
/// Sizes that differ by less are one size typed twice, as 3/16 in and 4.8 mm (own choice).
const ALIKE: Length = Length::from_mm(0.1);
/// What laying a cage out twice may differ by.
const SAME: Length = Length::from_mm(1e-6);

/// The marks of all parts of a cage.
pub(super) struct Marks {
    of: BTreeMap<Balloon, Mark>,
    /// Where each seat's helmet is: by this goes what is measured from it.
    helmets: BTreeMap<u32, DVec3>,
}

/// The mark of one part.
enum Mark {
    /// A bar: its line's points and the radii of its bends.
    Bar(Vec<DVec3>, Vec<Length>),
    /// A joint: where it is, and each bar with its end and the way it runs.
    Joint(DVec3, Vec<Arm>),
    /// A gusset: its joint's place, its two bars as they run there, kind and sizes.
    Gusset(DVec3, Vec<Arm>, GussetKind, [Length; 2], GussetHole<Length>),
    /// A plate: its place, fixing and sizes.
    Plate(DVec3, Fixing, [Length; 3]),
}

/// A bar at a joint: which, by which end (2 for the one that runs on), in which direction.
#[derive(Clone, Copy)]
struct Arm {
    bar: Balloon,
    end: usize,
    way: DVec3,
}

impl Marks {
    /// Of a cage, as worked out from its record or as its outline.
    pub(super) fn of(cage: &Cage, record: &CageRecord) -> Self {
        let bars = cage.members.iter().map(|bar| {
            let radii = bar.line.bends().iter().map(|bend| bend.radius).collect();
            (bar.balloon, Mark::Bar(bar.line.points().to_vec(), radii))
        });
        let joints = cage.joints.iter().map(|joint| (joint.balloon, Mark::Joint(joint.at, arms(cage, joint))));
        let gussets = record.gussets.iter().filter_map(|gusset| of_gusset(cage, record, gusset));
        let plates = cage.plates.iter().map(|plate| (plate.balloon, of_plate(plate)));
        let helmet = |seat: &crate::domain::cage::record::seats::SeatRecord| {
            let [forward, left, up] = [&seat.helmet_forward, &seat.left, &seat.helmet_up].map(|typed| typed.value.mm());
            (seat.number, DVec3::new(forward, left, up))
        };
        Self {
            of: bars.chain(joints).chain(gussets).chain(plates).collect(),
            helmets: record.seats.iter().map(helmet).collect(),
        }
    }

    /// Whether there is such a part.
    pub(super) fn has(&self, part: Balloon) -> bool {
        self.of.contains_key(&part)
    }

    /// The bars that a joint or a gusset joins.
    pub(super) fn bars_of(&self, part: Balloon) -> Vec<Balloon> {
        match self.of.get(&part) {
            Some(Mark::Joint(_, arms) | Mark::Gusset(_, arms, ..)) => arms.iter().map(|arm| arm.bar).collect(),
            _ => Vec::new(),
        }
    }

    /// What became of a part from these marks to those of now; none where it is as it was.
    pub(super) fn since(&self, now: &Self, part: Balloon) -> Option<Since> {
        let is = now.of.get(&part)?;
        let Some(was) = self.of.get(&part) else { return Some(Since::NotRecorded) };
        match (was, is) {
            (Mark::Bar(was, bent), Mark::Bar(is, bends)) => {
                let other = |(one, two): (&Length, &Length)| (*one - *two).abs() >= MOVED;
                let reshaped = was.len() != is.len() || bent.len() != bends.len();
                let furthest = was.iter().zip(is).map(|(was, is)| was.distance(*is)).fold(0.0, f64::max);
                let otherwise = reshaped || bent.iter().zip(bends).any(other);
                if otherwise { Some(Since::OtherShape) } else { moved(furthest) }
            }
            (Mark::Joint(was, arms), Mark::Joint(is, now)) => otherwise((*was, arms), (*is, now)),
            (Mark::Gusset(was, arms, kind, sizes, hole), Mark::Gusset(is, now, kind_now, sizes_now, hole_now)) => {
                let kinds = [kind, kind_now].map(|kind| kind.word());
                changed("kind", kinds)
                    .or_else(|| resized(["leg", "thickness"], *sizes, *sizes_now))
                    .or_else(|| of_hole(*hole, *hole_now))
                    .or_else(|| otherwise((*was, arms), (*is, now)))
            }
            (Mark::Plate(was, fixed, sizes), Mark::Plate(is, fixed_now, sizes_now)) => {
                let fixings = [fixed, fixed_now].map(|fixed| fixed.word());
                changed("fixing", fixings)
                    .or_else(|| resized(["side along", "side across", "thickness"], *sizes, *sizes_now))
                    .or_else(|| moved(was.distance(*is)))
            }
            _ => Some(Since::NotRecorded),
        }
    }

    /// How far a seat moved that was recorded then and is now; none where none did.
    pub(super) fn seats_since(&self, now: &Self) -> Option<Since> {
        let apart = |(number, was): (&u32, &DVec3)| now.helmets.get(number).map(|is| was.distance(*is));
        let furthest = self.helmets.iter().filter_map(apart).fold(0.0, f64::max);
        is_moved(furthest).then_some(Since::SeatMoved(Length::from_mm(furthest)))
    }
}

fn arms(cage: &Cage, joint: &Joint) -> Vec<Arm> {
    let carrier = cage.member(joint.carrier);
    let carrier = carrier.map(|bar| Arm { bar: bar.balloon, end: 2, way: bar.line.point_at(joint.along).1 });
    let incoming = joint
        .incoming
        .iter()
        .filter_map(|(bar, end)| Some(Arm { bar: *bar, end: *end, way: cage.member(*bar)?.line.into_bar(*end) }));
    let mut arms: Vec<Arm> = carrier.into_iter().chain(incoming).collect();
    arms.sort_by_key(|arm| (arm.bar, arm.end));
    arms
}

fn of_gusset(cage: &Cage, record: &CageRecord, gusset: &GussetRecord) -> Option<(Balloon, Mark)> {
    let joint = cage.joint(*record.numbers.get(&gusset.joint)?)?;
    let between = gusset.between.each_ref().map(|arm| record.numbers.get(&arm.member).copied());
    let own = arms(cage, joint).into_iter().filter(|arm| between.contains(&Some(arm.bar))).collect();
    let hole = gusset.hole.as_ref().map(|hole| hole.value);
    let sizes = [gusset.leg.value, gusset.thickness.value];
    Some((*record.numbers.get(&gusset.key())?, Mark::Gusset(joint.at, own, gusset.kind, sizes, hole)))
}

fn of_plate(plate: &Plate) -> Mark {
    let sizes = [plate.sides.0.value, plate.sides.1.value, plate.thickness.value];
    Mark::Plate(plate.centre, plate.fixed, sizes)
}

fn is_moved(mm: f64) -> bool {
    Length::from_mm(mm) + SAME >= MOVED
}

fn moved(mm: f64) -> Option<Since> {
    is_moved(mm).then_some(Since::Moved(Length::from_mm(mm)))
}

/// What became of a place where bars meet.
fn otherwise((was, arms): (DVec3, &[Arm]), (is, now): (DVec3, &[Arm])) -> Option<Since> {
    let same = |(one, two): (&Arm, &Arm)| (one.bar, one.end) == (two.bar, two.end);
    if arms.len() != now.len() || !arms.iter().zip(now).all(same) {
        return Some(Since::OtherBars);
    }
    let turned = |(one, two): &(&Arm, &Arm)| angle::between_directions(one.way, two.way) >= TURNED;
    let turned = || arms.iter().zip(now).find(turned).map(|(one, _)| Since::Turned(one.bar));
    moved(was.distance(is)).or_else(turned)
}

fn changed(what: &'static str, [was, is]: [&'static str; 2]) -> Option<Since> {
    (was != is).then_some(Since::Changed { what, was: Said::Word(was), is: Said::Word(is) })
}

/// What became of a gusset's hole. That it has none is said of the piece as it always was: a hole cannot be taken back.
fn of_hole(was: GussetHole<Length>, is: GussetHole<Length>) -> Option<Since> {
    let said = |hole| match hole {
        GussetHole::NotStated => Said::Word("not stated"),
        GussetHole::NoHole => Said::Word("none"),
        GussetHole::Across(across) => Said::Size(across),
    };
    let same = match (was.across(), is.across()) {
        (Some(was), Some(is)) => (was - is).abs() < ALIKE,
        (None, None) => true,
        _ => false,
    };
    (!same).then(|| Since::Changed { what: "hole", was: said(was), is: said(is) })
}

fn resized<const N: usize>(names: [&'static str; N], was: [Length; N], is: [Length; N]) -> Option<Since> {
    let each = names.into_iter().zip(was.into_iter().zip(is));
    let other = each.into_iter().find(|(_, (was, is))| (*was - *is).abs() >= ALIKE);
    other.map(|(what, (was, is))| Since::Changed { what, was: Said::Size(was), is: Said::Size(is) })
}
