//! What is recorded of one build: rows and queries.

pub mod build_log;
pub mod log_search;
pub mod lowering;
pub mod seams;
pub mod welds;
pub mod cage;
pub mod pattern;
pub mod car_dates;
pub mod kit;
pub mod measures;
pub mod photos;
pub mod photos_looked;
pub mod photos_said;
pub mod mark_ups;
pub mod questions;
pub mod notes;
pub mod rounds;
pub mod rulings;
pub mod facts;
