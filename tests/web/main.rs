//! Screens: the real router on a real shop in a temporary folder, the clock held still.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

mod balance;
mod body;
mod books;
mod builds;
mod camera;
mod cage;
mod cage_file;
mod cuts;
mod cuts_call;
mod damaged;
mod demo;
mod dies;
mod drafts;
mod editions;
mod fabrication;
#[path = "../fixture/folder.rs"]
mod folder;
mod foreseen;
mod forms;
mod gate;
mod hand_bars;
mod house;
mod judge_call;
mod kit;
mod lowering;
mod looks;
mod main_job;
mod mark_ups;
mod measures;
mod office;
mod own_tubes;
mod paper;
mod parts;
mod people;
mod photos;
mod questions;
mod rulings;
mod seams;
mod sending;
mod sheets_call;
mod stickers;
mod stock;
mod two_tubes;
mod walk;
mod weigh_in;
