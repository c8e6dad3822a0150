//! The demo shop: invented builds, drawn photographs, everything done as people do it.

mod pictures;
