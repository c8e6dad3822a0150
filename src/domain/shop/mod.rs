//! The shop itself: its people, its builds, its sticks and its saw.

pub mod people;
pub mod sign_ins;
pub mod builds;
pub mod saw;
pub mod stock;
pub mod looks;
pub mod certificate;
pub mod signing;
