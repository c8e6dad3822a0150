//! The small words that everything else speaks in: numbers of parts, faults, bounds, roles, dates.

pub mod ids;
pub mod fingerprint;
pub mod faults;
pub mod limits;
pub mod wording;
pub(in crate::domain) mod near_word;
pub mod glossary;
pub mod cautions;
pub mod roles;
pub mod basis;
pub mod label_dates;
pub mod car_dates;
