//! Sheets of marks in millimetres: views, balloons, title blocks.

pub mod sheet;
pub mod text;
mod fit;
mod hiding;
mod placing;
pub mod view;
pub mod beside;
pub mod title_block;
pub mod table;
pub mod cage;
pub mod blank;
pub mod dxf;
pub mod tiles;
pub mod wrap;
pub mod part;
pub mod bender;
pub mod signs;
pub mod svg;
pub mod two_tubes;
pub mod weight_line;
pub mod balance;
pub mod lowering;
pub mod cut_plan;
pub mod qr;
pub mod mark_up;

pub use sheet::{Anchor, Ink, LinkTo, Mark, Paper, Pen, Sheet, Tag, Weight};
