//! What the scrutineer ruled on a rule: while what it was given of stays as it was it stands in the verdict's place, and
//! never becomes "meets"; after that it is history beside the verdict.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::domain::measure::measures::Measure;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{Balloon, CaptureId};
use crate::domain::words::limits;

/// What a ruling is, as it is entered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct NewRuling {
    /// The rule's id in the book.
    pub rule: String,
    /// The part it is of; all that the rule speaks of, when none.
    pub of: Option<Balloon>,
    /// Of which figure, where the rule asks for several; all of them, when none.
    pub measure: Option<Measure>,
    /// Whether it may stay as it is; else it is to be changed.
    pub stays: bool,
    /// The scrutineer's words.
    pub words: String,
    /// Who gave it.
    pub given_by: String,
    /// On which day.
    pub given: Date,
    /// A photograph of it, or of what it is about.
    pub capture: Option<CaptureId>,
    /// The round it came with.
    pub round: Option<u32>,
    /// The letter or mail it came in, by its date or mark; empty when it was said.
    pub letter: String,
}

impl NewRuling {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("rule", &self.rule);
        faults.extend(limits::title_faults("given_by", &self.given_by));
        if self.words.trim().is_empty() {
            faults.push(Fault::new("words", "Write the scrutineer's words."));
        }
        faults.extend(limits::text_faults("words", &self.words));
        if self.letter.chars().count() > limits::TITLE {
            faults.extend(limits::title_faults("letter", &self.letter));
        }
        faults
    }
}

/// A ruling as it was recorded.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ruling {
    /// 1, 2 … in the build.
    pub place: u32,
    /// What was ruled.
    pub ruled: NewRuling,
    /// The book and edition it was given under.
    pub edition: String,
    /// What was found when it was recorded: its verdicts' words with their figures, in metric.
    pub found: String,
    /// When it was recorded.
    pub recorded: Timestamp,
    /// Who recorded it.
    pub by: String,
    /// When, by whom and why it was taken back; none while it stands.
    pub taken_back: Option<(Timestamp, String, String)>,
}

/// A ruling that stands in its verdict's place: it was given of what is found now, under the edition that is judged by now.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Ruled {
    /// Its place in the build's list.
    pub place: u32,
    /// Whether it may stay as it is.
    pub stays: bool,
    /// The ruling in a sentence.
    #[serde(rename = "told")]
    pub description: String,
}

/// A ruling that was given of another figure, or under another edition: told beside its verdict, and of no force there.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Lapsed {
    /// Its place in the build's list.
    pub place: u32,
    /// Whether it might stay as it was.
    pub stays: bool,
    /// What was ruled, of what, and what has changed since, in sentences.
    #[serde(rename = "told")]
    pub description: String,
}

impl NewRuling {
    /// What was decided, in words.
    pub const fn decided(&self) -> &'static str {
        if self.stays { "it may stay" } else { "it is to be changed" }
    }

    /// What it came with: round, letter.
    pub fn came_with(&self) -> String {
        let round = self.round.map(|round| format!(", with round {round}")).unwrap_or_default();
        let letter = if self.letter.is_empty() { String::new() } else { format!(", in {}", self.letter) };
        format!("{round}{letter}")
    }
}

/// Told beside a ruling that was not taken back and yet is in no verdict's place.
pub const NO_MORE: &str =
    "It stands in no verdict now: what it was given of has changed, or the edition, or it was ruled on again.";

impl Ruling {
    /// Who gave it, when, with which round or letter, under which edition.
    pub(in crate::domain) fn given(&self) -> String {
        let Self { ruled, edition, .. } = self;
        format!("{}, {}{}, under {edition}", ruled.given_by, ruled.given, ruled.came_with())
    }

    /// In a sentence: what, by whom, when, with which round or letter, under which edition.
    pub fn describe(&self) -> String {
        format!("Scrutineer decides: {}, “{}” ({}).", self.ruled.decided(), self.ruled.words, self.given())
    }
}
