//! The kinds of rule a book can hold, one file each.

mod gusset;
mod hold;
mod kit;
mod limit;
mod member_needed;
mod plate;
mod shot;
mod steel;
mod weight;
mod weight_class;

pub use gusset::{GussetRule, Stiffener};
pub use hold::HoldRule;
pub use kit::{CountsFrom, Ends, KitRule, LabelField, TwoLabels};
pub use limit::{GUSSET_KINDS, Limit};
pub use member_needed::MemberNeeded;
pub use plate::{PlateRule, SectionShare};
pub use shot::{Before, Per, ShotRule};
pub use steel::SteelRule;
pub use weight::{Condition, EdgeBelongs, Weight};
pub(super) use weight_class::edges_in_words;
pub use weight_class::{ClassEdge, Made, TubeRow, TubeUse, WeightClass};
