//! Verdicts: what each rule of a book says of a build, with figure, limit, margin and evidence.

mod asked;
mod bolts;
mod gussets;
mod judging;
mod kit;
mod known;
mod limits;
mod members;
mod parts;
mod plates;
mod shots;
mod steel;
mod tubes;
mod verdict;
mod weighed;

pub use judging::{Judged, judge};
pub use kit::judge_item;
pub(in crate::domain) use known::CAR;
pub use known::{Bar, BarTube, FootOf, GussetAt, JointOf, Known};
pub(in crate::domain) use tubes::MADE;
pub use verdict::{Verdict, Word};
pub use weighed::{Finished, Weighed};
