//! The cage: what is measured and chosen of it, and the bars, joints, gussets and plates that follow.

pub mod angles;
mod bracing;
mod cage_file;
pub mod changed;
mod clash;
mod draft;
mod drawn;
mod drawn_fittings;
mod entry;
pub mod example;
pub mod figures;
pub mod files;
pub mod fittings;
mod gussets;
mod joints;
mod masses;
mod measured_file;
pub mod measures;
mod numbers;
pub mod options;
pub mod parts;
pub mod record;
mod slips;
mod solve;
mod stations;
mod structures;
pub mod where_measured;
mod written;

pub use fittings::{Arm, Fixing, Foot, GussetKind, GussetRecord, PlateRecord, Toward, TubeOverride, TubeRole, Tubes};
pub use masses::{Masses, OfSize};
pub use measures::{Hand, ORDER_OF_MEASURING, TapeMeasure};
pub use options::{Diagonal, DoorBars, DoorThrough, Options, RoofDiagonal};
pub use parts::{Cage, End, Gusset, Joint, Member, Plate, Side};
pub use record::CageRecord;
pub use solve::solve;
