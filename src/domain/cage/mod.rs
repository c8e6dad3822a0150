//! The cage: what is measured and chosen of it, and the bars, joints, gussets and plates that follow.

pub mod angles;
mod basic_structure;
pub mod body;
mod bracing;
mod cage_file;
pub mod changed;
pub mod by_hand;
mod clash;
mod clearing;
mod draft;
mod drawn;
mod drawn_fittings;
mod entry;
pub mod example;
pub mod figures;
pub mod files;
pub mod fitting;
pub mod fittings;
mod gap_figures;
mod gussets;
mod joints;
mod masses;
mod measured_file;
pub mod measures;
mod members;
mod numbers;
pub mod options;
mod outline;
pub mod parts;
pub mod record;
mod runs;
pub mod seats;
pub(in crate::domain) mod slips;
mod solve;
mod spreads;
mod stations;
mod structures;
pub mod where_measured;
mod written;

pub use basic_structure::BasicStructure;
pub use draft::words as key_words;
pub use fittings::{
    Arm, Fixing, Foot, GussetKind, GussetRecord, MainBars, PlateRecord, Toward, TubeOverride, TubeRole, Tubes,
};
pub use gap_figures::gap_figures;
pub use gussets::GussetCut;
pub use masses::{Masses, OfSize};
pub use measures::{Hand, ORDER_OF_MEASURING, TapeMeasure};
pub use numbers::other_side;
pub use options::{Diagonal, DoorBars, DoorThrough, Options, RoofDiagonal};
pub use outline::outline;
pub use parts::{Cage, End, FootAt, Gusset, Joint, Member, Plate, Side};
pub use record::CageRecord;
pub use solve::solve;
pub use spreads::spreads;
