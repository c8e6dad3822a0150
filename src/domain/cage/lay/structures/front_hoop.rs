//! The basic structure of a main hoop, a front hoop, two roof bars along the car and two backstays (FIA Appendix J,
//! Article 253, chapter 8, restated).

use super::legs;
use crate::domain::cage::lay::draft::{Draft, Label};
use crate::domain::cage::lay::stations::{FRONT_HOOP, roof_bar};
use crate::domain::cage::parts::Side;
use crate::domain::cage::record::fittings::Foot;
use crate::domain::cage::record::measures::Hand;
use crate::domain::words::roles::MemberRole;

/// Lays out the six bars.
pub(super) fn lay(draft: &mut Draft<'_>) {
    legs::main_hoop(draft);
    let front = Hand::BOTH.map(|hand| legs::front_leg(draft, hand));
    legs::across(draft, Label::new(FRONT_HOOP, MemberRole::FrontHoop, Side::Across), front, Foot::Front);
    for hand in Hand::BOTH {
        let label = Label::new(roof_bar(hand), MemberRole::RoofBar, hand);
        let (rear, front) = (draft.hoop_corner(hand), draft.screen_corner(hand));
        draft.straight(label, rear, front);
    }
    legs::backstays(draft);
}
