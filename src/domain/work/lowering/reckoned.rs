//! How a lowering plan's figures come about, in words, and what they take to be so.

use super::{Plan, RoofJoint};
use crate::quantity::{Length, Units};

/// What a plan takes to be so.
pub const TAKEN: &str = "Taken to be so: the cage goes straight down and stays level; the roof is over the hoop as low as \
measured there and runs straight from there to the header; where it is not measured nothing is free; the floor at a foot is \
thin and as high as its plate. Seats, tunnel, dash and trim are not in the model.";

/// What is said of gussets (*common practice*: a seam under a gusset is welded before it).
pub const GUSSETS: &str =
    "No gusset is welded while it is down: one at these joints is fitted afterwards, over the seams.";

impl Plan {
    /// The joint that lacks most, and sets how far the cage comes down.
    pub fn tightest(&self) -> Option<&RoofJoint> {
        self.joints
            .iter()
            .filter(|joint| joint.short > Length::default() && joint.short == self.drop)
            .min_by_key(|joint| joint.joint)
    }

    /// How the way down comes about, in a sentence; empty where the cage need not come down.
    pub fn drop_reckoned(&self, units: Units) -> String {
        let Some(joint) = self.tightest() else { return String::new() };
        let free = match joint.roof {
            None => "nothing is taken to be free, for the roof is not measured there".to_owned(),
            Some(_) if joint.gap > Length::default() => format!("{} is free", joint.gap.by_tape_at_most(units)),
            Some(_) => "nothing is free".to_owned(),
        };
        format!("{} sets it: the torch takes {}, and over that joint {free}.", joint.joint, self.settings.room.text)
    }

    /// How the room under the car comes about, in a sentence.
    pub fn under_reckoned(&self, units: Units) -> String {
        let lowest = self.holes.iter().min_by(|one, two| one.foot.z.total_cmp(&two.foot.z));
        let Some(hole) = lowest.filter(|_| self.drop > Length::default()) else { return String::new() };
        let high = Length::from_mm(hole.foot.z);
        format!(
            "{} is the lowest foot, {} over the floor's level: the way down less that.",
            hole.plate,
            high.by_tape(units)
        )
    }
}
