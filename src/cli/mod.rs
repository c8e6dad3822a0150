//! The command line: one file per call.

mod exits;
mod call;
mod cut_plan;
mod certificate;
mod demo;
mod serve;
mod book_check;
mod builds;
mod car_file;
mod judge;
mod packet;
mod opened;
mod reading;
mod schema;
mod sheets;
mod verify;
mod backup;
mod person;
mod keys;
mod look_at_photo;
mod qr;

pub use call::run;
