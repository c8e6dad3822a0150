//! The basic structure of a main hoop, two lateral half hoops, a windscreen header and two backstays (FIA Appendix J,
//! Article 253, chapter 8, restated).

use super::legs;
use crate::domain::cage::lay::draft::{Draft, Label, Landing};
use crate::domain::cage::lay::stations::half_hoop;
use crate::domain::cage::record::fittings::Foot;
use crate::domain::cage::record::measures::Hand;
use crate::domain::words::roles::MemberRole;

/// Lays out the six bars.
pub(super) fn lay(draft: &mut Draft<'_>) {
    legs::main_hoop(draft);
    for hand in Hand::BOTH {
        let label = Label::new(half_hoop(hand), MemberRole::LateralHalfHoop, hand);
        let corner = draft.hoop_corner(hand);
        let down = legs::front_leg(draft, hand).map(|leg| leg.into_iter().rev().collect());
        legs::hang(draft, label, (corner, down), Landing::Plate(Foot::Front, hand));
    }
    legs::header(draft);
    legs::backstays(draft);
}
