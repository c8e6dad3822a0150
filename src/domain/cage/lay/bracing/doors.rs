//! Bars along the car's sides: in the door's opening, beside the sill, and the pillar strut.

use super::crossing::cross;
use crate::domain::cage::lay::draft::{Draft, Label};
use crate::domain::cage::lay::stations::RoofEnd;
use crate::domain::cage::record::measures::{Hand, TapeMeasure};
use crate::domain::cage::record::options::{DoorBars, DoorThrough};
use crate::domain::words::roles::MemberRole;
use crate::quantity::Length;

/// A door bar's lower end stays this many outside diameters over the sill bar, centre to centre (*common practice*).
const OVER_SILL_BAR: f64 = 2.0;

/// The low and the high place of door bars on the rear leg or on the pillar: the lower clear of the sill bar, the upper one
/// with its top at half the opening's height (FIA 253-8, *from memory*).
fn heights(draft: &Draft<'_>, hand: Hand) -> Option<(f64, f64)> {
    let outside = draft.tube(&label(MemberRole::DoorBar, hand, "one")).outside.mm();
    let sill = draft.coordinate(TapeMeasure::SillHeight(hand))?;
    let opening = draft.coordinate(TapeMeasure::DoorOpeningHeight(hand))?;
    let bar = if draft.record.options.sills() { sill_bar_height(draft, hand)? } else { sill };
    Some((bar + OVER_SILL_BAR * outside, sill + opening / 2.0 - outside))
}

fn label(role: MemberRole, hand: Hand, which: &str) -> Label {
    let key = role.word().replace(' ', "-");
    let key =
        if which.is_empty() { format!("{key}/{}", hand.word()) } else { format!("{key}/{}/{which}", hand.word()) };
    Label::new(key, role, hand)
}

/// The bars of one door.
pub(super) fn door_bars(draft: &mut Draft<'_>, hand: Hand) {
    let how = draft.record.options.door(hand);
    let role = MemberRole::DoorBar;
    let Some((low, high)) = heights(draft, hand) else {
        return without_measurements(draft, hand, how);
    };
    if how != DoorBars::None && high <= low {
        let [high, low] = [high, low].map(|mm| Length::from_mm(mm).in_both());
        let why = format!("Half the door's opening is too low for it: {high}, and {low} are under it.");
        return draft.refuse(&label(role, hand, "high"), Some(why));
    }
    let rear = |draft: &Draft<'_>, height: f64| draft.leg_at(&draft.rear_leg(hand), height);
    let front = |draft: &Draft<'_>, height: f64| draft.leg_at(&draft.front_leg(hand), height);
    match how {
        DoorBars::None => {}
        DoorBars::One => {
            let (from, to) = (rear(draft, high), front(draft, low));
            draft.straight(label(role, hand, "high"), from, to);
        }
        DoorBars::Two => {
            for (height, which) in [(high, "high"), (low, "low")] {
                let (from, to) = (rear(draft, height), front(draft, height));
                draft.straight(label(role, hand, which), from, to);
            }
        }
        DoorBars::Cross => {
            let falling = (rear(draft, high), front(draft, low));
            let rising = (rear(draft, low), front(draft, high));
            let [high, low] = ["high", "low"].map(|which| label(role, hand, which));
            match draft.record.options.door_through {
                DoorThrough::HighAtHoop => cross(draft, high, &low, [falling, rising]),
                DoorThrough::LowAtHoop => cross(draft, low, &high, [rising, falling]),
            }
        }
    }
}

fn without_measurements(draft: &mut Draft<'_>, hand: Hand, how: DoorBars) {
    if how != DoorBars::None {
        draft.refuse(&label(MemberRole::DoorBar, hand, "high"), None);
    }
}

/// The height of a sill bar's middle.
fn sill_bar_height(draft: &Draft<'_>, hand: Hand) -> Option<f64> {
    let radius = draft.tube(&label(MemberRole::SillBar, hand, "")).outside.mm() / 2.0;
    let sill = draft.coordinate(TapeMeasure::SillHeight(hand))?;
    Some(sill + draft.coordinate(TapeMeasure::SillBarTop(hand))? - radius)
}

/// Beside the sill, from the rear leg to the front leg.
pub(super) fn sill_bar(draft: &mut Draft<'_>, hand: Hand) {
    let label = label(MemberRole::SillBar, hand, "");
    let Some(height) = sill_bar_height(draft, hand) else {
        return draft.refuse(&label, None);
    };
    let (from, to) = (draft.leg_at(&draft.rear_leg(hand), height), draft.leg_at(&draft.front_leg(hand), height));
    draft.straight(label, from, to);
}

/// From beside the upper screen corner straight down to the front foot.
pub(super) fn pillar_strut(draft: &mut Draft<'_>, hand: Hand) {
    let from = draft.beside_corner(RoofEnd::Front, hand);
    let to = draft.leg_foot(&draft.front_leg(hand));
    draft.straight(label(MemberRole::PillarStrut, hand, ""), from, to);
}
