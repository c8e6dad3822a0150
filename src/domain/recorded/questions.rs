//! Questions asked of a build, and what was answered.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::domain::words::ids::{Balloon, BuildId, CaptureId, QuestionId};

/// A question asked of a build, and what was answered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Question {
    /// The store's name for it.
    pub id: QuestionId,
    /// The build it was asked of.
    pub build: BuildId,
    /// Q1, Q2 … in the build.
    pub number: u32,
    /// What it is about; none for the build as a whole.
    pub about: Option<Balloon>,
    /// The question.
    pub text: String,
    /// Whether it came with the scrutineer's reply to a round.
    pub from_reply: bool,
    /// When it was asked.
    pub asked: Timestamp,
    /// Who asked.
    pub by: String,
    /// When it was settled; none while it is open.
    pub settled: Option<Timestamp>,
    /// What was answered, oldest first.
    pub answers: Vec<Answer>,
}

/// An answer to a question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answer {
    /// What was answered.
    pub text: String,
    /// The photograph that shows it.
    pub capture: Option<CaptureId>,
    /// When.
    pub given: Timestamp,
    /// By whom.
    pub by: String,
}
