//! Views of a cage: what is hidden, where numbers go, what is beside the bars.

pub(in crate::drawing) mod fit;
pub(in crate::drawing) mod hiding;
pub(in crate::drawing) mod placing;
pub mod scene;
pub mod view;
pub mod beside;
pub mod touched;
pub mod cage;
pub mod part;
pub mod taping;
pub mod near;
pub mod apart;
