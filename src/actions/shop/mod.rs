//! The shop itself: people, builds, sticks, tools: what people do with it.

pub mod strangers;
pub mod people;
pub mod pairing;
pub mod builds;
pub mod saw;
pub mod stock;
pub mod as_planned;
pub mod dies;
pub mod looks;
pub mod health;
pub mod checks;
pub mod running;
pub mod certificate;
pub mod signing;
pub mod keys;
pub mod backup;
pub mod backup_due;
pub mod car_file;
