//! Bytes kept for good: photographs as sent, packets as issued, and the views that can be made again. All that the rest asks
//! of it is put, get, parts and list.

pub(super) mod disk;
mod arriving;
mod held;
mod kept;
mod views;

pub use arriving::{Appended, Arrived, Parts, Upload};
pub use disk::Room;
pub use held::Held;
pub(super) use kept::blocking;
pub use kept::{Item, Vault, View};
pub use views::{ViewFile, ViewState};
