//! What the sheets with photographs show.

mod desk;
mod kept_walk;
mod large;
mod marking;
mod office;
mod one;
mod walk;

pub(crate) use desk::Desk;
pub(crate) use kept_walk::{walk_drawings, walk_list};
pub(crate) use large::Large;
pub(crate) use marking::Marking;
pub(crate) use office::{Days, History, Unplaced};
pub(crate) use one::{Beside, One, next_to_look_at};
pub(crate) use walk::{Walk, WalkQuery};
