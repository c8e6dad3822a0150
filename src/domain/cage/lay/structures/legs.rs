//! What the basic structures share: the points of their legs, bars across between them, the backstays.

use glam::DVec3;

use crate::domain::cage::lay::draft::{Draft, Label, Landing, Placed};
use crate::domain::cage::lay::stations::{HEADER, MAIN_HOOP, backstay};
use crate::domain::cage::parts::Side;
use crate::domain::cage::record::fittings::Foot;
use crate::domain::cage::record::measures::{Hand, TapeMeasure};
use crate::domain::words::roles::MemberRole;

/// One hoop across the car behind the front seats.
pub(super) fn main_hoop(draft: &mut Draft<'_>) {
    let legs = Hand::BOTH.map(|hand| rear_leg(draft, hand));
    across(draft, Label::new(MAIN_HOOP, MemberRole::MainHoop, Side::Across), legs, Foot::MainHoop);
}

/// A hoop of two legs, each from its foot up; the top lies between them.
pub(super) fn across(draft: &mut Draft<'_>, label: Label, legs: [Option<Vec<DVec3>>; 2], foot: Foot) {
    let ends = Hand::BOTH.map(|hand| Landing::Plate(foot, hand));
    match legs {
        [Some(left), Some(right)] => {
            let points = left.into_iter().chain(right.into_iter().rev()).collect();
            draft.add(label, points, ends);
        }
        // The missing measurements are named one by one.
        _ => draft.refuse(&label, None),
    }
}

/// Behind the seats, from the foot over the shoulder to the upper corner.
pub(super) fn rear_leg(draft: &Draft<'_>, hand: Hand) -> Option<Vec<DVec3>> {
    let plate = draft.coordinate(TapeMeasure::HoopPlateHeight(hand))?;
    let out = hand.sign() * draft.coordinate(TapeMeasure::HoopFeetWidth)? / 2.0;
    let foot = DVec3::new(draft.hoop_x(plate)?, out, plate);
    Some(vec![foot, draft.hoop_shoulder_point(hand)?, draft.hoop_corner_point(hand)?])
}

/// Along the screen pillar, from the foot over the knee to the screen's upper corner.
pub(super) fn front_leg(draft: &Draft<'_>, hand: Hand) -> Option<Vec<DVec3>> {
    let forward = draft.coordinate(TapeMeasure::FrontFootForward(hand))?;
    let out = hand.sign() * draft.coordinate(TapeMeasure::FrontFootOut(hand))?;
    let plate = draft.coordinate(TapeMeasure::FrontPlateHeight(hand))?;
    let foot = DVec3::new(forward, out, plate);
    Some(vec![foot, draft.knee_point(hand)?, draft.screen_corner_point(hand)?])
}

/// Across the car from one screen corner to the other.
pub(super) fn header(draft: &mut Draft<'_>) {
    let label = Label::new(HEADER, MemberRole::WindscreenHeader, Side::Across);
    let [left, right] = Hand::BOTH.map(|hand| draft.screen_corner(hand));
    draft.straight(label, left, right);
}

/// From both upper corners behind the seats rearward and down.
pub(super) fn backstays(draft: &mut Draft<'_>) {
    for hand in Hand::BOTH {
        let label = Label::new(backstay(hand), MemberRole::Backstay, hand);
        let corner = draft.under_corner(hand);
        let foot = backstay_foot(draft, hand).map(|foot| vec![foot]);
        hang(draft, label, (corner, foot), Landing::Plate(Foot::Backstay, hand));
    }
}

fn backstay_foot(draft: &Draft<'_>, hand: Hand) -> Option<DVec3> {
    let back = draft.coordinate(TapeMeasure::BackstayFootBack(hand))?;
    let out = hand.sign() * draft.coordinate(TapeMeasure::BackstayFootOut(hand))?;
    Some(DVec3::new(-back, out, draft.coordinate(TapeMeasure::BackstayFootUp(hand))?))
}

/// A bar that begins on a hoop and runs through points to a plate.
pub(super) fn hang(draft: &mut Draft<'_>, label: Label, (corner, rest): (Placed, Option<Vec<DVec3>>), foot: Landing) {
    match (corner, rest) {
        (Ok(corner), Some(rest)) => {
            let points = std::iter::once(corner.point).chain(rest).collect();
            draft.add(label, points, [Landing::Onto(corner), foot]);
        }
        (Err(why), Some(_)) => draft.refuse(&label, Some(why)),
        (_, None) => draft.refuse(&label, None),
    }
}
