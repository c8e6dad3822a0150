//! Sheets of marks in millimetres: views, balloons, title blocks.

pub mod paper;
pub mod car;
pub mod blank;
pub mod wrap;
pub mod bender;
pub mod two_tubes;
pub mod gauge;
pub mod weight_line;
pub mod balance;
pub mod lowering;
pub mod cut_plan;
pub mod mark_up;

pub use paper::sheet::{Anchor, Ink, LinkTo, Mark, Paper, Pen, Sheet, Tag, Weight};
