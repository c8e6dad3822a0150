//! Bars across the car: at the hoop's shoulders, for the harness, behind the dash, under the seats.

use super::crossing::straight_through;
use crate::domain::cage::lay::draft::{Draft, Label};
use crate::domain::cage::parts::Side;
use crate::domain::cage::record::measures::{Hand, TapeMeasure};
use crate::domain::cage::record::options::SEAT_CROSS_BARS;
use crate::domain::words::roles::MemberRole;

fn label(role: MemberRole) -> Label {
    Label::new(role.word().replace(' ', "-"), role, Side::Across)
}

/// Behind the seats from the middle of the bend at one shoulder to the other.
pub(super) fn hoop_cross_bar(draft: &mut Draft<'_>) {
    if draft.record.options.hoop_cross_bar {
        let [left, right] = Hand::BOTH.map(|hand| draft.leg_middle(&draft.rear_leg(hand)));
        straight_through(draft, &label(MemberRole::HoopCrossBar), left, right);
    }
}

/// Behind the seats at the height of the harness's straps.
pub(super) fn harness_bar(draft: &mut Draft<'_>) {
    if !draft.record.options.harness_bar {
        return;
    }
    let label = label(MemberRole::HarnessBar);
    let Some(height) = draft.coordinate(TapeMeasure::HarnessBarHeight) else {
        return draft.refuse(&label, None);
    };
    let [left, right] = Hand::BOTH.map(|hand| draft.leg_at(&draft.rear_leg(hand), height));
    straight_through(draft, &label, left, right);
}

/// Behind the dash, from front leg to front leg: at the height typed, else at the knees.
pub(super) fn dash_bar(draft: &mut Draft<'_>) {
    if draft.record.options.dash_bar {
        let height = draft.coordinate(TapeMeasure::DashBarHeight);
        let [left, right] = Hand::BOTH.map(|hand| match height {
            Some(height) => draft.leg_at(&draft.front_leg(hand), height),
            None => draft.leg_middle(&draft.front_leg(hand)),
        });
        straight_through(draft, &label(MemberRole::DashBar), left, right);
    }
}

/// From sill bar to sill bar, evenly along them.
pub(super) fn seat_cross_bars(draft: &mut Draft<'_>) {
    let count = draft.record.options.seat_cross_bars.min(SEAT_CROSS_BARS);
    for number in 1..=count {
        let share = f64::from(number) / f64::from(count + 1);
        let [left, right] = Hand::BOTH.map(|hand| {
            let key = format!("sill-bar/{}", hand.word());
            draft.place(&key, draft.carrier(&key)?.line.developed_length() * share)
        });
        draft.straight(label(MemberRole::SeatCrossBar).piece(&number.to_string()), left, right);
    }
}
