//! What is recorded of one build; the facts are all of it.

pub mod kit;
pub mod photos;
pub mod mark_ups;
pub mod questions;
pub mod notes;
pub mod reviews;
pub mod rounds;
pub mod rulings;
pub mod lowering;
pub mod welds;
pub mod facts;
pub mod car_file;
