//! What people do, one function each.

mod context;
mod error;
mod secrets;
pub mod people;
pub mod builds;
pub mod books;
pub mod drafts;
pub mod editions;
pub mod weigh_in;
pub mod foreseen;
pub mod balance;
pub mod lowering;
pub mod saw;
pub mod seams;
pub mod cage;
pub mod car_dates;
pub mod stock;
pub mod dies;
pub mod kit;
pub mod kit_moves;
pub mod measures;
pub mod photos;
pub mod looking;
pub mod looks;
pub mod mark_ups;
pub mod contact_sheet;
pub mod questions;
pub mod notes;
pub mod rounds;
pub mod rulings;
pub mod scale_papers;
pub mod packet;
pub mod health;
pub mod certificate;

pub use context::Context;
pub use error::ActionError;
