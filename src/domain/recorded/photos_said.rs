//! What was said of a photograph on the walk: that it is kept although something was remarked of it, what was seen in it.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::photos::Photo;
use crate::domain::words::ids::CaptureId;

/// What somebody said of a photograph at the shot it stood at. At another shot it shows something else, and is said anew.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PhotoSaid {
    /// The photograph.
    pub capture: CaptureId,
    /// The shot it stood at; empty where it answered none.
    pub shot: String,
    /// What was said.
    pub said: Statement,
    /// When.
    pub at: Timestamp,
    /// Who.
    pub by: String,
}

/// A statement about a photograph. It is a person's word: nothing is judged by it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Statement {
    /// It is kept although this was remarked of it.
    KeptSo(String),
    /// This, which must be seen, was ticked as seen in it.
    Seen(String),
}

impl Statement {
    /// Its kind and its words, as they are stored.
    pub fn parts(&self) -> (&'static str, &str) {
        match self {
            Self::KeptSo(words) => ("kept so", words),
            Self::Seen(words) => ("seen", words),
        }
    }

    /// As it is stored; none of another kind.
    pub fn of(kind: &str, words: String) -> Option<Self> {
        match kind {
            "kept so" => Some(Self::KeptSo(words)),
            "seen" => Some(Self::Seen(words)),
            _ => None,
        }
    }
}

impl PhotoSaid {
    /// Whether it is of a photograph as it stands.
    pub fn is_of(&self, photo: &Photo) -> bool {
        self.capture == photo.capture && self.shot == photo.shot
    }

    /// Said with who and on which day.
    pub fn describe(&self, day: &str) -> String {
        match &self.said {
            Statement::KeptSo(remark) => format!("Kept so, says {}, {day}: “{remark}”", self.by),
            Statement::Seen(what) => format!("Seen, says {}, {day}: {what}", self.by),
        }
    }
}
