//! The browser's front door.
