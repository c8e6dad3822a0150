//! What follows from facts and verdicts together: rounds' contents, the hold, open items.

pub mod worked;
pub mod contents;
pub mod hold;
pub mod release;
pub mod lowering_steps;
pub mod weighed_after;
pub mod findings;
pub mod approving;
pub mod editions;
pub mod measures;
pub mod build_file;
pub mod open_items;
