//! The shop in a browser: one folder per room, and what all rooms share.

mod app;
mod assets;
mod build_log;
mod builds;
mod cage;
mod car_dates;
mod csv;
mod dies;
mod fabrication;
mod form;
mod gate;
mod headers;
mod kit;
mod measures;
mod memory;
mod page;
mod parts;
mod people;
mod photos;
mod problem;
mod questions;
mod reader;
mod routes;
mod rounds;
mod rule_books;
mod seams;
mod shop;
mod stock;
mod two_tubes;
pub mod svg;
mod verdicts;
mod weigh_in;

pub use app::App;
pub use memory::Memory;
pub use photos::Uploads;
pub use routes::router;
