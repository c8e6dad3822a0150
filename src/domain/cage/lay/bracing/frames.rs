//! Diagonals behind the seats, in the roof and between the backstays.

use super::crossing::cross;
use crate::domain::cage::lay::draft::{Draft, Label, Placed};
use crate::domain::cage::lay::stations::{RoofEnd, backstay};
use crate::domain::cage::parts::Side;
use crate::domain::cage::record::measures::Hand;
use crate::domain::cage::record::options::{Diagonal, RoofDiagonal};
use crate::domain::words::roles::MemberRole;

/// The ends of both bars of a V land this share of the carrier's diameter beside its middle: one joint, two copes.
const TIP: f64 = 0.45;

/// In the plane of the legs behind the seats, from the upper corner to the other side's foot.
pub(super) fn hoop_diagonals(draft: &mut Draft<'_>) {
    let ends = Hand::BOTH.map(|hand| (draft.under_corner(hand), draft.leg_foot(&draft.rear_leg(hand.other()))));
    brace(draft, draft.record.options.hoop_diagonal, MemberRole::HoopDiagonal, ends);
}

/// Between the backstays, from beside the hoop to the other side's foot.
pub(super) fn backstay_diagonals(draft: &mut Draft<'_>) {
    let ends = Hand::BOTH.map(|hand| (draft.beside_first(&backstay(hand)), draft.over_last(&backstay(hand.other()))));
    brace(draft, draft.record.options.backstay_diagonal, MemberRole::BackstayDiagonal, ends);
}

/// In the roof, between what lies across behind the seats and what lies across over the screen.
pub(super) fn roof_diagonals(draft: &mut Draft<'_>) {
    let role = MemberRole::RoofDiagonal;
    let corner_to_corner = Hand::BOTH
        .map(|hand| (draft.beside_corner(RoofEnd::Rear, hand), draft.beside_corner(RoofEnd::Front, hand.other())));
    match draft.record.options.roof_diagonal {
        RoofDiagonal::None => {}
        RoofDiagonal::One => brace(draft, Diagonal::One, role, corner_to_corner),
        RoofDiagonal::Cross => brace(draft, Diagonal::Cross, role, corner_to_corner),
        RoofDiagonal::VForward => {
            for hand in Hand::BOTH {
                let (rear, tip) = (draft.beside_corner(RoofEnd::Rear, hand), tip(draft, RoofEnd::Front, hand));
                draft.straight(label(role, hand), rear, tip);
            }
        }
        RoofDiagonal::VRearward => {
            for hand in Hand::BOTH {
                let (tip, front) = (tip(draft, RoofEnd::Rear, hand), draft.beside_corner(RoofEnd::Front, hand));
                draft.straight(label(role, hand), tip, front);
            }
        }
    }
}

fn tip(draft: &Draft<'_>, end: RoofEnd, hand: Hand) -> Placed {
    draft.off_middle(end, hand, TIP)
}

/// Keys name the side of the upper or rear end.
fn label(role: MemberRole, hand: Hand) -> Label {
    Label::new(format!("{}/{}", role.word().replace(' ', "-"), hand.word()), role, Side::Across)
}

/// One diagonal, or two that cross. `ends`: of the bar that begins on the left, then of the other.
fn brace(draft: &mut Draft<'_>, how: Diagonal, role: MemberRole, ends: [(Placed, Placed); 2]) {
    let through = draft.record.options.through;
    let [left, right] = ends;
    let (first, second) = if through == Hand::Left { (left, right) } else { (right, left) };
    match how {
        Diagonal::None => {}
        Diagonal::One => draft.straight(label(role, through), first.0, first.1),
        Diagonal::Cross => cross(draft, label(role, through), &label(role, through.other()), [first, second]),
    }
}
