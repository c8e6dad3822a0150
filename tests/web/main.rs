//! Screens: the real router on a real shop in a temporary folder, the clock held still.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

mod balance;
mod begin;
mod body;
mod books;
mod builds;
mod camera;
mod cheaply;
mod cage;
mod cage_file;
mod cautions;
mod cut_again;
mod cuts;
mod cuts_call;
mod damaged;
mod certificate;
mod demo;
mod dies;
mod drafts;
mod editions;
mod fabrication;
#[path = "../fixture/folder.rs"]
mod folder;
mod filled;
#[path = "../fixture/kept.rs"]
mod kept;
mod foreseen;
mod forms;
mod gate;
mod hand_bars;
mod house;
mod in_force;
mod judge_call;
mod kit;
mod lowering;
mod long_lists;
mod looks;
mod main_job;
mod mark_ups;
mod measures;
mod next;
mod office;
mod own_tubes;
mod paper;
mod parts;
mod people;
mod phones;
mod pieces;
mod photos;
mod questions;
mod reviews;
mod roles;
mod rounds;
mod rulings;
mod seams;
mod sending;
mod sheets_call;
mod stickers;
mod stock;
mod tape;
mod two_tubes;
mod units;
mod walk;
mod weigh_in;
#[path = "../fixture/wrapped.rs"]
mod wrapped;
