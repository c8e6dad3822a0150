//! What is done at the bench: sheets, cuts, seams, lowering, the walk with the camera.

pub mod seams;
pub mod weld_order;
pub mod fabrication;
pub mod lowering;
pub mod cut_list;
pub mod cut_plan;
pub mod stickers;
pub mod walk;
pub mod guesses;
