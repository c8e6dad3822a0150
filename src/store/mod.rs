//! One shop's rows and files.

mod error;
mod text;
mod engine;
mod lane;
mod handle;
pub mod vault;
pub mod build_log;
pub mod people;
pub mod builds;
pub mod books;
pub mod drafts;
pub mod book_moves;
pub mod weigh_in;
pub mod foreseen;
pub mod balance;
pub mod lowering;
pub mod seams;
pub mod cage;
pub mod car_dates;
pub mod stock;
pub mod dies;
pub mod kit;
pub mod kit_moves;
pub mod measures;
pub mod photos;
pub mod questions;
pub mod notes;
pub mod rounds;
pub mod rulings;
pub mod facts;
pub mod health;

pub use build_log::Entry;
pub use engine::version_is_safe;
pub use error::StoreError;
pub use handle::Store;
pub use lane::{Work, Write};
