//! What is recorded of one build: what people do with it.

pub mod lowering;
pub mod seams;
pub mod welds;
pub mod cage;
pub mod car_dates;
pub mod kit;
pub mod measures;
pub mod photos;
pub mod photos_looked;
pub mod photos_said;
mod followed;
pub mod looking;
pub mod mark_ups;
pub mod contact_sheet;
pub mod questions;
pub mod notes;
pub mod rounds;
pub mod rulings;
pub mod packet;
