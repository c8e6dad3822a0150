//! Bytes kept for good: photographs as sent, packets as issued, and the views that can be made again.

pub(super) mod disk;
mod arriving;
mod kept;
mod making;

pub use arriving::{Appended, Arrived, Upload};
pub use kept::{Evidence, Found, Vault, View};
pub(super) use kept::{blocking, path_of};
pub use making::Making;
