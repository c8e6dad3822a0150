//! The cage: what is measured and chosen of it, and the bars, joints, gussets and plates that follow.

pub mod hole;
pub mod record;
pub mod parts;
mod lay;
pub mod solve;
pub mod around;
pub mod figures;
pub mod files;

pub use around::Around;
pub use figures::{gap_figures, spreads};
pub use hole::GussetHole;
pub use lay::numbers::other_side;
pub use lay::typical::{Guessed, guessed, usual_bars};
pub use parts::{Cage, End, FootAt, Gusset, Joint, Member, Plate, Side};
pub use record::fittings::{
    Arm, Fixing, Foot, GussetKind, GussetRecord, MainBars, PlateRecord, Toward, TubeOverride, TubeRole, Tubes,
};
pub use record::measures::{Hand, ORDER_OF_MEASURING, TapeMeasure};
pub use record::options::{Diagonal, DoorBars, DoorThrough, Options, RoofDiagonal};
pub use record::{BasicStructure, CageRecord, key_words};
pub use solve::gussets::GussetCut;
pub use solve::outline::outline;
pub use solve::{Masses, OfSize, solve};
