//! The command line: one file per call.

mod call;
mod serve;
mod builds;
mod verify;
mod qr;

pub use call::run;
