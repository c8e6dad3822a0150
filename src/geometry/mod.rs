//! Points, tubes, bends and meetings in space, in millimetres.

pub mod angle;
pub mod centre_line;
pub mod cope;
pub mod distance;
pub mod gusset;
pub mod polygon;
pub mod sheet_blank;

mod carrier;
mod cut_line;
mod fitted;
mod integral;
mod piece;
mod seen;
mod true_line;

pub use centre_line::{Bend, CentreLine, LineFault};
pub use cope::{Cope, CopeFault, Meeting};
pub use distance::{Nearest, Segment};
pub use fitted::{BranchEnd, Fitted, InTheWay};
pub use gusset::{GussetFault, GussetSeat, TubeGusset};
pub use polygon::{Polygon, PolygonFault};
pub use seen::TubeEnd;
pub use sheet_blank::{Hole, SheetBlank};
