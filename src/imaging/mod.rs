//! Looking at photographs, making them small, drawing sheets as pixels.

pub mod kind;
pub mod error;
pub mod camera_notes;
pub mod decoding;
pub mod grey;
pub mod look;
pub mod views;
pub mod child;
pub mod plot;
#[cfg(test)]
pub(crate) mod samples;

pub use child::{Room, in_child, run_as_child};
pub use error::ImageError;
pub use kind::Kind;
pub use look::look;
pub use views::{Views, smaller, views};
