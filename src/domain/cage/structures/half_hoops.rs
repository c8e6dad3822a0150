//! The basic structure of a main hoop, two lateral half hoops, a windscreen header and two backstays (FIA Appendix J,
//! Article 253, chapter 8, restated).

use glam::DVec3;

use crate::domain::cage::draft::{Draft, Label, Landing, Placed};
use crate::domain::cage::fittings::Foot;
use crate::domain::cage::measures::{Hand, TapeMeasure};
use crate::domain::cage::parts::Side;
use crate::domain::cage::stations::{HEADER, MAIN_HOOP, backstay, half_hoop};
use crate::domain::roles::MemberRole;

/// Lays out the six bars.
pub(in crate::domain::cage) fn lay(draft: &mut Draft<'_>) {
    main_hoop(draft);
    for hand in Hand::BOTH {
        lateral_half_hoop(draft, hand);
    }
    let header = Label::new(HEADER, MemberRole::WindscreenHeader, Side::Across);
    let [left, right] = Hand::BOTH.map(|hand| draft.screen_corner(hand));
    draft.straight(header, left, right);
    for hand in Hand::BOTH {
        rear_stay(draft, hand);
    }
}

fn main_hoop(draft: &mut Draft<'_>) {
    let label = Label::new(MAIN_HOOP, MemberRole::MainHoop, Side::Across);
    let ends = [Landing::Plate(Foot::MainHoop, Hand::Left), Landing::Plate(Foot::MainHoop, Hand::Right)];
    match hoop_points(draft) {
        Some(points) => draft.add(label, points, ends),
        // The missing measurements are named one by one.
        None => draft.refuse(&label, None),
    }
}

fn hoop_points(draft: &Draft<'_>) -> Option<Vec<DVec3>> {
    let side = |hand: Hand| {
        let plate = draft.coordinate(TapeMeasure::HoopPlateHeight(hand))?;
        let out = hand.sign() * draft.coordinate(TapeMeasure::HoopFeetWidth)? / 2.0;
        let foot = DVec3::new(draft.hoop_x(plate)?, out, plate);
        Some([foot, draft.hoop_shoulder_point(hand)?, draft.hoop_corner_point(hand)?])
    };
    let (left, right) = (side(Hand::Left)?, side(Hand::Right)?);
    Some(left.into_iter().chain(right.into_iter().rev()).collect())
}

fn lateral_half_hoop(draft: &mut Draft<'_>, hand: Hand) {
    let label = Label::new(half_hoop(hand), MemberRole::LateralHalfHoop, hand);
    let corner = draft.hoop_corner(hand);
    let from_pillar = pillar_points(draft, hand);
    hang(draft, label, (corner, from_pillar), Landing::Plate(Foot::Front, hand));
}

/// From the screen's upper corner down to the foot.
fn pillar_points(draft: &Draft<'_>, hand: Hand) -> Option<Vec<DVec3>> {
    let forward = draft.coordinate(TapeMeasure::FrontFootForward(hand))?;
    let out = hand.sign() * draft.coordinate(TapeMeasure::FrontFootOut(hand))?;
    let plate = draft.coordinate(TapeMeasure::FrontPlateHeight(hand))?;
    Some(vec![draft.screen_corner_point(hand)?, draft.knee_point(hand)?, DVec3::new(forward, out, plate)])
}

fn rear_stay(draft: &mut Draft<'_>, hand: Hand) {
    let label = Label::new(backstay(hand), MemberRole::Backstay, hand);
    let corner = draft.hoop_corner(hand);
    let foot = backstay_foot(draft, hand).map(|foot| vec![foot]);
    hang(draft, label, (corner, foot), Landing::Plate(Foot::Backstay, hand));
}

fn backstay_foot(draft: &Draft<'_>, hand: Hand) -> Option<DVec3> {
    let back = draft.coordinate(TapeMeasure::BackstayFootBack(hand))?;
    let out = hand.sign() * draft.coordinate(TapeMeasure::BackstayFootOut(hand))?;
    Some(DVec3::new(-back, out, draft.coordinate(TapeMeasure::BackstayFootUp(hand))?))
}

/// A bar that begins on the hoop and runs through points to a plate.
fn hang(draft: &mut Draft<'_>, label: Label, (corner, rest): (Placed, Option<Vec<DVec3>>), foot: Landing) {
    match (corner, rest) {
        (Ok(corner), Some(rest)) => {
            let points = std::iter::once(corner.point).chain(rest).collect();
            draft.add(label, points, [Landing::Onto(corner), foot]);
        }
        (Err(why), Some(_)) => draft.refuse(&label, Some(why)),
        (_, None) => draft.refuse(&label, None),
    }
}
