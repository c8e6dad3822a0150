//! Demonstration photographs: a joint of tubes drawn as a camera in the shop would see it, marked as drawn.

mod camera;
mod lettering;
mod shading;
mod surface;
mod backdrop;
mod scene;

pub use scene::{Scene, Tube, photo};
