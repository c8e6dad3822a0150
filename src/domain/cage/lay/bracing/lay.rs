//! The order in which bracing is laid out: what others hang on comes first.

use super::{across, doors, frames};
use crate::domain::cage::lay::draft::Draft;
use crate::domain::cage::record::measures::Hand;

/// Adds every bar that the options ask for.
pub(in crate::domain::cage) fn lay(draft: &mut Draft<'_>) {
    frames::hoop_diagonals(draft);
    frames::roof_diagonals(draft);
    frames::backstay_diagonals(draft);
    for hand in Hand::BOTH {
        doors::door_bars(draft, hand);
    }
    if draft.record.options.sills() {
        for hand in Hand::BOTH {
            doors::sill_bar(draft, hand);
        }
    }
    across::hoop_cross_bar(draft);
    across::harness_bar(draft);
    across::dash_bar(draft);
    if draft.record.options.pillar_struts {
        for hand in Hand::BOTH {
            doors::pillar_strut(draft, hand);
        }
    }
    across::seat_cross_bars(draft);
}
