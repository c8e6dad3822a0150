//! Which bars are tacked before the cage goes down, which only afterwards and why, and in which order.

use super::{goes_through, plates_of};
use crate::domain::cage::{Cage, CageRecord, End, Hand, Member, Side, TapeMeasure};
use crate::domain::words::ids::Balloon;
use crate::domain::words::roles::MemberRole;
use crate::quantity::{Length, Units};

/// How far a drawn bend may be from the true one when its lowest point is looked for.
const SAGITTA: Length = Length::from_mm(1.0);

/// Why a bar is not fitted before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Why {
    /// It stands on a plate where no hole is made.
    NoHole(Balloon),
    /// It would be so far under the floor, where it ties two feet and the floor between them is in its way.
    Floor(Length),
    /// It would be so far under the door sill's top.
    Sill(Length),
    /// It stands on a bar that is not fitted.
    StandsOn(Balloon),
}

impl Why {
    /// In a sentence.
    pub fn describe(&self, units: Units) -> String {
        match self {
            Self::NoHole(plate) => format!("stands on {plate}, where no hole is made"),
            Self::Floor(by) => format!("would be {} under the floor, tying two feet", by.by_tape(units)),
            Self::Sill(by) => format!("would be {} under the sill's top", by.by_tape(units)),
            Self::StandsOn(bar) => format!("stands on {bar}, which is not fitted yet"),
        }
    }
}

/// A bar that is fitted afterwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeftOut {
    /// The bar.
    pub bar: Balloon,
    /// Why.
    pub why: Why,
}

/// A bar in the order of work.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// The bar.
    pub bar: Balloon,
    /// The bars it stands on: they come first.
    pub needs: Vec<Balloon>,
}

/// The bars that cannot be in place while the cage is down by so much. The rule: a bar stays out when it stands on a
/// plate without a hole, when any of it would be under the floor (between two feet the floor is in its way), when a
/// door's bar would be under its sill, or when it stands on one that stays out.
pub(super) fn left_out(record: &CageRecord, cage: &Cage, drop: Length) -> Vec<LeftOut> {
    let mut out: Vec<LeftOut> = Vec::new();
    // What stands on a bar that is out is out as well, and so on: each round finds one more row of them.
    for _ in 0..=cage.members.len() {
        let before = out.len();
        for member in &cage.members {
            if out.iter().any(|left| left.bar == member.balloon) {
                continue;
            }
            let why = own_reason(record, cage, member, drop).or_else(|| {
                carriers(member).find(|carrier| out.iter().any(|left| left.bar == *carrier)).map(Why::StandsOn)
            });
            out.extend(why.map(|why| LeftOut { bar: member.balloon, why }));
        }
        if out.len() == before {
            break;
        }
    }
    out.sort_by_key(|left| left.bar);
    out
}

fn own_reason(record: &CageRecord, cage: &Cage, member: &Member, drop: Length) -> Option<Why> {
    let blocked = |plate: &Balloon| cage.plate(*plate).is_none_or(|plate| !goes_through(plate.foot));
    if let Some(plate) = plates_of(&member.ends).find(blocked) {
        return Some(Why::NoHole(plate));
    }
    // A leg goes through its hole.
    if plates_of(&member.ends).next().is_some() {
        return None;
    }
    let lowest = member.line.chords(SAGITTA).iter().map(|at| at.z).fold(f64::INFINITY, f64::min);
    let down = Length::from_mm(lowest) - member.tube.outside / 2.0 - drop;
    if down < Length::default() {
        return Some(Why::Floor(-down));
    }
    let hand = match member.side {
        Side::Left => Hand::Left,
        Side::Right => Hand::Right,
        Side::Across => return None,
    };
    let beside_door = matches!(member.role, MemberRole::DoorBar | MemberRole::SillBar);
    let sill = record.measure(TapeMeasure::SillHeight(hand)).filter(|_| beside_door)?;
    (down < sill).then(|| Why::Sill(sill - down))
}

fn carriers(member: &Member) -> impl Iterator<Item = Balloon> + '_ {
    member.ends.iter().filter_map(|end| if let End::Onto { carrier, .. } = end { Some(*carrier) } else { None })
}

/// All bars, each after those it stands on; among those that could come next, as the structure has them.
pub(super) fn order(cage: &Cage) -> Vec<Placed> {
    let needs = |member: &Member| {
        let mut needs: Vec<Balloon> = carriers(member).collect();
        needs.sort();
        needs.dedup();
        needs
    };
    let mut left: Vec<Placed> =
        cage.members.iter().map(|member| Placed { bar: member.balloon, needs: needs(member) }).collect();
    let mut order: Vec<Placed> = Vec::new();
    while !left.is_empty() {
        let there = |bar: &Balloon| order.iter().any(|placed| placed.bar == *bar);
        // Bars that stand on each other in a ring have no first one; then the next in line is taken.
        let next = left.iter().position(|placed| placed.needs.iter().all(there)).unwrap_or(0);
        order.push(left.remove(next));
    }
    order
}
