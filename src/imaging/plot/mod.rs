//! Drawn photographs for the demo shop: what a camera would see of a cage, its labels and its papers, marked as drawn.

mod camera;
mod lettering;
mod negative;
mod shading;
mod surface;
mod backdrop;
mod shell;
mod tools;
mod scene;
mod print;

pub use print::{Ground, Print, print};
pub use scene::{Scene, Tube, photo};
pub use shell::Panel;
pub use tools::{Caliper, Tape};
