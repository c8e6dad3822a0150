//! The browser's front door.

pub mod svg;
