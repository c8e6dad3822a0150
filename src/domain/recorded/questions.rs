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
    /// Whether it is a condition of that reply's release, and what waits for it; none of a question.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub condition: Option<Condition>,
    /// When it was asked.
    pub asked: Timestamp,
    /// Who asked.
    pub by: String,
    /// When it was settled; none while it is open.
    pub settled: Option<Timestamp>,
    /// What was answered, oldest first.
    pub answers: Vec<Answer>,
}

/// What waits for a condition of a release.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Condition {
    /// Nothing: welding may go on while it is open.
    Open,
    /// Welding: what the reply releases is held until it is met.
    Holds,
}

impl Condition {
    /// The word for it, as stored.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Holds => "holds",
        }
    }

    /// The one of a stored word.
    pub fn of(word: &str) -> Option<Self> {
        [Self::Open, Self::Holds].into_iter().find(|condition| condition.word() == word)
    }
}

impl Question {
    /// Whether a release waits for it.
    pub fn holds(&self) -> bool {
        self.condition == Some(Condition::Holds) && self.settled.is_none()
    }
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
