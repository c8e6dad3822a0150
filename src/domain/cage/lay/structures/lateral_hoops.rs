//! The basic structure of two lateral hoops, two transverse bars and two backstays (FIA Appendix J, Article 253,
//! chapter 8, restated).

use glam::DVec3;

use super::legs;
use crate::domain::cage::lay::draft::{Draft, Label, Landing};
use crate::domain::cage::lay::stations::{REAR_BAR, lateral_hoop};
use crate::domain::cage::parts::Side;
use crate::domain::cage::record::fittings::Foot;
use crate::domain::cage::record::measures::Hand;
use crate::domain::words::roles::MemberRole;

/// Lays out the six bars.
pub(super) fn lay(draft: &mut Draft<'_>) {
    for hand in Hand::BOTH {
        let label = Label::new(lateral_hoop(hand), MemberRole::LateralHoop, hand);
        let ends = [Landing::Plate(Foot::MainHoop, hand), Landing::Plate(Foot::Front, hand)];
        match points(draft, hand) {
            Some(points) => draft.add(label, points, ends),
            // The missing measurements are named one by one.
            None => draft.refuse(&label, None),
        }
    }
    legs::header(draft);
    let [left, right] = Hand::BOTH.map(|hand| draft.hoop_corner(hand));
    draft.straight(Label::new(REAR_BAR, MemberRole::RearTransverseBar, Side::Across), left, right);
    legs::backstays(draft);
}

/// Up behind the seats, along the roof's edge, down the pillar.
fn points(draft: &Draft<'_>, hand: Hand) -> Option<Vec<DVec3>> {
    let (rear, front) = (legs::rear_leg(draft, hand)?, legs::front_leg(draft, hand)?);
    Some(rear.into_iter().chain(front.into_iter().rev()).collect())
}
