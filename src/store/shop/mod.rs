//! The shop itself: people, builds, sticks, tools: rows and queries.

pub mod people;
pub mod pairing;
pub mod builds;
pub mod saw;
pub mod stock;
pub mod dies;
pub mod looks;
pub mod health;
pub mod certificate;
pub mod signing_key;
pub mod keys;
