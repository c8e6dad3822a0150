//! The cage: what is measured and chosen of it, and the bars, joints, gussets and plates that follow.

pub mod angles;
mod bracing;
mod cage_file;
mod clash;
mod draft;
pub mod drawn;
mod drawn_fittings;
pub mod example;
pub mod figures;
pub mod fittings;
mod gussets;
mod joints;
mod masses;
pub mod measures;
mod numbers;
pub mod options;
pub mod parts;
pub mod record;
mod solve;
mod stations;
mod structures;
pub mod where_measured;

pub use fittings::{Arm, Fixing, Foot, GussetKind, GussetRecord, PlateRecord, Toward, TubeOverride, TubeRole, Tubes};
pub use masses::{Masses, OfSize};
pub use measures::{Hand, ORDER_OF_MEASURING, TapeMeasure};
pub use options::{Diagonal, DoorBars, DoorThrough, Options, RoofDiagonal};
pub use parts::{Cage, End, Gusset, Joint, Member, Plate, Side};
pub use record::CageRecord;
pub use solve::solve;
