//! What a scrutineer answers of each part of a round, before the reply is signed: only added to, the newest of a part stands.

use std::collections::BTreeMap;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;
use crate::domain::words::limits;

/// How an item of a reply begins that asks for a change.
pub const CHANGE_ASKED: &str = "Change asked: ";

/// One of the three answers to a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PartAnswer {
    /// It may stay as the round shows it.
    Accepted,
    /// Something of it must be changed first.
    ChangeWanted,
    /// Something of it must be said or shown first.
    Question,
}

impl PartAnswer {
    /// All of them, as they are offered.
    pub const ALL: [Self; 3] = [Self::Accepted, Self::ChangeWanted, Self::Question];

    /// The word for it, as stored and shown.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Accepted => "accepted",
            Self::ChangeWanted => "change wanted",
            Self::Question => "question",
        }
    }

    /// The answer of a stored word.
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|answer| answer.word() == word)
    }
}

/// What somebody answered of a part of a round.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reviewed {
    /// From 1 in the shop, in the order they were saved.
    pub number: i64,
    /// The part.
    pub part: Balloon,
    /// The answer; none where only a remark was kept so far.
    pub answer: Option<PartAnswer>,
    /// The remark under it.
    pub remark: String,
    /// When it was saved.
    pub at: Timestamp,
    /// By whom.
    pub by: String,
}

impl Reviewed {
    /// Whether it wants something of the shop.
    pub fn wants(&self) -> bool {
        matches!(self.answer, Some(PartAnswer::ChangeWanted | PartAnswer::Question))
    }

    /// What is asked of the shop, as its list of questions says it; none where nothing is wanted.
    pub fn item(&self) -> Option<String> {
        match self.answer? {
            PartAnswer::Accepted => None,
            PartAnswer::ChangeWanted => Some(format!("{CHANGE_ASKED}{}", self.remark)),
            PartAnswer::Question => Some(self.remark.clone()),
        }
    }
}

/// An answer as it is entered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewReviewed {
    /// The round it answers.
    pub round: u32,
    /// The part.
    pub part: Balloon,
    /// The answer; none to keep a remark alone.
    pub answer: Option<PartAnswer>,
    /// The remark under it.
    pub remark: String,
    /// The number of the answer that stood when this was written; 0 where there was none.
    pub seen: i64,
}

impl NewReviewed {
    /// What is wrong with it by itself, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        if self.remark.chars().count() > limits::REMARK {
            faults.push(Fault::new("remark", format!("A remark has at most {} characters.", limits::REMARK)));
        }
        let why = match self.answer {
            Some(PartAnswer::ChangeWanted) => "Say what is to be changed.",
            Some(PartAnswer::Question) => "Write the question.",
            None => "Choose one of the three answers, or write a remark.",
            Some(PartAnswer::Accepted) => return faults,
        };
        if self.remark.trim().is_empty() {
            faults.push(Fault::new("remark", why));
        }
        faults
    }

    /// Whether it says what stands already.
    pub fn says(&self, stands: &Reviewed) -> bool {
        self.answer == stands.answer && self.remark.trim() == stands.remark
    }
}

/// The answers that stand: of each part the newest.
pub fn standing(all: &[Reviewed]) -> BTreeMap<Balloon, &Reviewed> {
    all.iter().map(|reviewed| (reviewed.part, reviewed)).collect()
}

/// The number of the newest answer; 0 before the first.
pub fn newest(all: &[Reviewed]) -> i64 {
    all.iter().map(|reviewed| reviewed.number).max().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_says_what_it_asks_and_an_acceptance_need_not() {
        let with = |answer, remark: &str| {
            let new = NewReviewed { round: 1, part: "J7".parse().unwrap(), answer, remark: remark.to_owned(), seen: 0 };
            new.faults().into_iter().map(|fault| fault.why).collect::<Vec<_>>().join(" ")
        };
        assert_eq!(with(Some(PartAnswer::Accepted), ""), "");
        assert_eq!(with(Some(PartAnswer::ChangeWanted), " "), "Say what is to be changed.");
        assert_eq!(with(Some(PartAnswer::Question), ""), "Write the question.");
        assert_eq!(with(None, ""), "Choose one of the three answers, or write a remark.");
        assert_eq!(with(None, "look again"), "");
        assert!(with(Some(PartAnswer::Accepted), &"x".repeat(limits::REMARK + 1)).contains("at most"));
        for answer in PartAnswer::ALL {
            assert_eq!(PartAnswer::of(answer.word()), Some(answer));
        }
    }
}
