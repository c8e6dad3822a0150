//! What the sheets with photographs show.

mod desk;
mod marking;
mod one;
mod picture;
mod walk;

pub(crate) use desk::Desk;
pub(crate) use marking::Marking;
pub(crate) use one::One;
pub(crate) use picture::{Picture, kept_pictures};
pub(crate) use walk::{Asked, Walk, locator};
